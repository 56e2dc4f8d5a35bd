import './book.css';
import { type FormEvent, useRef, useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import type { Fault } from '../../../src-shared/refusal.ts';
import { desk } from '../../desk.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useLongWork } from '../../hooks/use-long-work.ts';
import { Await } from '../../parts/await.tsx';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { downloadText } from '../../parts/download.ts';
import { Choice, Select } from '../../parts/field.tsx';
import { FaultNotice, Notice } from '../../parts/notice.tsx';
import { Paper } from '../../parts/paper.tsx';
import { Screen } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { Working } from '../../parts/working.tsx';
import { useLocation } from '../../router.tsx';
import { useCommand } from '../../shell/commands.ts';
import { lastYear } from './last-year.ts';
import { everything, filterOf, Narrow, periodProblems } from './narrow.tsx';
import { localInWords } from './when.ts';

type Farm = Reply<'farm'>;
type Form = keyof typeof forms;

const forms = {
  whole: {
    label: 'The whole book',
    hint: 'What came in, what went into whom, what was lost or disposed of, what is left.',
    title: 'Medicine book',
    file: 'medicine-book',
  },
  treatments: {
    label: 'The treatment record',
    hint: 'What went into whom, and nothing else.',
    title: 'Treatment record',
    file: 'treatment-record',
  },
  animals: {
    label: 'A page an animal',
    hint: 'Each animal or lot that got anything, on a page of its own.',
    title: 'Medicine book by animal',
    file: 'book-by-animal',
  },
  medicines: {
    label: 'A page a medicine',
    hint: 'Everything that moved it, with what was left after each.',
    title: 'Medicine book by medicine',
    file: 'book-by-medicine',
  },
} as const;

const isForm = (text: string): text is Form => Object.hasOwn(forms, text);

/** Prints the book of a period as a PDF: the whole of it, or one side of it. */
export default function PaperScreen() {
  const farm = useCall('farm', {});
  return (
    <Screen
      title="Print the book"
      lead="Everything of a period, corrections and late entries with their reasons included. The paper carries a check code, by which the book can later be held against it."
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
  const { query } = useLocation();
  const usual = farm.holdings[0];
  const [values, setValues] = useState({
    ...everything,
    ...lastYear(farm.clock.today),
    form: 'whole',
    holding: usual?.holding ?? '',
    paper: usual?.paper ?? 'a4',
    ...query,
  });
  const work = useLongWork('book-paper');
  const { now, isBusy } = work;
  /** What the paper is that stands below: the boxes may say other things by then. */
  const [made, setMade] = useState({ from: '', to: '', form: 'whole' as Form });
  const [isSaving, setSaving] = useState(false);
  const [tableFault, setTableFault] = useState<Fault | undefined>(undefined);
  const element = useRef<HTMLFormElement>(null);
  useCommand('save', () => element.current?.requestSubmit());
  const change = (part: object) => setValues((before) => ({ ...before, ...part }));
  const field = (name: 'form' | 'holding' | 'paper') => ({
    name,
    value: values[name],
    onChange: (value: string) => change({ [name]: value }),
  });
  const form = isForm(values.form) ? values.form : 'whole';
  // A running balance counts everything that moved a medicine, whoever got or gave it.
  const isBalance = form === 'medicines';
  const narrowed = isBalance ? { ...values, group: '', person: '', subject: '' } : values;
  const send = (event: FormEvent) => {
    event.preventDefault();
    if (isBusy || Object.keys(periodProblems(values)).length > 0) return;
    const { from, to, holding } = values;
    const paper = values.paper === 'letter' ? 'letter' : 'a4';
    setMade({ from, to, form });
    void work.start({ holding, from, to, paper, form, ...filterOf(narrowed) });
  };
  const saveTable = async () => {
    if (isSaving || Object.keys(periodProblems(values)).length > 0) return;
    setSaving(true);
    setTableFault(undefined);
    const { from, to, holding } = values;
    const outcome = await desk.call('book-table', { holding, from, to, ...filterOf(narrowed) });
    setSaving(false);
    // Saving puts the mark of UTF-8 before it; it stands there once.
    if (outcome.ok) downloadText(outcome.value.name, outcome.value.text.replace(/^\uFEFF/, ''), 'text/csv');
    else setTableFault(outcome.error);
  };
  return (
    <>
      <form ref={element} className="book-print" noValidate onSubmit={send}>
        <Choice
          {...field('form')}
          label="What is printed"
          options={Object.entries(forms).map(([value, { label, hint }]) => ({ value, label, hint }))}
        />
        <div className="book-filters">
          <Narrow value={narrowed} onChange={change} people={farm.people} isStock={isBalance} />
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
          <p className="deeds book-filter-deed">
            <Deed submits weight="main" isBusy={isBusy}>
              {isBusy ? 'Printing…' : 'Make the paper'}
            </Deed>
            <Deed isBusy={isSaving} onDo={() => void saveTable()}>
              {isSaving ? 'Saving…' : 'Save as a table'}
            </Deed>
          </p>
        </div>
      </form>
      {tableFault === undefined ? null : <FaultNotice fault={tableFault} onAgain={() => void saveTable()} />}
      <Working work={work} what={`Printing: ${forms[made.form].label.toLowerCase()}`} />
      {now.state === 'done' ? <Made value={now.value} made={made} /> : null}
    </>
  );
}

function Made({
  value,
  made,
}: {
  value: Reply<'book-paper'>;
  made: { from: string; to: string; form: Form };
}) {
  const { title, file } = forms[made.form];
  const days = `${localInWords(made.from)} to ${localInWords(made.to)}`;
  return (
    <>
      <Notice kind="done" word="Made">
        <p>
          {count(value.rows, 'line', 'lines')}, check code <strong className="code">{value.checkCode}</strong>
          .{value.volumes.length === 1 ? null : ` In ${value.volumes.length} volumes: save each of them.`}
        </p>
      </Notice>
      {value.volumes.map((volume, n) => (
        <Paper
          key={volume.paper}
          hash={volume.paper}
          title={`${title}, ${days}${value.volumes.length === 1 ? '' : `, volume ${n + 1}`}`}
          saveAs={`${file}-${made.from}-${made.to}${volume.name}.pdf`}
        />
      ))}
    </>
  );
}
