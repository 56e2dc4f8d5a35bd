import './book.css';
import { type FormEvent, useRef, useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useLongWork } from '../../hooks/use-long-work.ts';
import { Await } from '../../parts/await.tsx';
import { DayField, readBackDay } from '../../parts/day-field.tsx';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { Select } from '../../parts/field.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Paper } from '../../parts/paper.tsx';
import { Screen } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { Working } from '../../parts/working.tsx';
import { useCommand } from '../../shell/commands.ts';
import { lastYear, recordFile } from './record.ts';
import { localInWords } from './when.ts';

type Farm = Reply<'farm'>;

/** Prints the treatment record of a period as a PDF. */
export default function PaperScreen() {
  const farm = useCall('farm', {});
  return (
    <Screen
      title="Print the treatment record"
      lead="Everything given in a period, corrections with their reasons included. The paper carries a check code, by which the book can later be held against it."
    >
      <Await call={farm} what="Reading the farm">
        {(value) =>
          value.holdings.length === 0 ? (
            <Empty deed={<DeedLink to="farm/holding">Add a holding</DeedLink>}>
              No holding is in the book.
            </Empty>
          ) : (
            <Print farm={value} />
          )
        }
      </Await>
    </Screen>
  );
}

function Print({ farm }: { farm: Farm }) {
  const usual = farm.holdings[0];
  const [values, setValues] = useState({
    ...lastYear(farm.clock.today),
    holding: usual?.holding ?? '',
    paper: usual?.paper ?? 'a4',
  });
  const work = useLongWork('book-paper');
  const { now, isBusy } = work;
  /** Of which days the paper is that stands below: the boxes may say others by then. */
  const [made, setMade] = useState({ from: '', to: '' });
  const element = useRef<HTMLFormElement>(null);
  useCommand('save', () => element.current?.requestSubmit());
  const field = (name: 'from' | 'to' | 'holding' | 'paper') => ({
    name,
    value: values[name],
    onChange: (value: string) => setValues((before) => ({ ...before, [name]: value })),
  });
  const wrong =
    readBackDay(values.from) === undefined
      ? { from: 'Write a day.' }
      : readBackDay(values.to) === undefined
        ? { to: 'Write a day.' }
        : values.from > values.to
          ? { to: 'This day is before the first one.' }
          : {};
  const send = (event: FormEvent) => {
    event.preventDefault();
    if (isBusy || Object.keys(wrong).length > 0) return;
    const { from, to, holding } = values;
    const paper = values.paper === 'letter' ? 'letter' : 'a4';
    setMade({ from, to });
    void work.start({ holding, from, to, paper });
  };
  return (
    <>
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
        <Select
          {...field('paper')}
          label="Paper"
          options={[
            { value: 'a4', label: 'A4' },
            { value: 'letter', label: 'US Letter' },
          ]}
        />
        <p className="book-filter-deed">
          <Deed submits weight="main" isBusy={isBusy}>
            {isBusy ? 'Printing…' : 'Make the paper'}
          </Deed>
        </p>
      </form>
      <Working work={work} what="Printing the treatment record" />
      {now.state === 'done' ? (
        <>
          <Notice kind="done" word="Made">
            <p>
              {count(now.value.rows, 'line', 'lines')}, check code{' '}
              <strong className="code">{now.value.checkCode}</strong>.
            </p>
          </Notice>
          <Paper
            hash={now.value.paper}
            title={`Treatment record, ${localInWords(made.from)} to ${localInWords(made.to)}`}
            saveAs={`${recordFile(made)}.pdf`}
          />
        </>
      ) : null}
    </>
  );
}
