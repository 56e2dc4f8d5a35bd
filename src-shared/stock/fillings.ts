/** Doses of one size: how many, and how large, in base units. */
export type DoseCount = { readonly units: number; readonly heads: number };

/**
 * How often a syringe is filled from empty for these doses: as many whole doses go into it as it holds, and a dose
 * that is larger than it holds takes several fillings. Where its size is not known each dose is a filling of its own,
 * which counts the losses rather too high.
 * @param capacity what it holds, in the same unit, above nought
 */
export function fillings(doses: readonly DoseCount[], capacity: number | undefined): number {
  let fills = 0n;
  for (const { units, heads } of doses) {
    if (units <= 0) continue;
    const [dose, many] = [BigInt(units), BigInt(heads)];
    if (capacity === undefined) {
      fills += many;
      continue;
    }
    const holds = BigInt(capacity);
    fills += dose > holds ? many * over(dose, holds) : over(many, holds / dose);
  }
  return Number(fills);
}

/** How often the second goes into the first, begun ones counted whole. */
const over = (all: bigint, each: bigint): bigint => (all + each - 1n) / each;
