import { syringeError } from '../dose/syringes.ts';
import { DEAD_SPACE } from '../needle/hubs.ts';
import { type Amount, amountOf, baseOf, printAmount } from '../quantity/amount.ts';
import { ceilingOf, type Fraction, fraction, multiply, toPlaces } from '../quantity/fraction.ts';
import { Refusal } from '../refusal.ts';
import type { Step, Warning } from '../working.ts';
import type { PlannedWastage } from './wastage.ts';

/**
 * What a plan needs on top of its doses: what stays in syringe, hub and needle, what primes a gun, what is spilt.
 * Either each by itself or, once the farm's own figures are known, all of it by them; never both.
 */
export type LossAsk = {
  /** All doses together. */
  readonly need: Amount;
  /** Drawn with syringes: how many fillings of an empty syringe, and what it holds where that is known. */
  readonly syringe?: { readonly fills: number; readonly capacity?: Amount | undefined } | undefined;
  /** Given by gun: how often it is primed, and what one priming takes as measured; absent when not measured. */
  readonly gun?: { readonly primings: number; readonly each?: Amount | undefined } | undefined;
  readonly wastage: PlannedWastage;
};
export type LossCause = 'dead-space' | 'priming' | 'spill' | 'own';
export type PlannedLosses = {
  readonly losses: readonly { readonly cause: LossCause; readonly amount: Amount }[];
  readonly total: Amount;
  /** Doses and losses: what has to be there. */
  readonly withLosses: Amount;
  /** What could not be counted; then `withLosses` is too little, and is not to be called enough. */
  readonly unknown: readonly LossCause[];
  readonly working: readonly Step[];
  readonly warnings: readonly Warning[];
};

/**
 * The losses of a plan, each rounded up to a whole microlitre, microgram or piece. Refuses `units-do-not-match` where
 * syringe or gun are to give what is not measured in mL, `bad-count`, `bad-amount`, and `all-lost` where the farm's
 * own figures lost everything.
 */
export function plannedLosses(ask: LossAsk): PlannedLosses {
  const { need, syringe, gun, wastage } = ask;
  if (baseOf(need) < 0) throw refuse('bad-amount', 'need', 'Need: it cannot be below zero.');
  const losses: { cause: LossCause; amount: Amount }[] = [];
  const unknown: LossCause[] = [];
  const warnings: Warning[] = [];
  const working: Step[] = [...wastage.working];
  const lose = (cause: LossCause, base: number) => losses.push({ cause, amount: amountOf(need.kind, base) });
  if (wastage.from === 'own') {
    lose('own', ownLoss(need, wastage, working));
  } else {
    if (syringe !== undefined) lose('dead-space', deadSpace(need, syringe, working));
    if (gun !== undefined) {
      const priming = primed(need, gun, working);
      if (priming === undefined) {
        unknown.push('priming');
        warnings.push({ code: 'priming-not-measured', text: NOT_MEASURED });
      } else lose('priming', priming);
    }
    lose('spill', spilt(need, wastage.ratePercent, working));
  }
  const total = losses.reduce((sum, { amount }) => sum + baseOf(amount), 0);
  const withLosses = amountOf(need.kind, baseOf(need) + total);
  const sum = [need, ...losses.map(({ amount }) => amount)].map((amount) => printAmount(amount)).join(' + ');
  working.push({ code: 'loss-total', values: { sum, total: printAmount(withLosses) } });
  return { losses, total: amountOf(need.kind, total), withLosses, unknown, working, warnings };
}

const NOT_MEASURED =
  'What priming takes is not measured, and is not counted: measure it, since a draw-off tube of 5 mm by 1.2 m alone holds 23.6 mL.';

function refuse(code: string, field: string, message: string, next?: string): Refusal {
  return new Refusal(code, message, { field, next });
}

function wholeCount(count: number, field: string, name: string): void {
  if (Number.isSafeInteger(count) && count >= 0) return;
  throw refuse('bad-count', field, `${name}: give a whole number, nought or above.`);
}

function inMl(amount: Amount, field: string, name: string): void {
  if (amount.kind === 'volume') return;
  throw refuse('units-do-not-match', field, `${name}: what a syringe or gun gives is measured in mL.`);
}

/** The most that was measured, or the most the standard lets a syringe of this size keep, whichever is more. */
function deadSpace(
  need: Amount,
  { fills, capacity }: NonNullable<LossAsk['syringe']>,
  working: Step[],
): number {
  inMl(need, 'need', 'Need');
  wholeCount(fills, 'syringe.fills', 'Fillings');
  const measured = DEAD_SPACE.syringeAndHub.most;
  // By the standard it depends on the size alone; full is a filling that every syringe holds.
  const standard =
    capacity === undefined ? measured : up(multiply(syringeError(capacity, capacity).deadSpaceMl, THOUSAND));
  const each = Math.max(measured, standard);
  const total = fills * each;
  working.push({
    code: 'loss-dead-space',
    values: { fills: String(fills), each: say(each), total: say(total) },
    source:
      each === measured
        ? 'Measured, published: 66 to 68 µL with the hub'
        : 'ISO 7886-1 (second-hand up to 10 mL)',
  });
  return total;
}

const THOUSAND = fraction(1000);
const up = (value: Fraction) => Number(ceilingOf(value));
const say = (microlitres: number) => printAmount(amountOf('volume', microlitres));

function primed(
  need: Amount,
  { primings, each }: NonNullable<LossAsk['gun']>,
  working: Step[],
): number | undefined {
  inMl(need, 'need', 'Need');
  wholeCount(primings, 'gun.primings', 'Primings');
  if (primings === 0) return 0;
  if (each === undefined) return undefined;
  inMl(each, 'gun.each', 'Priming');
  if (baseOf(each) < 0) throw refuse('bad-amount', 'gun.each', 'Priming: it cannot be below zero.');
  const total = primings * baseOf(each);
  const values = { primings: String(primings), each: printAmount(each), total: say(total) };
  working.push({ code: 'loss-priming', values });
  return total;
}

function spilt(need: Amount, percent: Fraction, working: Step[]): number {
  const total = up(multiply(fraction(baseOf(need)), multiply(percent, fraction(1n, 100n))));
  const values = {
    percent: toPlaces(percent, 1),
    need: printAmount(need),
    total: printAmount(amountOf(need.kind, total)),
  };
  working.push({ code: 'loss-spill', values, source: 'Practice' });
  return total;
}

function ownLoss(need: Amount, { factor }: PlannedWastage, working: Step[]): number {
  if (factor === undefined) {
    throw refuse(
      'all-lost',
      'wastage',
      'Wastage: everything that was opened so far was lost, so no amount can be said to be enough.',
      'Find out why before ordering more.',
    );
  }
  const all = up(multiply(fraction(baseOf(need)), factor));
  working.push({
    code: 'loss-own',
    values: {
      need: printAmount(need),
      factor: toPlaces(factor, 2),
      total: printAmount(amountOf(need.kind, all)),
    },
  });
  return all - baseOf(need);
}
