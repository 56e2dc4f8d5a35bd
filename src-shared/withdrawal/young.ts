import type { LabelTerms, PeriodRow } from '../label/terms.ts';
import type { Instant } from '../time/zone.ts';
import type { Step } from '../working.ts';
import { decideHolds, type Given } from './holds.ts';

/**
 * What a farm goes by for lambs at foot of a treated ewe where the label has a word on them: the ewe's own meat period
 * all the same, or the label's word. Either way never earlier than the label's word, and the ewe's where it is silent.
 */
export const AT_FOOT_RULES = ['as-the-ewe', 'as-the-label'] as const;
export type AtFootRule = (typeof AT_FOOT_RULES)[number];

/** What a treatment does to the meat of lambs at foot, beside what it does to that of the ewe. */
export type Young = {
  /** It counts instead of the ewe's own end; else the later of the two does. */
  instead: boolean;
  until: Instant;
  /** As it counts: "7 d"; for the organic clock already doubled. */
  period: string;
  working: Step[];
};

/**
 * What one label says of the meat of sucking lambs, counted from the ewe's last dose; nothing where it says nothing, or
 * that they are held as she is. Refuses what the period and time readers refuse.
 * @param instead whether that counts in the place of the ewe's own period: by the farm's rule, and with no doubt
 * @param rowsOf what stands for the period on a second clock
 */
export function youngByLabel(
  terms: LabelTerms,
  given: Given,
  instead: boolean,
  rowsOf: (row: PeriodRow) => PeriodRow[] = (row) => [row],
): Young | undefined {
  const word = terms.sucklingMeat;
  if (word === undefined || word.says === 'as-the-ewe') return undefined;
  const row: PeriodRow = {
    produce: 'meat',
    market: 'domestic',
    says: word.says,
    ...(word.value === undefined ? {} : { value: word.value }),
    countedFrom: 'last-dose',
    classes: [],
    routes: [],
    doseLines: [],
  };
  const found = decideHolds({ ...terms, periods: rowsOf(row) }, given).find(
    ({ produce, market }) => produce === 'meat' && market === 'domestic',
  );
  if (found?.until === undefined || found.period === undefined) return undefined;
  const working = [{ code: 'suckling-word', values: { period: found.period } }, ...found.working];
  return { instead, until: found.until, period: found.period, working };
}

/**
 * The longest of several labels, or of several medicines that may all have been given. Where one of them has no word of
 * its own the ewe's end counts as well: in doubt the longest.
 */
export function longestYoung(each: readonly (Young | undefined)[]): Young | undefined {
  const said = each.filter((one) => one !== undefined);
  const [first] = said;
  if (first === undefined) return undefined;
  const longest = said.reduce((long, next) => (next.until > long.until ? next : long), first);
  return { ...longest, instead: said.length === each.length && said.every(({ instead }) => instead) };
}
