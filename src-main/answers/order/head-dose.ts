import { doseForLine } from '../../../src-shared/dose/dose.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { baseOf } from '../../../src-shared/quantity/amount.ts';
import { attempt } from '../../../src-shared/refusal.ts';
import type { DoseCount } from '../../../src-shared/stock/fillings.ts';
import type { Day } from '../../../src-shared/time/day.ts';
import { type SubjectRow, weightOf } from '../reading/subjects.ts';
import { ageOn, lineFor } from '../treat/core.ts';

/**
 * What the label gives each of these on a day, by the weights the book has now: an estimate for the stock, and no plan
 * to dose by. Whoever has no dose by it is counted, with what was in the way of the first.
 */
export function dosesOf(
  terms: LabelTerms,
  doseLine: string | undefined,
  rows: readonly SubjectRow[],
  on: Day,
): { doses: DoseCount[]; unknown?: { heads: number; why: string } } {
  const sizes = new Map<number, number>();
  let heads = 0;
  let why = '';
  for (const row of rows) {
    const found = attempt(() => {
      const line = lineFor(terms, doseLine, row.class);
      const given = { weight: weightOf(row), class: row.class, ageDays: ageOn(row.born, on) };
      return baseOf(doseForLine(terms, line.id, given).draw);
    });
    if (found.ok) {
      sizes.set(found.value, (sizes.get(found.value) ?? 0) + row.heads);
      continue;
    }
    heads += row.heads;
    if (why === '') why = `have no dose by the label yet. ${found.error.message}`;
  }
  const doses = [...sizes].map(([units, many]) => ({ units, heads: many }));
  return heads === 0 ? { doses } : { doses, unknown: { heads, why } };
}
