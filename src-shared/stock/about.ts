import { type Amount, amountOf, baseOf, printAmount } from '../quantity/amount.ts';
import { fraction, roundTo } from '../quantity/fraction.ts';

/**
 * An amount that is foreseen, as it is said: to 0.1 mL, g or mg, and to 0.01 below one of them. It was worked out exact
 * and is reckoned with so; a thousandth of a millilitre in half a year would only look exact. What is above nothing is
 * never said as nothing.
 */
export function printAbout(amount: Amount, piece?: string): string {
  const base = baseOf(amount);
  const step = stepOf(amount.kind, Math.abs(base));
  const rounded = Number(roundTo(fraction(base), fraction(step), 'nearest').n);
  return printAmount(
    amountOf(amount.kind, rounded === 0 && base !== 0 ? Math.sign(base) * step : rounded),
    piece,
  );
}

function stepOf(kind: Amount['kind'], size: number): number {
  if (kind === 'pieces') return 1;
  if (kind === 'volume') return size >= 1000 ? 100 : 10;
  if (size >= 1_000_000) return 100_000;
  return size >= 1000 ? 100 : 10;
}
