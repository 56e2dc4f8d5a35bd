/** Bars of what was used: the same on the screen and on paper. Floats, because they are only drawn. */

/** Figures as they are printed; absent where the weight they would be divided by is not known. */
export type Quotients = { readonly mgPerKg?: string | undefined; readonly mgPerPcu?: string | undefined };

/**
 * How long the bars of some years are, as a share (0 to 1) of the longest year, and which figure they show: the farm's
 * own where it is known for every year, else the one by standard weights.
 */
export function useBars(totals: readonly Quotients[]): {
  figure: keyof Quotients;
  says: string;
  share: (one: Quotients) => number;
} {
  const figure = totals.every(({ mgPerKg }) => mgPerKg !== undefined) ? 'mgPerKg' : 'mgPerPcu';
  const of = (one: Quotients) => Number(one[figure] ?? 0);
  const longest = Math.max(0, ...totals.map(of));
  return {
    figure,
    says: `The bars show ${figure === 'mgPerKg' ? 'mg for each kg of the farm’s own weights' : 'mg/PCU'}: a filled one for the year, open ones for its groups.`,
    share: (one) => (longest > 0 ? Math.min(1, of(one) / longest) : 0),
  };
}
