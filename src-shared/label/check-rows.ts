import { sayField } from '../quantity/field.ts';
import { hoursIn, parsePeriod } from '../quantity/period.ts';
import { parseWeight } from '../quantity/weight.ts';
import { Refusal } from '../refusal.ts';
import { CLASSES, type NotIf, type OtherAnimal, type PeriodRow, type SucklingMeat } from './terms.ts';

/** The rows of a label beside its dose lines: periods and "not if", each held to what its kind needs. */

/** A row names a dose line that the label does not have. */
export function unknownLine(field: string): Refusal {
  return new Refusal(
    'dose-line-unknown',
    'Dose lines: this names a dose line that the label does not have.',
    { field },
  );
}

/** Reads the periods there are and refuses when one is longer than the one after it. */
export function rising(path: string, named: readonly (readonly [string, string | undefined])[]): void {
  let before: { name: string; hours: number } | undefined;
  for (const [name, text] of named) {
    if (text === undefined) continue;
    const now = { name, hours: hoursIn(parsePeriod(text, `${path}.${name}`)) };
    if (before !== undefined && before.hours > now.hours) {
      throw new Refusal(
        'limits-crossed',
        `${sayField(name)}: ${text} is shorter than what stands before it; check the order.`,
        {
          field: `${path}.${name}`,
        },
      );
    }
    before = now;
  }
}

/** Refuses `dose-line-unknown`, `period-value-missing`, `period-value-unwanted`, `bad-period`. `ids` are the dose lines there are. */
export function checkPeriod(row: PeriodRow, path: string, ids: ReadonlySet<string>): void {
  for (const [i, id] of row.doseLines.entries()) {
    if (!ids.has(id)) throw unknownLine(`${path}.doseLines.${i}`);
  }
  const needed = row.says === 'value';
  if (needed !== (row.value !== undefined)) {
    throw new Refusal(
      needed ? 'period-value-missing' : 'period-value-unwanted',
      needed
        ? 'Period: write the days or hours, or choose zero or not stated.'
        : 'Period: a value stands beside a row that says something else; remove one of the two.',
      { field: `${path}.value` },
    );
  }
  if (row.value !== undefined) parsePeriod(row.value, `${path}.value`);
  const two = row.countedFrom === 'later-of-two';
  if (two !== (row.valueFromDose !== undefined)) {
    throw new Refusal(
      two ? 'period-value-missing' : 'period-value-unwanted',
      two
        ? 'Period: the later of two needs the period from the last dose as well.'
        : 'Period: a period from the last dose belongs only to the later of two.',
      { field: `${path}.valueFromDose` },
    );
  }
  if (row.valueFromDose !== undefined) parsePeriod(row.valueFromDose, `${path}.valueFromDose`);
}

/** Refuses `period-value-missing`, `period-value-unwanted`, `bad-period`. */
export function checkOther(row: OtherAnimal, path: string): void {
  const needed = row.says === 'value';
  if (needed !== (row.value !== undefined)) {
    throw new Refusal(
      needed ? 'period-value-missing' : 'period-value-unwanted',
      needed
        ? `Period for ${row.animal}: write the days or hours, or choose zero.`
        : `Period for ${row.animal}: a value stands beside a row that says something else; remove one of the two.`,
      { field: `${path}.value` },
    );
  }
  if (row.value !== undefined) parsePeriod(row.value, `${path}.value`);
}

/** Refuses `period-value-missing`, `period-value-unwanted`, `bad-period`. */
export function checkSuckling({ says, value }: SucklingMeat, path: string): void {
  const needed = says === 'value';
  if (needed !== (value !== undefined)) {
    throw new Refusal(
      needed ? 'period-value-missing' : 'period-value-unwanted',
      needed
        ? 'Sucking lambs: write the days or hours, or choose zero or as the ewe.'
        : 'Sucking lambs: a value stands beside a word that says something else; remove one of the two.',
      { field: `${path}.value` },
    );
  }
  if (value !== undefined) parsePeriod(value, `${path}.value`);
}

const NOT_IF_PERIODS = new Set([
  'younger-than',
  'older-than',
  'before-lambing',
  'shorn-within',
  'same-substance-within',
]);

/** Refuses `bad-not-if`, `bad-period`, `bad-weight`, `limits-crossed`. */
export function checkNotIf(rule: NotIf, path: string): void {
  const need = (text: string | undefined, name: string): string => {
    if (text !== undefined) return text;
    throw new Refusal('bad-not-if', 'Not if: this rule needs a value from the label.', {
      field: `${path}.${name}`,
    });
  };
  if (NOT_IF_PERIODS.has(rule.code)) parsePeriod(need(rule.value, 'value'), `${path}.value`);
  if (rule.code === 'lighter-than' || rule.code === 'heavier-than') {
    parseWeight(need(rule.value, 'value'), `${path}.value`);
  }
  if (rule.code === 'class' && !CLASSES.some((one) => one === need(rule.value, 'value'))) {
    throw new Refusal('bad-not-if', 'Not if: choose which sheep, as in lamb or ewe.', {
      field: `${path}.value`,
    });
  }
  if (rule.code === 'condition-under' && !/^[1-5](?:\.\d{1,2})?$/.test(need(rule.value, 'value').trim())) {
    throw new Refusal('bad-not-if', 'Not if: write the condition score from 1 to 5, as in 2.5.', {
      field: `${path}.value`,
    });
  }
  if (rule.code === 'not-with') need(rule.value, 'value');
  if (rule.code === 'pregnant-from-to') {
    rising(path, [
      ['from', need(rule.from, 'from')],
      ['to', need(rule.to, 'to')],
    ]);
  }
}
