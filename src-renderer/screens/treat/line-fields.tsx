import { sayDoseLine } from '../../../src-shared/label/say.ts';
import { useCall } from '../../hooks/use-call.ts';
import type { Problem, TextProps } from '../../hooks/use-form.ts';
import { Choice, Field, Select } from '../../parts/field.tsx';
import { MedicinePicker } from '../../parts/medicine-picker.tsx';
import type { PlanLine } from './plan-values.ts';
import { OTHER_SYRINGE, ownChoice, sourceOptions, syringeOptions } from './words.ts';

/** One medicine: which, by which dose line, from where, why, with which syringe. */
export function LineFields({
  name,
  line,
  problems,
  onChange,
}: {
  /** Before the names of its fields, so that several lines on one screen stay apart. */
  name: string;
  line: PlanLine;
  problems: readonly Problem[];
  onChange: (change: Partial<PlanLine>) => void;
}) {
  const medicine = useCall('medicine', line.medicine === '' ? null : { medicine: line.medicine });
  const terms =
    line.medicine !== '' && medicine.state === 'ready' ? medicine.value.revisions[0]?.terms : undefined;
  const own = useOwnSyringes();
  const error = (field: string) => problems.find((problem) => problem.field === `${name}-${field}`)?.message;
  const text = (field: keyof PlanLine): TextProps => ({
    name: `${name}-${field}`,
    value: line[field],
    error: error(field),
    onChange: (value) => onChange({ [field]: value }),
  });
  return (
    <>
      <MedicinePicker
        name={`${name}-medicine`}
        error={error('medicine')}
        picked={line.medicine === '' ? undefined : line.medicine}
        onPick={(picked) =>
          onChange({
            medicine: picked?.medicine ?? '',
            doseLine: '',
            syringe: '',
            instruction: '',
            prescription: '',
            grouping: '',
          })
        }
      />
      {terms === undefined ? null : terms.doseLines.length > 1 ? (
        <Choice
          {...text('doseLine')}
          label="Dose line"
          options={[
            { value: '', label: 'The one that fits the class' },
            ...terms.doseLines.map((one) => ({
              value: one.id,
              label: one.title ?? one.against ?? one.id,
              hint: sayDoseLine(terms, one),
            })),
          ]}
        />
      ) : (
        <div className="field">
          <span className="field-label">By the label</span>
          <p>{terms.doseLines.map((one) => sayDoseLine(terms, one)).join(' ')}</p>
        </div>
      )}
      <Field
        {...text('reason')}
        label="Reason"
        hint="What it is for, as it will stand in the book."
        size={32}
        list={['Worms', 'Lameness', 'Yearly booster', 'Fly strike']}
      />
      <Choice {...text('source')} label="Where it comes from" options={sourceOptions} />
      {line.source === 'ours' ? null : (
        <Field
          {...text('batch')}
          label="Batch number"
          hint="From the bottle they brought."
          size={16}
          optional
        />
      )}
      <VetPapers medicine={line.medicine} text={text} />
      {terms?.kind !== 'volume' ? null : (
        <>
          <Select
            {...text('syringe')}
            label={terms.doseLines.some((one) => one.route === 'oral') ? 'Syringe or drench gun' : 'Syringe'}
            options={[...syringeOptions.slice(0, 1), ...own, ...syringeOptions.slice(1)]}
          />
          {line.syringe !== OTHER_SYRINGE ? null : (
            <>
              <Field {...text('holds')} label="It holds" hint="As in 30 mL." size={8} />
              <Field {...text('marks')} label="A mark every" hint="As in 0.5 mL." size={8} />
            </>
          )}
        </>
      )}
    </>
  );
}

/** The farm's own guns and syringes, guns first: with one of them it is known when it must be checked. */
function useOwnSyringes(): { value: string; label: string }[] {
  const call = useCall('equipment', {});
  if (call.state !== 'ready') return [];
  return call.value.equipment
    .toSorted((a, b) => Number(b.what === 'gun') - Number(a.what === 'gun'))
    .flatMap(({ equipment, name, active, capacity, graduation }) =>
      active && capacity !== undefined && graduation !== undefined
        ? [
            {
              value: ownChoice({ equipment, capacity, graduation }),
              label: `${name}: ${capacity}, a mark every ${graduation}`,
            },
          ]
        : [],
    );
}

/** The vet's instruction and the prescription it is given by, where there are any for this medicine. */
function VetPapers({
  medicine,
  text,
}: {
  medicine: string;
  text: (field: 'instruction' | 'prescription') => TextProps;
}) {
  const papers = useCall('papers', medicine === '' ? null : {});
  if (medicine === '' || papers.state !== 'ready') return null;
  const instructions = papers.value.instructions.filter(
    (one) => one.medicine === undefined || one.medicine === medicine,
  );
  const prescriptions = papers.value.prescriptions.filter((one) => one.medicine === medicine);
  return (
    <>
      {instructions.length === 0 ? null : (
        <Select
          {...text('instruction')}
          label="By the vet's instruction"
          hint="The periods it states count; they can lengthen the label's and never shorten them."
          options={[
            { value: '', label: 'None: by the label' },
            ...instructions.map((one) => ({
              value: one.instruction,
              label: `${one.vetName}, ${one.given}: ${one.what.slice(0, 60)}`,
            })),
          ]}
          optional
        />
      )}
      {prescriptions.length === 0 ? null : (
        <Select
          {...text('prescription')}
          label="Prescription"
          options={[
            { value: '', label: 'None named' },
            ...prescriptions.map((one) => ({
              value: one.prescription,
              label: `${one.number}, ${one.vetName}, ${one.written}`,
            })),
          ]}
          optional
        />
      )}
    </>
  );
}
