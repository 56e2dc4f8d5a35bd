import { Field, Select, Tick, Ticks } from '../../parts/field.tsx';
import { Section } from '../../parts/screen.tsx';
import {
  blankPeriod,
  blankRule,
  freeId,
  isBlank,
  type LabelDraft,
  nameOfLine,
  type PeriodDraft,
  type RuleDraft,
} from './draft.ts';
import { reads } from './medicine-fields.tsx';
import { ruleNeeds } from './problems.ts';
import { backPeriod, backWeight } from './reading.ts';
import { More, RowFields } from './rows.tsx';
import { SucklingFields } from './suckling-fields.tsx';
import { type At, listOf, rowsOf, textOf } from './use-label.ts';
import {
  anchorOptions,
  classOptions,
  produceOptions,
  routeTicks,
  ruleOptions,
  saysOptions,
} from './words.ts';

/** How long animals are held, row by row as the insert has it. Not stated and zero are two different answers. */
export function PeriodFields({ at }: { at: At<LabelDraft> }) {
  const draft = at.value;
  const rows = rowsOf('periods', draft.periods, at.error, (periods) => at.set({ periods }));
  const titleOf = (n: number) =>
    produceOptions.find((option) => option.value === draft.periods[n]?.produce)?.label ?? '';
  return (
    <Section title="Held for">
      <RowFields
        rows={rows}
        title={titleOf}
        first="produce"
        isBlank={(row) => row.says === ''}
        add="Add another row: for other sheep, another route or other produce"
        make={() => blankPeriod('meat')}
        out={(n) => `Take out this row of ${titleOf(n).toLowerCase()}`}
      >
        {(row, n) => <PeriodRow row={row} draft={draft} isAdded={n > 1} />}
      </RowFields>
      <SucklingFields at={at} />
    </Section>
  );
}

function PeriodRow({ row, draft, isAdded }: { row: At<PeriodDraft>; draft: LabelDraft; isAdded: boolean }) {
  const { value } = row;
  const isScoped = value.classes.length + value.routes.length + value.doseLines.length > 0;
  // Also with one dose left, what was chosen for several is to be seen.
  const many = draft.doseLines.length > 1 || value.routes.length + value.doseLines.length > 0;
  return (
    <>
      {isAdded || (value.produce !== 'meat' && value.produce !== 'milk') ? (
        <Select {...textOf(row, 'produce')} label="Of" options={produceOptions} />
      ) : null}
      <Select {...textOf(row, 'says')} label="The label says" options={saysOptions} />
      {value.says === 'value' ? (
        <>
          <Field
            {...textOf(row, 'value')}
            label="Period"
            hint="28 d, 72 h, 35 d + 36 h. Days and hours are not the same."
            size={12}
            {...reads(backPeriod(value.value))}
          />
          <Select {...textOf(row, 'countedFrom')} label="Counted from" options={anchorOptions} />
          {value.countedFrom === 'later-of-two' ? (
            <Field
              {...textOf(row, 'valueFromDose')}
              label="From the last dose"
              hint="The period above counts from lambing, this one from the last dose."
              size={12}
              {...reads(backPeriod(value.valueFromDose))}
            />
          ) : null}
        </>
      ) : null}
      <More summary="Only for some sheep, routes or markets" isUsed={isScoped || value.market === 'export'}>
        <Ticks
          {...listOf(row, 'classes')}
          label="Only for"
          hint="None ticked: for any sheep."
          options={classOptions}
        />
        {many ? (
          <>
            <Ticks
              {...listOf(row, 'routes')}
              label="Only when given"
              hint="None ticked: by any route."
              options={routeTicks.filter((route) =>
                [...value.routes, ...draft.doseLines.map((line) => line.route)].includes(route.value),
              )}
            />
            <Ticks
              {...listOf(row, 'doseLines')}
              label="Only for the dose"
              hint="None ticked: for any of them."
              options={draft.doseLines.map((line, n) => ({ value: line.id, label: nameOfLine(line, n) }))}
            />
          </>
        ) : null}
        <Tick
          name={`${row.path}.market`}
          value={value.market === 'export'}
          error={row.error(`${row.path}.market`)}
          onChange={(isExport) => row.set({ market: isExport ? 'export' : 'domestic' })}
          label="Only for export"
        />
      </More>
    </>
  );
}

/** When the label says that it must not be given. */
export function RuleFields({ at }: { at: At<LabelDraft> }) {
  const { notIf } = at.value;
  const rows = rowsOf('notIf', notIf, at.error, (rules) => at.set({ notIf: rules }));
  return (
    <Section title="Not if">
      {notIf.length === 0 ? <p className="label-none">No rule is written down.</p> : null}
      <RowFields
        rows={rows}
        first="code"
        isBlank={(row) => isBlank(row, ['id'])}
        add={notIf.length === 0 ? 'Add a rule: when it must not be given' : 'Add another rule'}
        make={() => blankRule(freeId('n', notIf))}
        out={() => 'Take out this rule'}
      >
        {(rule) => <RuleRow rule={rule} />}
      </RowFields>
    </Section>
  );
}

function RuleRow({ rule }: { rule: At<RuleDraft> }) {
  const { value } = rule;
  const needs = ruleNeeds(value.code);
  return (
    <>
      <Select {...textOf(rule, 'code')} label="Not if" options={ruleOptions} />
      {needs === 'period' ? (
        <Field
          {...textOf(rule, 'value')}
          label="So long"
          hint="As in 21 d."
          size={10}
          {...reads(backPeriod(value.value))}
        />
      ) : null}
      {needs === 'weight' ? (
        <Field
          {...textOf(rule, 'value')}
          label="Weight"
          hint="As in 15 kg."
          size={10}
          {...reads(backWeight(value.value))}
        />
      ) : null}
      {needs === 'class' ? (
        <Select
          {...textOf(rule, 'value')}
          label="Which"
          options={[{ value: '', label: 'Choose' }, ...classOptions]}
        />
      ) : null}
      {needs === 'text' ? (
        <Field
          {...textOf(rule, 'value')}
          label={value.code === 'not-with' ? 'With what' : 'Condition score'}
          size={20}
        />
      ) : null}
      {needs === 'two-periods' ? (
        <>
          <Field
            {...textOf(rule, 'from')}
            label="From, after the ram went in"
            size={10}
            {...reads(backPeriod(value.from))}
          />
          <Field
            {...textOf(rule, 'to')}
            label="To, after he came out"
            size={10}
            {...reads(backPeriod(value.to))}
          />
        </>
      ) : null}
      {value.code === '' ? null : (
        <Field {...textOf(rule, 'says')} label="In the words of the label" optional />
      )}
    </>
  );
}
