import './flock.css';
import { useEffect, useRef, useState } from 'react';
import { useCall } from '../../hooks/use-call.ts';
import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { DayField } from '../../parts/day-field.tsx';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { Choice, Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Sentence } from '../../parts/sentence.tsx';
import { WhoListed } from '../../parts/who-listed.tsx';
import { count } from '../../parts/words.ts';
import { go, useLocation } from '../../router.tsx';
import { type AnimalRow, goesToOthers, headsOf, leftOf, leftOptions } from './words.ts';

type Leaving = { row: Pick<AnimalRow, 'subject' | 'shown' | 'class' | 'heads' | 'present'>; heads: string };

/** Writes down who left: read or type one after another, then how and where to. */
export default function DepartScreen() {
  const { subject } = useLocation().query;
  const start = useCall('subject', subject === undefined ? null : { subject });
  if (subject === undefined) return <Depart start={[]} />;
  return (
    <Await call={start} what="Opening the page">
      {({ who }) => <Depart start={who.present ? [{ row: who, heads: who.heads === 1 ? '1' : '' }] : []} />}
    </Await>
  );
}

function Depart({ start }: { start: readonly Leaving[] }) {
  const [list, setList] = useState(start);
  const [said, setSaid] = useState('');
  const [done, setDone] = useState(0);
  const box = useRef<HTMLInputElement>(null);
  const form = useForm('flock/depart', { how: '', to: '', happened: '' });
  const total = list.reduce((sum, one) => sum + (headsOf(one.heads) ?? 0), 0);
  const write = useWrite('depart', () => {
    setDone(total);
    setList([]);
    void form.drop();
  });
  const isEmptyStart = start.length === 0;
  useEffect(() => {
    if (isEmptyStart) box.current?.focus();
  }, [isEmptyStart]);

  const pick = (row: AnimalRow) => {
    setDone(0);
    if (!row.present) return setSaid(`${row.shown} is not here any more.`);
    if (list.some((one) => one.row.subject === row.subject))
      return setSaid(`${row.shown} is in the list already.`);
    setSaid(`${row.shown} is in the list.`);
    setList([...list, { row, heads: row.subject.startsWith('lot:') ? '' : '1' }]);
  };
  const send = () => {
    const how = leftOf(form.values.how);
    const wrong = list.find((one) => (headsOf(one.heads) ?? 0) < 1);
    const problems = [
      ...(list.length === 0 ? [{ message: 'Name at least one animal or lot that left.' }] : []),
      ...(wrong === undefined ? [] : [{ message: `Write how many heads of ${wrong.row.shown} left.` }]),
      ...(how === undefined ? [{ field: 'how', message: 'Choose how they left.' }] : []),
    ];
    if (how === undefined || problems.length > 0) return form.show(problems);
    void write.send({
      subjects: list.map((one) => ({ subject: one.row.subject, heads: headsOf(one.heads) ?? 1 })),
      how,
      ...withoutEmpty({ to: form.values.to.trim(), happened: form.values.happened }),
    });
  };

  return (
    <Screen
      title="Who left"
      lead="What really left is always taken down, held or not. A declaration for the abattoir is made under Declare."
    >
      {done === 0 ? null : (
        <Notice kind="done" deed={<DeedLink to="flock">Back to the flock</DeedLink>}>
          <p>{count(done, 'head', 'heads')} left. They are no longer counted as here.</p>
        </Notice>
      )}
      <WhoListed
        title="Which"
        label="Who left"
        ref={box}
        onPick={pick}
        said={said}
        isEmpty={list.length === 0}
      >
        {list.map((one) => (
          <Line
            key={one.row.subject}
            leaving={one}
            isWarned={goesToOthers(form.values.how)}
            onHeads={(heads) => setList(list.map((other) => (other === one ? { ...one, heads } : other)))}
            onOut={() => setList(list.filter((other) => other !== one))}
          />
        ))}
      </WhoListed>
      <Section title="How">
        <Form
          form={form}
          write={write}
          deed={total === 0 ? 'Write that they left' : `Write that ${count(total, 'head', 'heads')} left`}
          onLeave={() => go({ to: 'flock' })}
          onSend={send}
        >
          <Choice {...form.text('how')} label="How" options={leftOptions} />
          <Field {...form.text('to')} label="Where to" optional hint="Abattoir, buyer, place or collector." />
          <DayField {...form.text('happened')} label="On" optional hint="Left empty it counts from now." />
        </Form>
      </Section>
    </Screen>
  );
}

/** One that left. Where others may eat it, what holds it is said before it is written. */
function Line({
  leaving,
  isWarned,
  onHeads,
  onOut,
}: {
  leaving: Leaving;
  isWarned: boolean;
  onHeads: (heads: string) => void;
  onOut: () => void;
}) {
  const { row, heads } = leaving;
  const page = useCall('subject', { subject: row.subject });
  const meat = page.state === 'ready' ? page.value.verdicts.find((one) => one.produce === 'meat') : undefined;
  const isHeld = meat !== undefined && meat.state !== 'clear';
  const isLot = row.subject.startsWith('lot:');
  return (
    <Sentence
      mind={isHeld && isWarned}
      margin={isHeld && isWarned ? 'Held' : row.class.replace('-', ' ')}
      small={
        meat === undefined || !isHeld
          ? undefined
          : `${meat.state === 'until' ? `Held for meat until ${meat.big}.` : meat.why.join(' ')}${isWarned ? ' Tell whoever gets it.' : ''}`
      }
      deed={<Deed onDo={onOut}>Take {row.shown} off</Deed>}
    >
      <strong>{row.shown}</strong>
      {isLot ? (
        <label className="flock-boxes">
          how many of {row.heads.toLocaleString('en-GB')}?
          <input
            size={6}
            inputMode="numeric"
            value={heads}
            onChange={(event) => onHeads(event.target.value)}
          />
        </label>
      ) : null}
    </Sentence>
  );
}
