import type { Reply } from '../../../src-shared/calls/all.ts';
import { useSavedWork } from '../../hooks/use-saved-work.ts';
import { CopyText } from '../../parts/copy-text.tsx';
import { Deed } from '../../parts/deed.tsx';
import { MadeFile } from '../../parts/made-file.tsx';
import { FaultNotice } from '../../parts/notice.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { Working } from '../../parts/working.tsx';
import { backupWords } from './backup-words.ts';

const gone = {
  code: 'backup-gone',
  message: 'This backup is no longer at hand.',
  next: 'Make it again.',
};

/** When the last backup was made, the deed to make one, where to put it, and how the book is brought back. */
export function Backup({ farm }: { farm: Reply<'farm'> }) {
  const { work, taking, make: send } = useSavedWork('make-backup', gone);
  const make = () => send({});
  const words = backupWords(farm);
  const isBusy = work.isBusy || taking.state === 'busy';
  return (
    <Section title="Backup">
      <Sentences>
        <Sentence
          margin={words.margin}
          mind={words.isDue}
          small="Keep it on a stick or on another computer: a backup beside the book is lost with the book."
          deed={
            <Deed isBusy={isBusy} onDo={make}>
              {isBusy ? 'Copying and checking the book…' : 'Make a backup'}
            </Deed>
          }
        >
          {words.text}
        </Sentence>
        <Sentence
          margin="Restore"
          small="The backup is read from end to end before anything is touched. The book you have now is set aside beside it and never deleted."
        >
          To go back to a backup: copy this line, close Foldbook, open a terminal in Foldbook’s folder, put
          the line there with the name of the backup file instead of BACKUP, and press Enter.
          <br />
          <CopyText text="npm run -s desk -- restore BACKUP" />
        </Sentence>
      </Sentences>
      <Working work={work} what="Copying and checking the book" onAgain={make} />
      {taking.state === 'failed' ? <FaultNotice fault={taking.fault} onAgain={make} /> : null}
      {taking.state === 'made' ? (
        <MadeFile name={taking.made.name} url={taking.file.url}>
          <p>
            {taking.made.name} holds {count(taking.made.entries, 'entry', 'entries')} and was checked. Its
            check code is <span className="code">{taking.made.checkCode}</span>.
          </p>
          <p>See that the file is where you want it before you count on it.</p>
        </MadeFile>
      ) : null}
    </Section>
  );
}
