import type { SheepClass } from '../label/terms.ts';
import { type Day, daysBetween } from '../time/day.ts';

/** Days after which a weight is too old to dose by: weigh again first (practice). A lamb gains about a tenth in two weeks. */
export const OLD_WEIGHT_DAYS = { growing: 14, grown: 28 } as const;

const GROWING: readonly string[] = ['lamb', 'ewe-lamb', 'ram-lamb'] satisfies SheepClass[];

/** After how many days a weight of this class is old. */
export function oldAfterDays(cls: string): number {
  return GROWING.includes(cls) ? OLD_WEIGHT_DAYS.growing : OLD_WEIGHT_DAYS.grown;
}

/** How old a weight is in days, when that is past what one doses by; nothing for one whose day is not known. */
export function oldWeightDays(
  cls: string,
  weighedOn: string | null | undefined,
  today: Day,
): number | undefined {
  if (weighedOn === null || weighedOn === undefined) return undefined;
  // The first ten signs of a local time are its day.
  const days = daysBetween(weighedOn.slice(0, 10) as Day, today);
  return days > oldAfterDays(cls) ? days : undefined;
}

/** "Weighed 44 days ago: weigh it again. A weight is dosed by for 28 days (practice)." or nothing. */
export function sayOldWeight(
  cls: string,
  weighedOn: string | null | undefined,
  today: Day,
): string | undefined {
  const days = oldWeightDays(cls, weighedOn, today);
  if (days === undefined) return undefined;
  return `Weighed ${days} days ago: weigh it again. A weight is good to dose by for ${oldAfterDays(cls)} days (practice).`;
}

/** The same for many: "12 head were weighed longer ago than one doses by, up to 44 days: weigh them again." or nothing. */
export function sayOldWeights(
  rows: readonly { class: string; heads: number; weighedOn?: string | null | undefined }[],
  today: Day,
): string | undefined {
  const old = rows.flatMap((row) => {
    const days = oldWeightDays(row.class, row.weighedOn, today);
    return days === undefined ? [] : [{ days, heads: row.heads }];
  });
  const heads = old.reduce((sum, one) => sum + one.heads, 0);
  if (heads === 0) return undefined;
  const oldest = Math.max(...old.map((one) => one.days));
  const { growing, grown } = OLD_WEIGHT_DAYS;
  return `${heads} head ${heads === 1 ? 'was' : 'were'} last weighed up to ${oldest} days ago: weigh again first. A weight is good to dose by for ${growing} days in a lamb, else ${grown} (practice).`;
}
