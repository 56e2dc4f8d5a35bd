import { Field, Select } from '../../parts/field.tsx';
import { isBlank, isInjected, type LabelDraft, type LineDraft, nameOfLine } from './draft.ts';
import { reads } from './medicine-fields.tsx';
import { backAmount, backPeriod, backWeight, pieceOf } from './reading.ts';
import { More } from './rows.tsx';
import { type At, partOf, textOf } from './use-label.ts';
import { roundingOptions } from './words.ts';

/** What bounds a dose line, how it is repeated, and what follows it. */
export function LimitFields({ line, draft }: { line: At<LineDraft>; draft: LabelDraft }) {
  const { value } = line;
  const more = pieceOf(draft);
  const repeats = partOf(line, 'repeats');
  const others = draft.doseLines.filter((other) => other.id !== value.id);
  // Of a vaccine the course is the point: it stands open.
  const isVaccine = draft.purpose === 'vaccine';
  const isUsed =
    isVaccine ||
    [value.against, value.leastWeight, value.mostWeight, value.leastAge, value.mostAge].some(
      (t) => t !== '',
    ) ||
    [value.mostDose, value.rounding, value.followedBy, value.protects].some((t) => t !== '') ||
    !isBlank(value.repeats);
  return (
    <>
      {isInjected(value) ? (
        <Field
          {...textOf(line, 'mostPerSite')}
          label="Most in one place"
          hint="As in 5 mL. More is then shared between places."
          size={8}
          optional
          {...reads(backAmount(value.mostPerSite, more))}
        />
      ) : null}
      <More summary="Limits and repeats" isUsed={isUsed}>
        <Field {...textOf(line, 'against')} label="Against" hint="What it is given for." optional />
        <Field
          {...textOf(line, 'leastWeight')}
          label="Not under, weight"
          size={8}
          optional
          {...reads(backWeight(value.leastWeight))}
        />
        <Field
          {...textOf(line, 'mostWeight')}
          label="Not over, weight"
          size={8}
          optional
          {...reads(backWeight(value.mostWeight))}
        />
        <Field
          {...textOf(line, 'leastAge')}
          label="Not younger than"
          hint="As in 21 d or 3 weeks."
          size={8}
          optional
          {...reads(backPeriod(value.leastAge))}
        />
        <Field
          {...textOf(line, 'mostAge')}
          label="Not older than"
          size={8}
          optional
          {...reads(backPeriod(value.mostAge))}
        />
        <Field
          {...textOf(line, 'mostDose')}
          label="Most in all"
          size={8}
          optional
          {...reads(backAmount(value.mostDose, more))}
        />
        <Select {...textOf(line, 'rounding')} label="The dose is rounded" options={roundingOptions} />
        <Field
          {...textOf(repeats, 'doses')}
          label="Doses in all"
          hint="Where one is not enough."
          size={4}
          inputMode="numeric"
          optional
        />
        {repeats.value.doses === '' && isBlank(repeats.value) ? null : (
          <>
            <Field
              {...textOf(repeats, 'due')}
              label="The next is due after"
              hint="As in 28 d."
              size={8}
              {...reads(backPeriod(repeats.value.due))}
            />
            <Field
              {...textOf(repeats, 'earliest')}
              label="Not before"
              size={8}
              optional
              {...reads(backPeriod(repeats.value.earliest))}
            />
            <Field
              {...textOf(repeats, 'latest')}
              label="Not after"
              size={8}
              optional
              {...reads(backPeriod(repeats.value.latest))}
            />
            {repeats.value.latest === '' && repeats.value.whenLate === '' ? null : (
              <Field
                {...textOf(repeats, 'whenLate')}
                label="When it is later than that"
                hint="In the words of the label, as in “start again”."
                optional
              />
            )}
          </>
        )}
        {isVaccine || value.protects !== '' ? (
          <Field
            {...textOf(line, 'protects')}
            label="It protects for"
            hint="From the last of these doses on, as in 365 d."
            size={8}
            optional
            {...reads(backPeriod(value.protects))}
          />
        ) : null}
        {others.length === 0 ? null : (
          <Select
            {...textOf(line, 'followedBy')}
            label="Then go on with"
            options={[
              { value: '', label: 'Nothing' },
              ...others.map((other) => ({
                value: other.id,
                label: nameOfLine(other, draft.doseLines.indexOf(other)),
              })),
            ]}
          />
        )}
      </More>
    </>
  );
}
