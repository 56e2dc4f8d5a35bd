import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { DayField, readBackDay } from '../../parts/day-field.tsx';
import { Deed } from '../../parts/deed.tsx';
import { Field, Select } from '../../parts/field.tsx';

/** To what the book is narrowed; an empty text: not by that. */
export type Narrowed = {
  readonly from: string;
  readonly to: string;
  readonly medicine: string;
  readonly group: string;
  readonly person: string;
  readonly batch: string;
  readonly subject: string;
};

export const everything = { medicine: '', group: '', person: '', batch: '', subject: '' } as const;

/** What is wrong with a period, by its field. */
export function periodProblems({ from, to }: { from: string; to: string }): { from?: string; to?: string } {
  if (readBackDay(from) === undefined) return { from: 'Write a day.' };
  if (readBackDay(to) === undefined) return { to: 'Write a day.' };
  return from > to ? { to: 'This day is before the first one.' } : {};
}

/** First and last day, with what is wrong with them. */
export function PeriodFields({
  value,
  onChange,
}: {
  value: { readonly from: string; readonly to: string };
  onChange: (part: { from?: string; to?: string }) => void;
}) {
  const wrong = periodProblems(value);
  const field = (name: 'from' | 'to') => ({
    name,
    value: value[name],
    onChange: (typed: string) => onChange({ [name]: typed }),
    error: wrong[name],
  });
  return (
    <>
      <DayField {...field('from')} label="From" />
      <DayField {...field('to')} label="To" />
    </>
  );
}

/** The parts of a range that a call wants: what is empty is left out. */
export function filterOf({ medicine, group, person, batch, subject }: Omit<Narrowed, 'from' | 'to'>) {
  return {
    ...(medicine === '' ? {} : { medicine }),
    ...(group === '' ? {} : { group }),
    ...(person === '' ? {} : { person }),
    ...(batch.trim() === '' ? {} : { batch: batch.trim() }),
    ...(subject === '' ? {} : { subject }),
  };
}

/** Period, medicine, group, person, batch, and the animal it was opened with. */
export function Narrow<V extends Narrowed>({
  value,
  onChange,
  people,
  isStock = false,
}: {
  value: V;
  onChange: (part: Partial<Narrowed>) => void;
  people: Reply<'farm'>['people'];
  /** Only by what stock can be narrowed: it belongs to no animal and no person. */
  isStock?: boolean;
}) {
  const medicines = useCall('medicines', {});
  const groups = useCall('groups', {});
  const field = (name: keyof Narrowed) => ({
    name,
    value: value[name],
    onChange: (typed: string) => onChange({ [name]: typed }),
  });
  const known = medicines.state === 'ready' ? medicines.value.medicines : [];
  const grouped = groups.state === 'ready' ? groups.value.groups : [];
  return (
    <>
      <PeriodFields value={value} onChange={onChange} />
      <Select
        {...field('medicine')}
        label="Medicine"
        options={[
          { value: '', label: 'All medicines' },
          ...known.map((one) => ({ value: one.medicine, label: one.name })),
        ]}
      />
      {isStock || grouped.length === 0 ? null : (
        <Select
          {...field('group')}
          label="Group then"
          options={[
            { value: '', label: 'Everyone' },
            ...grouped.map((one) => ({ value: one.group, label: one.name })),
          ]}
        />
      )}
      {isStock || people.length < 2 ? null : (
        <Select
          {...field('person')}
          label="Given or written by"
          options={[
            { value: '', label: 'Anybody' },
            ...people.map((one) => ({ value: one.person, label: one.name })),
          ]}
        />
      )}
      <Field {...field('batch')} label="Batch" size={10} />
      {value.subject === '' ? null : (
        <OnlyOne subject={value.subject} onAll={() => onChange({ subject: '' })} />
      )}
    </>
  );
}

function OnlyOne({ subject, onAll }: { subject: string; onAll: () => void }) {
  const call = useCall('subject', { subject });
  const shown = call.state === 'ready' ? call.value.who.shown : 'one animal';
  return (
    <p className="book-filter-deed">
      Only {shown}. <Deed onDo={onAll}>Show everyone</Deed>
    </p>
  );
}
