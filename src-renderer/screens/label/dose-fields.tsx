import { Choice, Field, Select, Ticks } from '../../parts/field.tsx';
import { Section } from '../../parts/screen.tsx';
import {
  blankBand,
  blankLine,
  freeId,
  isBlank,
  isInjected,
  type LabelDraft,
  type LineDraft,
} from './draft.ts';
import { reads } from './medicine-fields.tsx';
import { backAmount, backPeriod, backRate, backWeight, pieceOf, sampleDoses } from './reading.ts';
import { More, RowFields } from './rows.tsx';
import { type At, listOf, partOf, rowsOf, textOf } from './use-label.ts';
import { classOptions, roundingOptions, routeOptions } from './words.ts';

/** The dose lines of the insert, each with what it gives three sheep. */
export function DoseFields({ at }: { at: At<LabelDraft> }) {
  const draft = at.value;
  const rows = rowsOf('doseLines', draft.doseLines, at.error, (lines) => at.set({ doseLines: lines }));
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

/** What a dose line is called on the form. */
export function nameOfLine(line: LineDraft | undefined, n: number): string {
  const title = line?.title.trim() ?? '';
  return title === '' ? `Dose ${n + 1}` : title;
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
  const countsSubstance = /\d\s*(?:µg|μg|mcg|mg|g|iu)\b/i.test(text);
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
      {(countsSubstance && draft.kind !== '') || perVolume !== '' ? (
        <Field
          {...textOf(rate, 'perVolume')}
          label="Printed also as"
          hint="Where the insert gives it both ways, as in 1 mL per 50 kg. The two must agree."
          size={20}
          optional
          {...reads(backRate(perVolume, more))}
        />
      ) : null}
    </>
  );
}

function BandFields({ line, draft }: { line: At<LineDraft>; draft: LabelDraft }) {
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
              {sample.isDose ? sample.text : `No dose. ${sample.text}`}
            </dd>
          </div>
        ))}
      </dl>
    </div>
  );
}

function LimitFields({ line, draft }: { line: At<LineDraft>; draft: LabelDraft }) {
  const { value } = line;
  const more = pieceOf(draft);
  const repeats = partOf(line, 'repeats');
  const others = draft.doseLines.filter((other) => other.id !== value.id);
  const isUsed =
    [value.against, value.leastWeight, value.mostWeight, value.leastAge, value.mostAge].some(
      (t) => t !== '',
    ) ||
    [value.mostDose, value.rounding, value.followedBy].some((t) => t !== '') ||
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
          </>
        )}
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
