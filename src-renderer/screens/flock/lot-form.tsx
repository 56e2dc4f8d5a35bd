import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { DayField } from '../../parts/day-field.tsx';
import { Choice, Field, Select, Tick } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { type Added, BoughtNotice } from './animal-form.tsx';
import { type Farm, firstHolding, HoldingField } from './holding-field.tsx';
import { classOf, classOptions, headsOf, type SubjectPage, standingOf, standingOptions } from './words.ts';

const originOptions = [
  { value: 'own', label: 'Born here' },
  { value: 'bought', label: 'Bought or brought in' },
];

/** Adds a lot, or changes its name, class or counted heads. */
export function LotForm({
  farm,
  page,
  onDone,
  onLeave,
}: {
  farm: Farm;
  page?: SubjectPage;
  onDone: (added: Added) => void;
  onLeave: () => void;
}) {
  const who = page?.who;
  const form = useForm(`flock/lot/${who?.subject ?? 'new'}`, {
    holding: page?.holding ?? firstHolding(farm),
    name: who?.shown ?? '',
    class: who?.class ?? '',
    heads: who === undefined ? '' : String(who.heads),
    why: '',
    born: who?.born ?? '',
    milking: who?.milking ?? false,
    origin: page?.origin ?? 'own',
    cameOn: page?.cameOn ?? '',
    standing: page === undefined ? 'none-running' : '',
    happened: '',
  });
  const { values } = form;
  const write = useWrite('set-lot', ({ lot }) => {
    void form
      .drop()
      .then(() => onDone({ subject: `lot:${lot}`, shown: values.name.trim(), class: values.class }));
  });
  const heads = headsOf(values.heads);
  const isRecounted = who !== undefined && heads !== undefined && heads !== who.heads;

  const send = () => {
    const sheepClass = classOf(values.class);
    const problems = [
      ...(values.name.trim() === '' ? [{ field: 'name', message: 'Give the lot a name.' }] : []),
      ...(sheepClass === undefined ? [{ field: 'class', message: 'Choose the class.' }] : []),
      ...(heads === undefined
        ? [{ field: 'heads', message: 'Write how many heads there are, as a whole number.' }]
        : []),
      ...(isRecounted && values.why.trim() === ''
        ? [{ field: 'why', message: 'Write why the count is another one than before.' }]
        : []),
    ];
    if (sheepClass === undefined || heads === undefined || problems.length > 0) return form.show(problems);
    const standing = standingOf(values.standing);
    void write.send({
      holding: values.holding,
      ...(who === undefined ? {} : { lot: who.subject.slice('lot:'.length) }),
      name: values.name,
      class: sheepClass,
      heads,
      ...withoutEmpty({
        born: values.born,
        cameOn: values.cameOn,
        why: isRecounted ? values.why.trim() : '',
        happened: values.happened,
      }),
      milking: values.milking,
      origin: values.origin === 'bought' ? 'bought' : 'own',
      ...(standing === undefined ? {} : { standing }),
    });
  };

  return (
    <Form
      form={form}
      write={write}
      deed={who === undefined ? 'Write the lot in the book' : 'Write the change'}
      onLeave={onLeave}
      onSend={send}
    >
      <Field
        {...form.text('name')}
        label="Name of the lot"
        hint="As it is called at the race: Store lambs."
      />
      <Field
        {...form.text('heads')}
        label="Head count"
        inputMode="numeric"
        size={8}
        hint={
          who === undefined
            ? undefined
            : `${who.heads.toLocaleString('en-GB')} in the book. Animals that left or moved are written as that, not as a new count.`
        }
      />
      {isRecounted ? (
        <Field
          {...form.text('why')}
          label="Why another count"
          hint="Counted again at the gate, or miscounted before."
        />
      ) : null}
      <Select
        {...form.text('class')}
        label="Class"
        hint="All heads of a lot are of one class. It decides the dose line and the period."
        options={[{ value: '', label: 'Choose one' }, ...classOptions]}
      />
      <DayField {...form.text('born')} label="Born" optional hint="About when, for the youngest of them." />
      <Tick {...form.tick('milking')} label="They are in milk" hint="Milk periods then run for them." />
      <HoldingField farm={farm} {...form.text('holding')} />
      <Choice {...form.text('origin')} label="Where they come from" options={originOptions} />
      {values.origin !== 'bought' ? null : (
        <>
          <DayField {...form.text('cameOn')} label="Came on" optional />
          {page?.origin === 'bought' ? null : <BoughtNotice isLot />}
        </>
      )}
      {who === undefined && values.origin !== 'bought' ? (
        <Choice {...form.text('standing')} label="Earlier treatments" options={standingOptions} />
      ) : null}
      {who === undefined ? null : (
        <DayField {...form.text('happened')} label="Since" optional hint="Left empty it counts from now." />
      )}
    </Form>
  );
}
