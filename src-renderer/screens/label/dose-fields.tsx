import { Choice, Field, Select, Ticks } from '../../parts/field.tsx';
import { Section } from '../../parts/screen.tsx';
import { BandFields } from './band-fields.tsx';
import { blankLine, freeId, type LabelDraft, type LineDraft, nameOfLine, putLines } from './draft.ts';
import { LimitFields } from './limit-fields.tsx';
import { reads } from './medicine-fields.tsx';
import { backRate, pieceOf, sampleDoses } from './reading.ts';
import { More, RowFields } from './rows.tsx';
import { type At, listOf, partOf, rowsOf, textOf } from './use-label.ts';
import { classOptions, routeOptions } from './words.ts';

/** The dose lines of the insert, each with what it gives three sheep. */
export function DoseFields({ at }: { at: At<LabelDraft> }) {
  const draft = at.value;
  const rows = rowsOf('doseLines', draft.doseLines, at.error, (lines) => at.set(putLines(draft, lines)));
  const many = draft.doseLines.length > 1;
  return (
    <Section title="Dose">
      <RowFields
        rows={rows}
        {...(many ? { title: (n: number) => nameOfLine(draft.doseLines[n], n) } : {})}
        first="route"
        isBlank={(line) => JSON.stringify(line) === JSON.stringify(blankLine(line.id))}
        least={1}
        add="Add another dose: for other sheep, another route or another purpose"
        make={() => blankLine(freeId('d', draft.doseLines))}
        out={(n) => `Take out ${nameOfLine(draft.doseLines[n], n).toLowerCase()}`}
      >
        {(line, n) => <LineFields line={line} n={n} draft={draft} />}
      </RowFields>
    </Section>
  );
}

function LineFields({ line, n, draft }: { line: At<LineDraft>; n: number; draft: LabelDraft }) {
  const { value } = line;
  const many = draft.doseLines.length > 1;
  return (
    <>
      {many ? (
        <Field
          {...textOf(line, 'title')}
          label="What this dose is called"
          hint="As in “Lambs” or “Against fluke”."
          optional
        />
      ) : null}
      <Select {...textOf(line, 'route')} label="How it is given" options={routeOptions} />
      <More summary="Only for some sheep" isUsed={value.classes.length > 0}>
        <Ticks
          {...listOf(line, 'classes')}
          label="For which sheep"
          hint="None ticked: for any sheep."
          options={classOptions}
        />
      </More>
      <Choice
        {...textOf(partOf(line, 'rate'), 'style')}
        label="How the dose is printed"
        options={[
          {
            value: 'rate',
            label: 'By weight or by the head',
            hint: '0.2 mg/kg, 1 mL per 50 kg, 2 mL per head',
          },
          { value: 'bands', label: 'As a table of weights', hint: 'up to 20 kg: 2 mL; up to 40 kg: 4 mL' },
        ]}
      />
      {value.rate.style === 'bands' ? (
        <BandFields line={line} draft={draft} />
      ) : (
        <RateFields line={line} draft={draft} />
      )}
      <Samples draft={draft} n={n} />
      <LimitFields line={line} draft={draft} />
    </>
  );
}

function RateFields({ line, draft }: { line: At<LineDraft>; draft: LabelDraft }) {
  const rate = partOf(line, 'rate');
  const more = pieceOf(draft);
  const { text, perVolume } = rate.value;
  const actives = draft.actives.filter((active) => active.substance !== '');
  const countsSubstance = /\d\s*(?:µg|μg|mcg|mg|g|iu|units)\b/i.test(text);
  // An insert that prints the volume first may print the substance beside it.
  const isPrintedTwice = countsSubstance || (text !== '' && draft.actives.some((one) => one.strength !== ''));
  return (
    <>
      <Field
        {...textOf(rate, 'text')}
        label="Dose"
        hint="0.2 mg/kg, 1 mL per 50 kg, 3000 IU/lb, 2 mL per head"
        size={20}
        {...reads(backRate(text, more))}
      />
      {actives.length > 1 && countsSubstance ? (
        <Select
          {...textOf(rate, 'of')}
          label="This is the dose of"
          options={draft.actives.map((active, i) => ({ value: String(i), label: active.substance || '…' }))}
        />
      ) : null}
      {(isPrintedTwice && draft.kind !== '') || perVolume !== '' ? (
        <Field
          {...textOf(rate, 'perVolume')}
          label="Printed also as"
          hint="Where the insert gives it both ways, as in 1 mL per 50 kg beside 0.2 mg/kg. The two must agree."
          size={20}
          optional
          {...reads(backRate(perVolume, more))}
        />
      ) : null}
    </>
  );
}

function Samples({ draft, n }: { draft: LabelDraft; n: number }) {
  const samples = sampleDoses(draft, n);
  if (samples.length === 0) return null;
  return (
    <div className="label-samples" role="status">
      <p className="field-label">It gives</p>
      <dl>
        {samples.map((sample) => (
          <div key={sample.weight}>
            <dt>{sample.weight}</dt>
            <dd className={sample.isDose ? 'label-dose' : 'label-no-dose'}>
              {sample.isDose ? sample.text : `No dose. ${sample.text.replace(/^Weight: t/, 'T')}`}
            </dd>
          </div>
        ))}
      </dl>
    </div>
  );
}
