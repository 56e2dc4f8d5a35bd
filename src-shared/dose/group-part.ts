import type { DoseLine, LabelTerms } from '../label/terms.ts';
import { type Amount, baseOf, inDoseUnits } from '../quantity/amount.ts';
import { add, compare, divide, type Fraction, fraction, multiply, ONE } from '../quantity/fraction.ts';
import { kilograms, printWeight, type Weight } from '../quantity/weight.ts';
import { type DoseAnswer, doseForLine, type LineGiven } from './dose.ts';
import { show } from './exact.ts';

/** What one animal of a group gets: the dose of its part, which is that of the part's heaviest, rounded up. */

/** How the group was planned, as far as one animal's dose hangs on it. */
export type InGroup = {
  readonly how: 'heaviest' | 'drafted';
  /** The most an animal may get over its own exact dose, in percent. */
  readonly cap: Fraction;
  /** The parts, lightest first; `n` counts from 1, and `of` says how many there were in all. */
  readonly parts: readonly { readonly n: number; readonly to: Weight }[];
  readonly of: number;
  /** A sample was weighed: one with no weight of its own is dosed with the others. */
  readonly isSampled: boolean;
  /** The part it was planned in, counted from 1. */
  readonly planned?: number | undefined;
  /**
   * What happened: it got what its part got, whatever it weighs. Otherwise an animal that its part does not fit any
   * more gets the dose of the part that does, or its own.
   */
  readonly stays: boolean;
};

export type GroupDose = {
  readonly worked: DoseAnswer;
  /** Its dose by its own weight, where that is known. */
  readonly own?: DoseAnswer | undefined;
  /** The part whose dose it gets; absent: its own dose. */
  readonly part?: InGroup['parts'][number] | undefined;
  /** True where that is not the part it was planned in. */
  readonly isMoved: boolean;
};

const HUNDRED = fraction(100);

/** Whether the label has a floor or a ceiling that an animal without a weight of its own cannot be held to. */
function hasBounds(line: DoseLine): boolean {
  const { rate, leastWeight, mostWeight } = line;
  const isBounded = rate.style === 'bands' && rate.from !== undefined;
  return isBounded || leastWeight !== undefined || mostWeight !== undefined;
}

/**
 * The dose of an animal in a group. Its own limits hold as ever: refuses what `doseForLine` refuses for its own weight,
 * and `over-most` where the part's dose is more than the label allows in one animal. Without a weight of its own it is
 * dosed only with a sample, and only where the label bounds no weight; else `weight-missing`.
 */
export function doseInGroup(
  terms: LabelTerms,
  doseLine: string,
  given: LineGiven,
  group: InGroup,
): GroupDose {
  const { weight } = given;
  const line = terms.doseLines.find(({ id }) => id === doseLine);
  const mayGoWithout = group.isSampled && line !== undefined && !hasBounds(line);
  if (weight === undefined && mayGoWithout) {
    const part = group.parts.at(-1);
    if (part !== undefined) {
      const worked = withStep(doseForLine(terms, doseLine, upTo(given, part)), part, group, undefined);
      return { worked, part, isMoved: false };
    }
  }
  // Without a weight this refuses, in the words in which it refuses everywhere.
  const own = doseForLine(terms, doseLine, given);
  const kg = weight === undefined ? undefined : kilograms(weight);
  const planned = group.parts.find(({ n }) => n === group.planned);
  const others = group.parts.filter((part) => part !== planned);
  for (const part of planned === undefined ? others : [planned, ...others]) {
    const isKept = group.stays && part === planned;
    if (!isKept && (kg === undefined || compare(kg, kilograms(part.to)) > 0)) continue;
    const worked = doseForLine(terms, doseLine, upTo(given, part));
    if (!isKept && isBeyondCap(worked.draw, own, group.cap)) continue;
    const said = weight && { weight: printWeight(weight), own, piece: terms.piece };
    return {
      worked: withStep(worked, part, group, said),
      own,
      part,
      isMoved: planned !== undefined && part !== planned,
    };
  }
  return { worked: own, own, isMoved: planned !== undefined };
}

const upTo = (given: LineGiven, part: { to: Weight }): LineGiven => ({
  ...given,
  weight: part.to,
  rounding: 'up',
});

/** Whether an animal gets more over its own exact dose than the cap of its group allows. Its own rounded dose never is. */
export function isBeyondCap(dose: Amount, own: Pick<DoseAnswer, 'exact' | 'draw'>, cap: Fraction): boolean {
  const most = multiply(own.exact, add(ONE, divide(cap, HUNDRED)));
  return compare(inDoseUnits(dose), most) > 0 && baseOf(dose) > baseOf(own.draw);
}

/** The working of a part's dose, with by what it was dosed before it. */
function withStep(
  worked: DoseAnswer,
  part: InGroup['parts'][number],
  group: InGroup,
  said: { weight: string; own: DoseAnswer; piece: string | undefined } | undefined,
): DoseAnswer {
  const values = {
    part: String(part.n),
    of: String(group.of),
    weight: printWeight(part.to),
    ...(said === undefined
      ? {}
      : {
          ownWeight: said.weight,
          own: show(said.own.exact, said.own.draw.kind, { piece: said.piece }),
        }),
  };
  // What its own draw would be off by says nothing of the part's dose, and that of the part's heaviest nothing of it.
  const warnings = worked.warnings.filter(({ code }) => !/^(finer-syringe|whole-pieces)$/.test(code));
  return { ...worked, warnings, working: [{ code: 'dosed-to', values }, ...worked.working] };
}
