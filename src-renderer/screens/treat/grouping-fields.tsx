import { groupingRefused } from '../../../src-shared/dose/group-offer.ts';
import { useCall } from '../../hooks/use-call.ts';
import type { Problem, TextProps } from '../../hooks/use-form.ts';
import { Choice, Field, Select } from '../../parts/field.tsx';
import { groupingOptions, partOptions, pickedOptions } from './grouping-values.ts';
import type { PlanLine } from './plan-values.ts';

/** How the animals of one line are dosed: each by its weight, all to the heaviest, or drafted; or why not together. */
export function GroupingFields({
  name,
  line,
  problems,
  onChange,
}: {
  name: string;
  line: PlanLine;
  problems: readonly Problem[];
  onChange: (change: Partial<PlanLine>) => void;
}) {
  const medicine = useCall('medicine', line.medicine === '' ? null : { medicine: line.medicine });
  const terms =
    line.medicine !== '' && medicine.state === 'ready' ? medicine.value.revisions[0]?.terms : undefined;
  const doseLine = terms?.doseLines.find((one) => one.id === line.doseLine) ?? terms?.doseLines[0];
  if (terms === undefined || doseLine === undefined) return null;
  const refused = groupingRefused(terms, doseLine);
  if (refused !== undefined) {
    return (
      <div className="field">
        <span className="field-label">How it is dosed</span>
        <p>Each by its own weight. {refused.message}</p>
      </div>
    );
  }
  const text = (field: keyof PlanLine): TextProps => ({
    name: `${name}-${field}`,
    value: line[field],
    error: problems.find((problem) => problem.field === `${name}-${field}`)?.message,
    onChange: (value) => onChange({ [field]: value }),
  });
  return (
    <>
      <Choice {...text('grouping')} label="How it is dosed" options={groupingOptions} />
      {line.grouping !== 'heaviest' ? null : (
        <>
          <Choice
            {...text('picked')}
            label="Those weighed were"
            hint="Said, those that were not weighed get the same dose. Unsaid, they are left out by name."
            options={pickedOptions}
          />
          {line.picked === '' ? null : (
            <Field
              {...text('sample')}
              label="Weights of the sample"
              hint="Of animals that are in the book under no name, as in a lot. One after the other, as in 31 kg; 33.5 kg."
              size={28}
              lines={2}
              optional
            />
          )}
        </>
      )}
      {line.grouping !== 'drafted' ? null : (
        <>
          <Select {...text('parts')} label="Into how many parts" options={partOptions} />
          <Field
            {...text('gate')}
            label="The gate goes in steps of"
            hint="As in 0.5 kg. Left empty, whole and half kilograms are tried."
            size={8}
            optional
          />
        </>
      )}
      {line.grouping === '' ? null : (
        <Field
          {...text('cap')}
          label="Most over its own dose"
          readBack="percent; 100 is double"
          size={5}
          inputMode="decimal"
        />
      )}
    </>
  );
}
