import type { LabelTerms } from '../label/terms.ts';
import { type AmountKind, amountOf, baseOf, inDoseUnits } from '../quantity/amount.ts';
import {
  add,
  compare,
  divide,
  type Fraction,
  fraction,
  multiply,
  ONE,
  roundTo,
  subtract,
} from '../quantity/fraction.ts';
import type { ParsedRate } from '../quantity/rate.ts';
import type { ParsedStrength } from '../quantity/strength.ts';
import { kilograms, type Weight } from '../quantity/weight.ts';
import { Refusal } from '../refusal.ts';
import type { Step } from '../working.ts';
import type { BandTable } from './bands.ts';
import { blockOf, type Distinct, gateSteps, together } from './draft-gate.ts';
import {
  animalsOf,
  type DosedAnimal,
  type Draft,
  type DraftAnimal,
  type DraftHow,
  type DraftPart,
  type DraftSplit,
  draftWarnings,
  partOf,
} from './draft-parts.ts';
import { capRefusal, overMostRefusal } from './draft-refuse.ts';
import { leastProduct, leastWorst, type Row, rowOf, type Split } from './draft-split.ts';
import { draftSteps } from './draft-working.ts';
import { exactDose, toAmount } from './exact.ts';
import { stepFor } from './marks.ts';

export type { DosedAnimal, Draft, DraftAnimal, DraftHow, DraftPart, DraftSplit } from './draft-parts.ts';

/**
 * A group drafted by weight into parts, each part dosed to its heaviest: first no animal more than the cap over its
 * own dose, then least product, then the least worst overdose for at most 5 % more product (derived; the
 * cap of double the dose from the Welsh meat promotion board).
 */

export const MOST_PARTS = 4;
/** The lightest may get this much over its own dose: double it. */
export const DEFAULT_CAP_PERCENT: Fraction = fraction(100);
const HUNDRED = fraction(100);

export type DraftAsk = DraftHow & {
  readonly weights: readonly DraftAnimal[];
  readonly rate?: ParsedRate | undefined;
  readonly bands?: BandTable | undefined;
  readonly strength?: ParsedStrength | undefined;
  readonly kind?: AmountKind | undefined;
};

/**
 * Why drafting is not offered for a medicine, or undefined when it is. Antibiotics, anti-inflammatories and
 * anaesthetics are dosed animal by animal; where too much does harm nobody is dosed to the heaviest of a part
 * (Australian sheep extension on substances of low margin; anaesthetics: practice).
 */
export function draftingRefused(terms: Pick<LabelTerms, 'purpose' | 'narrowMargin'>): Refusal | undefined {
  const next = 'Weigh and dose each animal by itself.';
  const code = 'drafting-not-offered';
  if (['antibiotic', 'anti-inflammatory', 'anaesthetic'].includes(terms.purpose)) {
    return new Refusal(
      code,
      `An ${terms.purpose} is dosed to each animal's own weight, so a group is not drafted for it.`,
      {
        field: 'purpose',
        next,
      },
    );
  }
  if (!terms.narrowMargin) return undefined;
  return new Refusal(
    code,
    'Too much of this medicine does harm, so no animal is dosed to the heaviest of a group.',
    { field: 'narrowMargin', next },
  );
}

/**
 * Drafts animals by a rate or bands. Refuses what `exactDose` refuses, with the field `weights.N`, and what
 * `draftDoses` refuses.
 */
export function planDraft(ask: DraftAsk): Draft {
  const known = new Map<string, { exact: Fraction; kind: AmountKind; working: Step[] }>();
  let kind: AmountKind | undefined;
  const dosed = ask.weights.map((animal, i): DosedAnimal => {
    const key = `${animal.weight.value} ${animal.weight.unit}`;
    let dose = known.get(key);
    if (dose === undefined) {
      const working: Step[] = [];
      dose = { ...exactOf(ask, animal.weight, i, working), working };
      known.set(key, dose);
    }
    kind = dose.kind;
    return { ...animal, exact: dose.exact, working: dose.working };
  });
  return draftDoses(dosed, kind ?? 'volume', { ...ask, piece: ask.piece ?? ask.rate?.piece });
}

function exactOf(ask: DraftAsk, weight: Weight, i: number, working: Step[]) {
  const { rate, bands, strength, kind, piece } = ask;
  try {
    return exactDose({ weight, rate, bands, strength, kind, piece }, working);
  } catch (thrown) {
    if (!(thrown instanceof Refusal) || thrown.field !== 'weight') throw thrown;
    throw new Refusal(thrown.code, thrown.message, { field: `weights.${i}`, next: thrown.next });
  }
}

/**
 * Drafts animals whose exact doses are known, all by one line of one label: a heavier animal's dose is never less.
 * Refuses `no-weights`, `bad-parts`, `bad-step`, `units-do-not-match`, `dose-too-large`, `over-most`,
 * `marks-too-coarse` and `cap-cannot-hold`, which says how many parts would hold it. Throws RangeError when doses
 * fall as weights rise: a mistake in a program.
 */
