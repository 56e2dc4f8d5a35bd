import './book.css';
import { type FormEvent, useRef, useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useSavedWork } from '../../hooks/use-saved-work.ts';
import { Await } from '../../parts/await.tsx';
import { CopyText } from '../../parts/copy-text.tsx';
import { DayField } from '../../parts/day-field.tsx';
import { CommandDeed, Deed, DeedLink } from '../../parts/deed.tsx';
import { Select } from '../../parts/field.tsx';
import { MadeFile } from '../../parts/made-file.tsx';
import { FaultNotice, Notice } from '../../parts/notice.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { Working } from '../../parts/working.tsx';
import { useCommand } from '../../shell/commands.ts';
import { lastYear } from './last-year.ts';
import { periodProblems } from './narrow.tsx';

type Farm = Reply<'farm'>;

const gone = { code: 'pack-gone', message: 'This pack is no longer at hand.', next: 'Make it again.' };

/** One file for the inspector: the book, its papers, its journal, and how all of it is checked. */
export default function PackScreen() {
  const farm = useCall('farm', {});
  return (
    <Screen
      title="The inspector’s pack"
      lead="One ZIP file to hand over: the book as PDF and as a table, the papers kept with it, the declarations, and the whole journal with a page that says how anybody can check it."
    >
      <Await call={farm} what="Reading the farm">
        {(value) =>
          value.holdings.length === 0 ? (
            <Empty deed={<DeedLink to="farm/holding">Add a holding</DeedLink>}>
              No holding is in the book.
            </Empty>
          ) : (
            <Make farm={value} />
          )
        }
      </Await>
    </Screen>
  );
}

function Make({ farm }: { farm: Farm }) {
  const [values, setValues] = useState({
    ...lastYear(farm.clock.today),
    holding: farm.holdings[0]?.holding ?? '',
  });
  const { work, taking, make } = useSavedWork('make-pack', gone);
  const gaps = useCall('book-gaps', { holding: values.holding, limit: 0 });
  const isBusy = work.isBusy || taking.state === 'busy';
  const element = useRef<HTMLFormElement>(null);
  useCommand('save', () => element.current?.requestSubmit());
  const wrong = periodProblems(values);
  const send = (event?: FormEvent) => {
    event?.preventDefault();
    if (!isBusy && Object.keys(wrong).length === 0) make(values);
  };
  const field = (name: 'from' | 'to' | 'holding') => ({
    name,
    value: values[name],
    onChange: (value: string) => setValues((before) => ({ ...before, [name]: value })),
  });
  const open = gaps.state === 'ready' ? gaps.value.open : 0;
  return (
    <>
      {open === 0 ? null : (
        <Notice kind="mind" word="Missing" deed={<CommandDeed id="book-gaps" />}>
          <p>{count(open, 'thing is', 'things are')} still missing in the book.</p>
        </Notice>
      )}
      <form ref={element} className="book-filters book-print" noValidate onSubmit={send}>
        <DayField {...field('from')} label="From" error={wrong.from} />
        <DayField {...field('to')} label="To" error={wrong.to} />
        {farm.holdings.length < 2 ? null : (
          <Select
            {...field('holding')}
            label="Holding"
            options={farm.holdings.map((one) => ({ value: one.holding, label: one.name }))}
          />
        )}
        <p className="book-filter-deed">
          <Deed submits weight="main" isBusy={isBusy}>
            {isBusy ? 'Putting it together…' : 'Make the pack'}
          </Deed>
        </p>
      </form>
      <Working work={work} what="Putting the pack together" onAgain={send} />
      {taking.state === 'failed' ? <FaultNotice fault={taking.fault} onAgain={() => send()} /> : null}
      {taking.state === 'made' ? (
        <MadeFile name={taking.made.name} url={taking.file.url}>
          <p>
            {taking.made.name}: {count(taking.made.files, 'file', 'files')},{' '}
            {count(taking.made.rows, 'row', 'rows')} of the book,{' '}
            {count(taking.made.entries, 'entry', 'entries')} of the journal. Check code{' '}
            <span className="code">{taking.made.checkCode}</span>.
          </p>
          <p>See that the file is where you want it before you hand it over.</p>
        </MadeFile>
      ) : null}
      <Section title="What it proves">
        <Sentences>
          <Sentence
            margin="Whole"
            small="It names every file and every line that was changed since."
            deed={<CopyText text="npm run -s verify -- PACK.zip" />}
          >
            Anybody with Foldbook checks it by this line in a terminal; anybody without, by the page CHECK.txt
            in it.
          </Sentence>
          <Sentence margin="Private">
            The journal in it is the whole book from its beginning, other years and prices included. Hand it
            to those who may see that; for others print the book of a period.
          </Sentence>
        </Sentences>
      </Section>
    </>
  );
}
