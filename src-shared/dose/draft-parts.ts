import { type Amount, inDoseUnits } from '../quantity/amount.ts';
import { divide, type Fraction, fraction, multiply, subtract } from '../quantity/fraction.ts';
import type { Weight } from '../quantity/weight.ts';
import type { Step, Warning } from '../working.ts';
import { type Distinct, gateBetween } from './draft-gate.ts';

/** The parts of a draft, as a screen and a plan need them. */

const HUNDRED = fraction(100);
/** A part of so few is no part: they are dosed by themselves (practice). */
const FEW_HEADS = 2;

export type DraftAnimal = {
  readonly id: string;
  readonly weight: Weight;
  readonly heads?: number | undefined;
};

/** An animal with its own exact dose in mL, mg or pieces, and how that was worked out. */
export type DosedAnimal = DraftAnimal & { readonly exact: Fraction; readonly working: readonly Step[] };

export type DraftHow = {
  /** At most so many parts, 1 to 4. */
  readonly parts: number;
  /** The marks doses are rounded up to; absent: 0.1 from 1 up and 0.01 below. */
  readonly step?: Amount | undefined;
  readonly capPercent?: Fraction | undefined;
  /** The steps a drafting gate can be set in. Given, only such cuts are made; absent, whole and half kilograms are tried. */
  readonly gate?: Weight | undefined;
  /** The most the label allows in one animal. */
  readonly most?: Amount | undefined;
  readonly piece?: string | undefined;
};

export type DraftPart = {
  readonly from: Weight;
  readonly to: Weight;
  readonly heads: number;
  readonly ids: readonly string[];
  readonly dose: Amount;
  /** How much more than its own exact dose the lightest of the part gets. */
  readonly overPercent: Fraction;
  /** Up to and including this weight an animal belongs here; absent for the last part and where no round weight lies between. */
  readonly gate?: Weight;
  /** One or two heads: dose them by themselves. */
  readonly byItself: boolean;
};

export type DraftSplit = {
  readonly parts: readonly DraftPart[];
  readonly total: Amount;
  readonly worstOverPercent: Fraction;
};

export type Draft = {
  readonly chosen: DraftSplit;
  /** The two ends of the trade in as many parts, whatever the cap; and everyone dosed to the heaviest of all. */
  readonly leastProduct: DraftSplit;
  readonly leastWorst: DraftSplit;
  readonly toHeaviest: DraftSplit;
  /** Each animal as it was asked, in that order: its part (from 0), the dose of that part and its own exact dose. */
  readonly animals: readonly {
    readonly id: string;
    readonly part: number;
    readonly dose: Amount;
    readonly exact: Fraction;
    readonly overPercent: Fraction;
  }[];
  readonly working: Step[];
  readonly warnings: Warning[];
};

/** One part of a split, with what its lightest gets and the weight a gate is set to. */
export function partOf(
  runs: readonly Distinct[],
  after: Distinct | undefined,
  round: (exact: Fraction) => Amount,
  steps: readonly Fraction[],
): DraftPart {
  const [lightest, heaviest] = [runs[0], runs.at(-1)];
  if (lightest === undefined || heaviest === undefined)
    throw new RangeError('A part has at least one animal.');
  const dose = round(heaviest.exact);
  const heads = runs.reduce((sum, run) => sum + run.heads, 0);
  const gate = after === undefined ? undefined : gateBetween(heaviest.kg, after.kg, steps);
  return {
    from: lightest.weight,
    to: heaviest.weight,
    heads,
    ids: runs.flatMap((run) => run.ids),
    dose,
    overPercent: overPercent(dose, lightest.exact),
    ...(gate === undefined ? {} : { gate }),
    byItself: heads <= FEW_HEADS,
  };
}

function overPercent(dose: Amount, exact: Fraction): Fraction {
  return multiply(divide(subtract(inDoseUnits(dose), exact), exact), HUNDRED);
}

/** Each animal with its part. */
export function animalsOf(animals: readonly DosedAnimal[], chosen: DraftSplit): Draft['animals'] {
  const places = new Map<string, number>();
  chosen.parts.forEach((part, i) => {
    for (const id of part.ids) places.set(id, i);
  });
  return animals.map(({ id, exact }) => {
    const part = places.get(id);
    const dose = part === undefined ? undefined : chosen.parts[part]?.dose;
    if (part === undefined || dose === undefined) throw new RangeError('An animal is in no part.');
    return { id, part, dose, exact, overPercent: overPercent(dose, exact) };
  });
}

/** What to know of the parts before working by them. */
export function draftWarnings(chosen: DraftSplit, how: DraftHow): Warning[] {
  const warnings: Warning[] = [];
  chosen.parts.forEach((part, i) => {
    const last = i === chosen.parts.length - 1;
    if (!last && part.gate === undefined) {
      const text = `No whole or half kilogram lies between part ${i + 1} and part ${i + 2}: go by each animal's weight there.`;
      warnings.push({ code: 'no-gate-weight', text });
    }
    if (part.byItself && chosen.parts.length > 1) {
      const who =
        part.heads === 1 ? 'is one animal: dose it by itself' : 'is two animals: dose them by themselves';
      warnings.push({ code: 'dose-by-itself', text: `Part ${i + 1} ${who}.` });
    }
  });
  if (how.gate === undefined && chosen.parts.length < how.parts) {
    const text = `${chosen.parts.length === 1 ? 'One part does' : `${chosen.parts.length} parts do`} as well as ${how.parts}.`;
    warnings.push({ code: 'fewer-parts', text });
  }
  return warnings;
}
