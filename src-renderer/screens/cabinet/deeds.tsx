import { useCall } from '../../hooks/use-call.ts';
import { type TextProps, useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { WhenField } from '../../parts/day-field.tsx';
import type { Weight } from '../../parts/deed.tsx';
import { Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { NextField } from '../label/next-field.tsx';
import { backAmount } from '../label/reading.ts';
import { type Container, isGone, sayDifference, stateWords } from './words.ts';

/** What can be done with one container. */
const all = ['count', 'open', 'lose', 'carry', 'dispose', 'return', 'set-aside', 'take-back'] as const;
export type ContainerDeed = (typeof all)[number];

export function isDeed(text: string): text is ContainerDeed {
  return all.some((deed) => deed === text);
}

type Words = {
  readonly name: string;
  readonly weight: Weight;
  /** The deed that writes it. */
  readonly write: string;
  /** What follows, said before it is done. */
  readonly follows: string;
};

export const deedWords: Readonly<Record<ContainerDeed, Words>> = {
  count: {
    name: 'Count it',
    weight: 'main',
    write: 'Write the count',
    follows: 'What you count is what is there from then on; the difference stands in the book.',
  },
  open: {
    name: 'Open it',
    weight: 'plain',
    write: 'Write that it was opened',
    follows: 'From then on it may be used only as long as its label says once opened.',
  },
  lose: {
    name: 'Write down a loss',
    weight: 'plain',
    write: 'Write the loss',
    follows: 'A spill, a leak, what ran out while priming. The rest stays as it is.',
  },
  carry: {
    name: 'Put it in another store',
    weight: 'plain',
    write: 'Write where it stands',
    follows: 'From then on the thermometer of the other store speaks for it.',
  },
  dispose: {
    name: 'Dispose of it',
    weight: 'grave',
    write: 'Write that it was disposed of',
    follows: 'It cannot be used any more. Left empty, the amount is all that is left.',
  },
  return: {
    name: 'Return it',
    weight: 'plain',
    write: 'Write that it was returned',
    follows: 'It leaves the farm. Left empty, the amount is all that is left.',
  },
  'set-aside': {
    name: 'Set it aside',
    weight: 'plain',
    write: 'Set it aside',
    follows: 'No treatment is planned from it until it is taken back.',
  },
  'take-back': {
    name: 'Take it back into use',
    weight: 'plain',
    write: 'Take it back',
    follows: 'It may be used again until its date.',
  },
};

/** What can be done with a container in its state, the likeliest first. */
export function deedsOf(state: Container['state']): readonly ContainerDeed[] {
  if (isGone(state)) return [];
  if (state === 'quarantined') return ['take-back', 'count', 'carry', 'dispose', 'return'];
  if (state === 'expired' || state === 'past-in-use')
    return ['dispose', 'return', 'count', 'lose', 'set-aside', 'carry'];
  if (state === 'empty') return ['count', 'dispose'];
  return state === 'sealed'
    ? ['open', 'count', 'lose', 'carry', 'set-aside', 'dispose', 'return']
    : ['count', 'lose', 'carry', 'set-aside', 'dispose', 'return'];
}

const causes = {
  count: 'counted',
  lose: 'lost',
  carry: 'carried',
  dispose: 'disposed',
  return: 'returned',
  'set-aside': 'quarantined',
  'take-back': 'released',
} as const;

/** The form of one deed. It says what follows, reads back what was typed, and is kept while unfinished. */
export function DeedForm({
  deed,
  container,
  onDone,
  onLeave,
}: {
  deed: ContainerDeed;
  container: Container;
  onDone: (said: string) => void;
  onLeave: () => void;
}) {
  return deed === 'open' ? (
    <OpenForm container={container} onDone={onDone} onLeave={onLeave} />
  ) : (
    <MoveForm deed={deed} container={container} onDone={onDone} onLeave={onLeave} />
  );
}

function OpenForm({
  container,
  onDone,
  onLeave,
}: {
  container: Container;
  onDone: (said: string) => void;
  onLeave: () => void;
}) {
  const form = useForm(`cabinet/${container.container}/open`, { happened: '' });
  const write = useWrite('open-container', ({ useBy }) => {
    void form.drop().then(() => onDone(`${container.label} is open. Use it by ${useBy}.`));
  });
  const { happened } = form.values;
  return (
    <Form
      form={form}
      write={write}
      deed={deedWords.open.write}
      onLeave={onLeave}
      onSend={() =>
        void write.send({ container: container.container, ...(happened === '' ? {} : { happened }) })
      }
    >
      <Follows deed="open" />
      <When {...form.text('happened')} />
      <NextField name="happened" />
    </Form>
  );
}

function Follows({ deed }: { deed: ContainerDeed }) {
  return <p className="deed-follows">{deedWords[deed].follows}</p>;
}

/** When it happened: a day and time, said back in full words, or now. */
function When(props: TextProps) {
  return <WhenField {...props} label="When" hint="Left empty, it is now." optional />;
}

function MoveForm({
  deed,
  container,
  onDone,
  onLeave,
}: {
  deed: Exclude<ContainerDeed, 'open'>;
  container: Container;
  onDone: (said: string) => void;
  onLeave: () => void;
}) {
  const form = useForm(`cabinet/${container.container}/${deed}`, {
    amount: '',
    happened: '',
    why: '',
    how: '',
    where: '',
    store: '',
  });
  const write = useWrite('move-stock', ({ left, state }) => {
    void form
      .drop()
      .then(() => onDone(`${container.label}: ${left.text} left, ${stateWords[state].toLowerCase()}.`));
  });
  const { values } = form;
  const isOfAll = deed === 'set-aside' || deed === 'take-back' || deed === 'carry';
  const isLeaving = deed === 'dispose' || deed === 'return';
  const piece = container.piece === undefined ? {} : { piece: container.piece };
  const back = deed === 'count' ? sayDifference(values.amount, container) : backAmount(values.amount, piece);
  const send = () => {
    const amount = values.amount.trim();
    if (amount === '' && (deed === 'count' || deed === 'lose')) {
      return form.show([{ field: 'amount', message: 'Write how much, with its unit, as in 35 mL.' }]);
    }
    if (deed === 'carry' && values.store.trim() === '') {
      return form.show([{ field: 'store', message: 'Write in which store it stands from now on.' }]);
    }
    if (values.why.trim() === '' && NEEDS_WHY.has(deed)) {
      return form.show([{ field: 'why', message: 'Write why; it stands in the book.' }]);
    }
    if (deed === 'dispose' && values.how.trim() === '') {
      return form.show([{ field: 'how', message: 'Write how it was disposed of; an inspector asks.' }]);
    }
    if (deed === 'return' && values.where.trim() === '') {
      return form.show([{ field: 'where', message: 'Write to whom it was returned; an inspector asks.' }]);
    }
    void write.send({
      container: container.container,
      cause: causes[deed],
      ...(amount === '' || isOfAll ? {} : { amount }),
      ...filled('happened', values.happened),
      ...filled('why', values.why),
      ...filled('how', values.how),
      ...filled('where', values.where),
      ...filled('store', values.store),
    });
  };
  return (
    <Form form={form} write={write} deed={deedWords[deed].write} onLeave={onLeave} onSend={send}>
      <Follows deed={deed} />
      {isOfAll ? null : (
        <Field
          {...form.text('amount')}
          label={deed === 'count' ? 'There is in it now' : 'How much'}
          hint={
            deed === 'count'
              ? 'With its unit, as in 740 mL; 0 mL when it is empty.'
              : 'With its unit, as in 35 mL.'
          }
          size={12}
          optional={isLeaving}
          {...(back === undefined ? {} : { readBack: back })}
        />
      )}
      {deed === 'carry' ? <StoreField {...form.text('store')} now={container.store} /> : null}
      <Field
        {...form.text('why')}
        label="Why"
        optional={!NEEDS_WHY.has(deed)}
        size={40}
        {...(deed === 'lose' ? { list: ['Spilled', 'Leaked', 'Broken', 'Priming', 'Frozen'] } : {})}
      />
      {deed === 'dispose' ? (
        <Field
          {...form.text('how')}
          label="How"
          hint="As the label and the law where you are want it. Never down the drain unless they say so."
          list={[
            'Collected as medicine waste',
            'Back to the vet',
            'Back to the supplier',
            'Taken to the pharmacy',
          ]}
          size={40}
        />
      ) : null}
      {isLeaving ? (
        <Field
          {...form.text('where')}
          label={deed === 'return' ? 'To whom' : 'Where'}
          optional={deed === 'dispose'}
          size={40}
        />
      ) : null}
      <When {...form.text('happened')} />
      <NextField name={deed === 'carry' ? 'store' : isOfAll ? 'why' : 'amount'} />
    </Form>
  );
}

const NEEDS_WHY: ReadonlySet<ContainerDeed> = new Set(['set-aside', 'take-back', 'lose']);

/** The store it is carried to; those that the book knows are offered. */
function StoreField({ now, ...props }: TextProps & { now: string | undefined }) {
  const log = useCall('storage-log', {});
  const known = log.state === 'ready' ? log.value.stores.filter((store) => store !== now) : [];
  return (
    <Field
      {...props}
      label="Store"
      hint={now === undefined ? 'No store is written so far.' : `So far it stands in ${now}.`}
      list={known}
      size={24}
    />
  );
}

/** A text that was typed, under its name; nothing for an empty one. */
function filled<K extends string>(key: K, text: string): { [P in K]?: string } {
  const found: { [P in K]?: string } = {};
  if (text.trim() !== '') found[key] = text.trim();
  return found;
}