export function draftDoses(animals: readonly DosedAnimal[], kind: AmountKind, how: DraftHow): Draft {
  checkHow(animals, kind, how);
  const round = (exact: Fraction) => {
    const step = how.step === undefined ? stepFor(exact, kind) : inDoseUnits(how.step);
    return toAmount(roundTo(exact, step, 'up'), kind);
  };
  const distinct = distinctOf(animals);
  const blocks = together(distinct, how.gate).map((run) =>
    blockOf(run, (exact) => baseOf(round(exact)), kind),
  );
  const row = rowChecked(blocks.map(({ block }) => block));
  const steps = gateSteps(how.gate);
  const shown = (split: Split): DraftSplit => {
    let begin = 0;
    const parts = split.ends.map((end): DraftPart => {
      const runs = blocks.slice(begin, end + 1).flatMap(({ run }) => run);
      const after = blocks[end + 1]?.run[0];
      begin = end + 1;
      return partOf(runs, after, round, steps);
    });
    const worst = multiply(subtract(split.worst, ONE), HUNDRED);
    return { parts, total: amountOf(kind, split.total), worstOverPercent: worst };
  };
  const cap = how.capPercent ?? DEFAULT_CAP_PERCENT;
  const limit = { ratio: add(ONE, divide(cap, HUNDRED)) };
  const cheapest = leastProduct(row, how.parts, limit);
  if (cheapest === undefined) throw capRefusal({ row, blocks, limit, how, cap, round, kind });
  const chosen = shown(leastWorst(row, how.parts, aTwentiethMore(cheapest.total), cheapest));
  for (const part of chosen.parts) {
    if (how.most !== undefined && baseOf(part.dose) > baseOf(how.most))
      throw overMostRefusal(part, how.most, how.piece);
  }
  const freely = leastProduct(row, how.parts);
  const asOne = leastProduct(row, 1);
  if (freely === undefined || asOne === undefined)
    throw new RangeError('Without a limit there is always a split.');
  const ends = {
    leastProduct: shown(freely),
    leastWorst: shown(leastWorst(row, how.parts, Number.MAX_SAFE_INTEGER, freely)),
    toHeaviest: shown(asOne),
  };
  const warnings = draftWarnings(chosen, how);
  const working = draftSteps({ chosen, ...ends, cap, distinct, kind, piece: how.piece });
  return { chosen, ...ends, animals: animalsOf(animals, chosen), working, warnings };
}

function checkHow(animals: readonly DosedAnimal[], kind: AmountKind, how: DraftHow): void {
  if (animals.length === 0) {
    throw new Refusal('no-weights', 'Weights: weigh at least one animal before drafting.', {
      field: 'weights',
    });
  }
  if (!Number.isInteger(how.parts) || how.parts < 1 || how.parts > MOST_PARTS) {
    throw new Refusal('bad-parts', `Parts: choose from 1 to ${MOST_PARTS} parts.`, { field: 'parts' });
  }
  for (const [name, amount] of [
    ['step', how.step],
    ['most', how.most],
  ] as const) {
    if (amount === undefined) continue;
    const label = name === 'step' ? 'Step' : 'Most';
    if (amount.kind !== kind) {
      throw new Refusal('units-do-not-match', `${label}: write it in the unit of the dose.`, { field: name });
    }
    if (baseOf(amount) <= 0) {
      throw new Refusal(`bad-${name}`, `${label}: it must be above zero.`, { field: name });
    }
  }
}

/** Animals of one weight stay together, in whatever unit each was written. Lightest first. */
function distinctOf(animals: readonly DosedAnimal[]): Distinct[] {
  const found = animals.map((animal) => ({ animal, kg: kilograms(animal.weight) }));
  found.sort((a, b) => compare(a.kg, b.kg));
  const distinct: {
    weight: Weight;
    kg: Fraction;
    exact: Fraction;
    heads: number;
    ids: string[];
    working: readonly Step[];
  }[] = [];
  for (const { animal, kg } of found) {
    const heads = animal.heads ?? 1;
    if (!Number.isSafeInteger(heads) || heads < 1)
      throw new RangeError('Heads are counted in whole numbers from 1.');
    const last = distinct.at(-1);
    if (last !== undefined && compare(last.kg, kg) === 0) {
      if (compare(last.exact, animal.exact) !== 0)
        throw new RangeError('Equal weights must have equal doses.');
      last.heads += heads;
      last.ids.push(animal.id);
    } else {
      const { weight, exact, working } = animal;
      distinct.push({ weight, kg, exact, heads, ids: [animal.id], working });
    }
  }
  return distinct;
}

function rowChecked(blocks: Parameters<typeof rowOf>[0]): Row {
  const heads = blocks.reduce((sum, block) => sum + block.heads, 0);
  const dose = blocks.at(-1)?.dose ?? 0;
  if (!Number.isSafeInteger(heads * dose)) {
    throw new Refusal(
      'dose-too-large',
      'That dose is too large to be real; check the weights, rate and strength.',
      {
        field: 'rate',
      },
    );
  }
  return rowOf(blocks);
}

/** The product may grow by a twentieth for a smaller overdose. */
function aTwentiethMore(total: number): number {
  return Number((BigInt(total) * 21n) / 20n);
}
