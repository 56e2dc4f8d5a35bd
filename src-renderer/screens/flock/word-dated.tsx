import { useCall } from '../../hooks/use-call.ts';
import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { DayField } from '../../parts/day-field.tsx';
import { Choice, Field, Select } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import type { Farm } from './holding-field.tsx';
import { headsOf } from './words.ts';

type How = 'statement' | 'stand-down' | 'vet-word';

const HOW: readonly { value: How; label: string; hint: string }[] = [
  {
    value: 'statement',
    label: 'A period still runs, by a statement',
    hint: 'from the seller or the earlier keeper: until when',
  },
  {
    value: 'vet-word',
    label: 'The vet says until when',
    hint: 'write which vet, and what was said',
  },
  {
    value: 'stand-down',
    label: 'Nobody can say: the keeper sets a time and signs for it',
    hint: 'no less than 105 days is cautious: there is a sheep medicine with a meat period of 104 days',
  },
];

/** A hold that has no end gets one by somebody's word. */
export function DatedForm({ wait, onDone }: { wait: { hold: string; subject: string }; onDone: () => void }) {
  const farm = useCall('farm', {});
  return (
    <Await call={farm} what="Reading the farm">
      {(value) => <Dated wait={wait} farm={value} onDone={onDone} />}
    </Await>
  );
}

function Dated({
  wait,
  farm,
  onDone,
}: {
  wait: { hold: string; subject: string };
  farm: Farm;
  onDone: () => void;
}) {
  const form = useForm(`flock/word-dated/${wait.hold}`, {
    how: '',
    meatUntil: '',
    milkUntil: '',
    days: '105',
    signer: '',
    why: '',
  });
  const write = useWrite('date-hold', () => {
    void form.drop().then(onDone);
  });
  const how = HOW.map((one) => one.value).find((one) => one === form.values.how);
  const isStandDown = how === 'stand-down';
  const milks = farm.holdings.some((holding) => holding.milk);
  const send = () => {
    const { meatUntil, milkUntil, days, signer, why } = form.values;
    const wholeDays = headsOf(days);
    const problems = [
      ...(how === undefined ? [{ field: 'how', message: 'Choose whose word it is.' }] : []),
      ...(why.trim() === '' ? [{ field: 'why', message: 'Write who said it and when.' }] : []),
      ...(isStandDown && wholeDays === undefined
        ? [{ field: 'days', message: 'Write whole days, as in 105.' }]
        : []),
      ...(isStandDown && signer === '' ? [{ field: 'signer', message: 'Choose who signs for it.' }] : []),
    ];
    if (how === undefined || problems.length > 0) return form.show(problems);
    void write.send({
      ...wait,
      how,
      why,
      ...(isStandDown
        ? { signer, ...(wholeDays === undefined ? {} : { days: wholeDays }) }
        : withoutEmpty({ meatUntil, milkUntil })),
    });
  };
  return (
    <Form form={form} write={write} deed="Give it this end" onLeave={onDone} onSend={send}>
      <Choice {...form.text('how')} label="Whose word" options={HOW} />
      {isStandDown ? (
        <>
          <Field {...form.text('days')} label="Days from when it came" inputMode="numeric" size={6} />
          <Select
            {...form.text('signer')}
            label="Signed by"
            options={[
              { value: '', label: 'Choose' },
              ...farm.people
                .filter((person) => person.active)
                .map((person) => ({ value: person.person, label: person.name })),
            ]}
          />
        </>
      ) : (
        <>
          <DayField {...form.text('meatUntil')} label="Meat is held until the end of" optional />
          {milks ? (
            <DayField {...form.text('milkUntil')} label="Milk is held until the end of" optional />
          ) : null}
        </>
      )}
      <Field
        {...form.text('why')}
        label="Who said it, and when"
        hint="What nobody speaks of stays held."
        lines={3}
        size={48}
      />
    </Form>
  );
}
