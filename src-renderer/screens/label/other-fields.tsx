import { Field, Select, Tick } from '../../parts/field.tsx';
import { Section } from '../../parts/screen.tsx';
import { isBlank, type LabelDraft } from './draft.ts';
import { blankOther, type OtherDraft } from './draft-others.ts';
import { reads } from './medicine-fields.tsx';
import { backPeriod } from './reading.ts';
import { More, RowFields } from './rows.tsx';
import { type At, rowsOf, textOf } from './use-label.ts';
import { produceOptions, saysOptions } from './words.ts';

const OF = produceOptions.filter(({ value }) => ['meat', 'milk'].includes(value));
const SAYS = saysOptions.filter(({ value }) => !['for-life', 'not-stated'].includes(value));

/** What the insert prints for other animals: the law goes by it when it is given outside its label. */
export function OtherFields({ at }: { at: At<LabelDraft> }) {
  const { others } = at.value;
  const rows = rowsOf('others', others, at.error, (next) => at.set({ others: next }));
  return (
    <Section title="Other animals">
      <More summary="What the insert prints for other animals" isUsed={others.length > 0}>
        <p className="label-none">
          Outside its label the least period goes by the longest that is printed, of any animal. Without rows
          here only those for sheep are known.
        </p>
        <RowFields
          rows={rows}
          first="animal"
          isBlank={(row) => isBlank(row, ['produce', 'otherFamily'])}
          add={others.length === 0 ? 'Add a row for other animals' : 'Add another row for other animals'}
          make={() => blankOther}
          out={() => 'Take out this row'}
        >
          {(row) => <OtherRow row={row} />}
        </RowFields>
      </More>
    </Section>
  );
}

function OtherRow({ row }: { row: At<OtherDraft> }) {
  const { value, path } = row;
  return (
    <>
      <Field {...textOf(row, 'animal')} label="Animals" hint="As in cattle." size={14} />
      <Tick
        name={`${path}.otherFamily`}
        value={value.otherFamily}
        error={row.error(`${path}.otherFamily`)}
        onChange={(otherFamily) => row.set({ otherFamily })}
        label="Of another family than sheep, goats and cattle, such as pigs or poultry"
      />
      <Select {...textOf(row, 'produce')} label="Of" options={OF} />
      <Select {...textOf(row, 'says')} label="The label says" options={SAYS} />
      {value.says === 'value' ? (
        <Field
          {...textOf(row, 'value')}
          label="Period"
          hint="28 d, 72 h. Days and hours are not the same."
          size={12}
          {...reads(backPeriod(value.value))}
        />
      ) : null}
    </>
  );
}
