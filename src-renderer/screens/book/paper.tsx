import './book.css';
import { type FormEvent, useRef, useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import type { Fault } from '../../../src-shared/refusal.ts';
import { desk } from '../../desk.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { DayField, readBackDay } from '../../parts/day-field.tsx';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { Select } from '../../parts/field.tsx';
import { FaultNotice, Notice } from '../../parts/notice.tsx';
import { Paper } from '../../parts/paper.tsx';
import { Screen } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { useCommand } from '../../shell/commands.ts';
import { lastYear, recordFile } from './record.ts';
import { localInWords } from './when.ts';

type Farm = Reply<'farm'>;
type Making =
  | { state: 'idle' | 'busy' }
  | { state: 'made'; paper: Reply<'book-paper'>; title: string; saveAs: string }
  | { state: 'failed'; fault: Fault };

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
  const [making, setMaking] = useState<Making>({ state: 'idle' });
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
  const send = async (event: FormEvent) => {
    event.preventDefault();
    if (making.state === 'busy' || Object.keys(wrong).length > 0) return;
    setMaking({ state: 'busy' });
    const { from, to, holding } = values;
    const paper = values.paper === 'letter' ? 'letter' : 'a4';
    const outcome = await desk.call('book-paper', { holding, from, to, paper });
    const title = `Treatment record, ${localInWords(from)} to ${localInWords(to)}`;
    setMaking(
      outcome.ok
        ? { state: 'made', paper: outcome.value, title, saveAs: `${recordFile({ from, to })}.pdf` }
        : { state: 'failed', fault: outcome.error },
    );
  };
  return (
    <>
      <form
        ref={element}
        className="book-filters book-print"
        noValidate
        onSubmit={(event) => void send(event)}
      >
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
          <Deed submits weight="main" isBusy={making.state === 'busy'}>
            {making.state === 'busy' ? 'Printing…' : 'Make the paper'}
          </Deed>
        </p>
      </form>
      {making.state === 'failed' ? <FaultNotice fault={making.fault} /> : null}
      {making.state === 'made' ? (
        <>
          <Notice kind="done" word="Made">
            <p>
              {count(making.paper.rows, 'line', 'lines')}, check code{' '}
              <strong className="code">{making.paper.checkCode}</strong>.
            </p>
          </Notice>
          <Paper hash={making.paper.paper} title={making.title} saveAs={making.saveAs} />
        </>
      ) : null}
    </>
  );
}
