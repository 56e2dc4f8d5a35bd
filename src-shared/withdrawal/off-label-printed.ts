import type { LabelTerms } from '../label/terms.ts';
import { hoursIn, type Period, parsePeriod } from '../quantity/period.ts';
import type { Market } from './decision.ts';
import type { OffLabelAsk } from './off-label.ts';
import type { LawProduce } from './off-label-laws.ts';

/** What the laws about treatments outside the label go by, read off a label as it was typed. */
export type Printed = Pick<OffLabelAsk, 'species' | 'longest' | 'notAuthorised' | 'otherFamily'>;

/**
 * What a label prints for one produce. Rows without a species are the label's rows for sheep, of whatever class,
 * route or dose; for export those of the home market count too. `others` are its rows for other animals. A label
 * on which no period is found is taken as not authorised for that produce: what was not typed is never zero.
 * Refuses what the reader of periods refuses.
 */
export function printedOn(
  terms: Pick<LabelTerms, 'periods' | 'others'>,
  produce: LawProduce,
  market: Market,
): Printed {
  const rows = terms.periods.filter(
    (row) => row.produce === produce && (row.market === 'domestic' || row.market === market),
  );
  const sheep = longestOfAll(
    rows.flatMap((row) => [
      ...periodsIn(row.says, row.value, 'periods'),
      ...(row.countedFrom === 'later-of-two' ? periodsIn(row.says, row.valueFromDose, 'periods') : []),
    ]),
  );
  const others = (terms.others ?? []).filter((row) => row.produce === produce);
  const longest = longestOfAll([
    ...(sheep === undefined ? [] : [sheep]),
    ...others.flatMap((row) => periodsIn(row.says, row.value, 'others')),
  ]);
  if (longest === undefined) return { notAuthorised: true };
  const withPeriod = others.filter((row) => row.says !== 'not-for-this-produce');
  return {
    longest,
    otherFamily: sheep === undefined && withPeriod.length > 0 && withPeriod.every((row) => row.otherFamily),
    ...(sheep === undefined ? {} : { species: sheep }),
  };
}

/** True where a label prints rows for other animals, and none for sheep with a word on any produce. */
export function isNotForSheep(terms: Pick<LabelTerms, 'periods' | 'others'>): boolean {
  return (terms.others ?? []).length > 0 && terms.periods.every(({ says }) => says === 'not-stated');
}

function periodsIn(says: string, value: string | undefined, field: string): Period[] {
  if (says === 'zero') return [{ value: 0, unit: 'd' }];
  return says === 'value' && value !== undefined ? [parsePeriod(value, field)] : [];
}

function longestOfAll(periods: readonly Period[]): Period | undefined {
  return periods.reduce<Period | undefined>(
    (long, next) => (long === undefined || hoursIn(next) > hoursIn(long) ? next : long),
    undefined,
  );
}
