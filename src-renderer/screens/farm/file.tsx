import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed } from '../../parts/deed.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { Backup } from './backup.tsx';

/** The book as the file it is: whether it is whole, its backups, how one is brought back. */
export default function BookFileScreen() {
  const farm = useCall('farm', {});
  return (
    <Screen title="The book as a file" lead="Everything that is written here lies in one file.">
      <Await call={farm} what="Reading the book">
        {(value) => (
          <>
            <Backup farm={value} />
            <Section title="Is it whole?">
              <Sentences>
                <Sentence
                  margin="Written"
                  small="Papers carry the check code of the day they were made."
                  deed={<CommandDeed id="check-book" />}
                >
                  {count(value.head.seq, 'entry', 'entries')}, check code{' '}
                  <span className="code">{value.head.checkCode}</span>.
                </Sentence>
              </Sentences>
            </Section>
          </>
        )}
      </Await>
    </Screen>
  );
}
