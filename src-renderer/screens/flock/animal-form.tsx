import { useEffect, useRef } from 'react';
import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { DayField } from '../../parts/day-field.tsx';
import { Choice, Field, Select, Tick } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Notice } from '../../parts/notice.tsx';
import { type Farm, firstHolding, HoldingField } from './holding-field.tsx';
import {
  classOf,
  classOptions,
  type SubjectPage,
  sexOf,
  sexOptions,
  standingOf,
  standingOptions,
} from './words.ts';

const originOptions = [
  { value: 'own', label: 'Born here' },
  { value: 'bought', label: 'Bought or brought in' },
];

export type Added = { subject: string; shown: string; class: string };

/** What bought animals come with, said before it is written. */
export function BoughtNotice({ isLot = false }: { isLot?: boolean }) {
  return (
    <Notice kind="mind" word="Held">
      <p>
        {isLot ? 'These heads are' : 'This animal is'} held for meat and milk until there is a statement about
        earlier treatments, from the seller or the vet. The page then has a line for writing it down.
      </p>
    </Notice>
  );
}

/** Adds a named animal, or changes one. Of a change only what differs is sent, so that nothing is lost by it. */
export function AnimalForm({
  farm,
  page,
  startClass = '',
  takesCursor = false,
  onDone,
  onLeave,
}: {
  farm: Farm;
  page?: SubjectPage;
  startClass?: string;
  /** The next of several: the cursor goes straight to the tag. */
  takesCursor?: boolean;
  onDone: (added: Added) => void;
  onLeave: () => void;
}) {
  const who = page?.who;
  const form = useForm(`flock/animal/${who?.subject ?? 'new'}`, {
    holding: page?.holding ?? firstHolding(farm),
    tag: who?.tag ?? '',
    chip: who?.chip ?? '',
    management: who?.management ?? '',
    class: who?.class ?? startClass,
    sex: who?.sex ?? '',
    born: who?.born ?? '',
    dam: page?.dam ?? '',
    milking: who?.milking ?? false,
    origin: page?.origin ?? 'own',
    cameOn: page?.cameOn ?? '',
    standing: page === undefined ? 'none-running' : '',
    happened: '',
  });
  const { values } = form;
  const write = useWrite('set-animal', ({ animal, shown }) => {
    void form.drop().then(() => onDone({ subject: `animal:${animal}`, shown, class: values.class }));
  });
  const around = useRef<HTMLDivElement>(null);
  const { isReady } = form;
  useEffect(() => {
    if (takesCursor && isReady) around.current?.querySelector<HTMLInputElement>('input[name="tag"]')?.focus();
  }, [takesCursor, isReady]);

  const send = () => {
    const sheepClass = classOf(values.class);
    const numbers = {
      tag: values.tag.trim(),
      chip: values.chip.trim(),
      management: values.management.trim(),
    };
    const problems = [
      ...(Object.values(numbers).every((one) => one === '')
        ? [{ field: 'tag', message: 'Write the tag, the chip or a number of your own.' }]
        : []),
      ...(sheepClass === undefined ? [{ field: 'class', message: 'Choose the class.' }] : []),
    ];
    if (sheepClass === undefined || problems.length > 0) return form.show(problems);
    const changed = withoutEmpty({
      tag: numbers.tag === who?.tag ? '' : numbers.tag,
      chip: numbers.chip === who?.chip ? '' : numbers.chip,
      management: numbers.management === who?.management ? '' : numbers.management,
    });
    const sex = sexOf(values.sex);
    const standing = standingOf(values.standing);
    void write.send({
      holding: values.holding,
      ...(who === undefined ? {} : { animal: who.subject.slice('animal:'.length) }),
      ...changed,
      class: sheepClass,
      ...(sex === undefined ? {} : { sex }),
      ...withoutEmpty({ born: values.born, dam: values.dam.trim(), cameOn: values.cameOn }),
      milking: values.milking,
      origin: values.origin === 'bought' ? 'bought' : 'own',
      ...(standing === undefined ? {} : { standing }),
      ...withoutEmpty({ happened: values.happened }),
    });
  };

  return (
    <div ref={around}>
      <Form
        form={form}
        write={write}
        deed={who === undefined ? 'Write the animal in the book' : 'Write the change'}
        onLeave={onLeave}
        onSend={send}
      >
        <Field
          {...form.text('tag')}
          label="Tag"
          optional
          hint={
            who === undefined
              ? 'As on the tag, with the letters of the country: UK 0 123456 00001. Or read the chip into this box.'
              : 'Write a new tag over the old one. The old numbers still find the animal; a new tag ends the chip of the old one.'
          }
          size={24}
        />
        <Field {...form.text('chip')} label="Chip" optional hint="15 digits." inputMode="numeric" size={20} />
        <Field
          {...form.text('management')}
          label="Own number"
          optional
          hint="A short one of the farm."
          size={12}
        />
        <Select
          {...form.text('class')}
          label="Class"
          hint="It decides the dose line and the period."
          options={[{ value: '', label: 'Choose one' }, ...classOptions]}
        />
        <Select {...form.text('sex')} label="Sex" options={sexOptions} />
        <DayField {...form.text('born')} label="Born" optional />
        <Field {...form.text('dam')} label="Dam" optional hint="Tag or number of its mother." size={24} />
        <Tick {...form.tick('milking')} label="It is in milk" hint="Milk periods then run for it." />
        <HoldingField farm={farm} {...form.text('holding')} />
        <Choice {...form.text('origin')} label="Where it comes from" options={originOptions} />
        {values.origin !== 'bought' ? null : (
          <>
            <DayField {...form.text('cameOn')} label="Came on" optional />
            {page?.origin === 'bought' ? null : <BoughtNotice />}
          </>
        )}
        {who === undefined && values.origin !== 'bought' ? (
          <Choice {...form.text('standing')} label="Earlier treatments" options={standingOptions} />
        ) : null}
        {who === undefined ? null : (
          <DayField
            {...form.text('happened')}
            label="Since"
            optional
            hint="When it got the tag or became of the class. Left empty it counts from now."
          />
        )}
      </Form>
    </div>
  );
}
