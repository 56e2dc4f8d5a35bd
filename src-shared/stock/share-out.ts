import { add, compare, type Fraction, floorOf, fraction, subtract, ZERO } from '../quantity/fraction.ts';

/**
 * Exact parts as whole units whose sum is the rounded sum of the parts: each is rounded down, and the units left over
 * go to the parts that lost most by it, the earlier of two alike. A tie of the sum goes up. No part is moved by a whole
 * unit or more. Parts are 0 or above.
 */
export function shareOut(parts: readonly Fraction[]): number[] {
  const sum = parts.reduce(add, ZERO);
  const whole = floorOf(add(sum, fraction(1, 2n)));
  const floors = parts.map(floorOf);
  let left = whole - floors.reduce((all, one) => all + one, 0n);
  const order = parts
    .map((part, i) => ({ i, lost: subtract(part, fraction(floors[i] ?? 0n)) }))
    .toSorted((a, b) => compare(b.lost, a.lost) || a.i - b.i);
  const units = floors.map(Number);
  for (const { i } of order) {
    if (left <= 0n) break;
    units[i] = (units[i] ?? 0) + 1;
    left -= 1n;
  }
  return units;
}
