import { Field } from '../../parts/field.tsx';
import { blankBand, isBlank, type LabelDraft, type LineDraft } from './draft.ts';
import { reads } from './medicine-fields.tsx';
import { backAmount, backWeight, pieceOf } from './reading.ts';
import { RowFields } from './rows.tsx';
import { type At, partOf, rowsOf, textOf } from './use-label.ts';

/** A table of weights with the dose of each, where it begins, and what comes above it. */
export function BandFields({ line, draft }: { line: At<LineDraft>; draft: LabelDraft }) {
  const rate = partOf(line, 'rate');
  const step = partOf(rate, 'furtherStep');
  const more = pieceOf(draft);
  const rows = rowsOf(`${rate.path}.bands`, rate.value.bands, rate.error, (bands) => rate.set({ bands }));
  return (
    <>
      <Field
        {...textOf(rate, 'from')}
        label="From"
        hint="Below this weight there is no dose."
        size={8}
        optional
        {...reads(backWeight(rate.value.from))}
      />
      <RowFields
        rows={rows}
        first="upTo"
        isBlank={(row) => isBlank(row)}
        least={1}
        add="Add another weight"
        make={() => blankBand}
        out={(n) => `Take out ${rate.value.bands[n]?.upTo || 'this weight'}`}
      >
        {(band) => (
          <div className="label-band">
            <Field {...textOf(band, 'upTo')} label="Up to" size={8} {...reads(backWeight(band.value.upTo))} />
            <Field
              {...textOf(band, 'dose')}
              label="Dose"
              size={8}
              {...reads(backAmount(band.value.dose, more))}
            />
          </div>
        )}
      </RowFields>
      <Field
        {...textOf(step, 'each')}
        label="Above the last, for each further"
        hint="As in 10 kg. Left empty, there is no dose above the table."
        size={8}
        optional
        {...reads(backWeight(step.value.each))}
      />
      {step.value.each === '' && step.value.dose === '' ? null : (
        <Field
          {...textOf(step, 'dose')}
          label="so much more"
          size={8}
          {...reads(backAmount(step.value.dose, more))}
        />
      )}
    </>
  );
}
