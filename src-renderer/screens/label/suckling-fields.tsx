import { Field, Select } from '../../parts/field.tsx';
import type { LabelDraft } from './draft.ts';
import { reads } from './medicine-fields.tsx';
import { backPeriod } from './reading.ts';
import { More } from './rows.tsx';
import { type At, partOf, textOf } from './use-label.ts';

const SAYS = [
  { value: '', label: 'The label does not say' },
  { value: 'as-the-ewe', label: 'As long as the ewe' },
  { value: 'value', label: 'A period in days or hours, from her last dose' },
  { value: 'zero', label: 'Zero: it may be taken at once' },
];

/** What the insert says of the meat of lambs that suck a treated ewe. Silent, they are held as long as she is. */
export function SucklingFields({ at }: { at: At<LabelDraft> }) {
  const suckling = partOf(at, 'sucklingMeat');
  const { says, value } = suckling.value;
  return (
    <More summary="Meat of lambs that suck her" isUsed={says !== ''}>
      <Select
        {...textOf(suckling, 'says')}
        label="Of lambs that suck her the label says"
        hint="Never held shorter than this. Whether it counts in the place of the ewe’s own period is a rule of the farm, under Farm, Holding."
        options={SAYS}
      />
      {says === 'value' ? (
        <Field
          {...textOf(suckling, 'value')}
          label="Period of sucking lambs"
          hint="7 d, 72 h. Days and hours are not the same."
          size={12}
          {...reads(backPeriod(value))}
        />
      ) : null}
    </More>
  );
}
