import type { AmountKind } from '../quantity/amount.ts';
import {
  ceilingOf,
  compare,
  divide,
  type Fraction,
  fraction,
  multiply,
  toDecimal,
} from '../quantity/fraction.ts';
import { kilograms, type Weight } from '../quantity/weight.ts';
import type { Step } from '../working.ts';
import type { Block } from './draft-split.ts';

/** All animals of one weight. */
export type Distinct = {
  readonly weight: Weight;
  readonly kg: Fraction;
  /** The exact dose in mL, mg or pieces. */
  readonly exact: Fraction;
  readonly heads: number;
  readonly ids: readonly string[];
  readonly working: readonly Step[];
};

/** A drafting gate shows whole or half kilograms when nothing else is said (practice). */
const WHOLE_AND_HALF: readonly Fraction[] = [fraction(1), fraction(1n, 2n)];

/** The steps of round weights that are tried, in kilograms, roundest first. */
export function gateSteps(gate: Weight | undefined): readonly Fraction[] {
  return gate === undefined ? WHOLE_AND_HALF : [kilograms(gate)];
}

/**
 * The weight a gate is set to between two parts: animals up to and including it go with the lighter part. It is the
 * lowest round weight not below the heaviest of the lighter part, because an animal heavier than that one would get
 * too little there. Undefined when no round weight lies between.
 */
export function gateBetween(
  below: Fraction,
  above: Fraction,
  steps: readonly Fraction[],
): Weight | undefined {
  for (const step of steps) {
    const gate = multiply(fraction(ceilingOf(divide(below, step))), step);
    if (compare(gate, above) < 0) return { value: toDecimal(gate), unit: 'kg' };
  }
  return undefined;
}

/** Weights that a gate cannot tell apart are put together, so that no cut falls between them. Without a gate each stands alone. */
export function together(distinct: readonly Distinct[], gate: Weight | undefined): Distinct[][] {
  const runs: Distinct[][] = [];
  for (const one of distinct) {
    const run = runs.at(-1);
    const before = run?.at(-1);
    const apart =
      gate === undefined ||
      before === undefined ||
      gateBetween(before.kg, one.kg, [kilograms(gate)]) !== undefined;
    if (run === undefined || apart) runs.push([one]);
    else run.push(one);
  }
  return runs;
}

/** What the splitting needs to know of animals that stay together. */
export function blockOf(
  run: readonly Distinct[],
  dose: (exact: Fraction) => number,
  kind: AmountKind,
): { block: Block; run: readonly Distinct[] } {
  const [lightest, heaviest] = [run[0], run.at(-1)];
  if (lightest === undefined || heaviest === undefined) throw new RangeError('Nothing stands together.');
  const exact = kind === 'pieces' ? lightest.exact : multiply(lightest.exact, fraction(1000));
  const heads = run.reduce((sum, one) => sum + one.heads, 0);
  return { block: { heads, exact, dose: dose(heaviest.exact) }, run };
}
