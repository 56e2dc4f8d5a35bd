import { type GroupDose, type InGroup, isBeyondCap } from '../../../src-shared/dose/group-part.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { DosedTo, GroupingData } from '../../../src-shared/entries/grouping.ts';
import { type Amount, baseOf, inDoseUnits, printAmount } from '../../../src-shared/quantity/amount.ts';
import {
  compare,
  divide,
  type Fraction,
  parseDecimal,
  toDecimal,
  toPlaces,
  ZERO,
} from '../../../src-shared/quantity/fraction.ts';
import { kilograms, printWeight, type Weight } from '../../../src-shared/quantity/weight.ts';
import { isOverLabel } from './holds.ts';

/** A session's group as the dose of one animal hangs on it; `part` counts from 0 as the session entry keeps it. */
export function inGroup(data: GroupingData, part: number | undefined, stays: boolean): InGroup {
  return {
    how: data.how,
    cap: parseDecimal(data.capPercent, 'capPercent'),
    parts: data.parts.map(({ to }, i) => ({ n: i + 1, to })),
    of: data.parts.length,
    isSampled: data.picked !== undefined,
    planned: part === undefined ? undefined : part + 1,
    stays,
  };
}

type Plan = DataOf<'session-opened'>;

/** How the group of an animal is dosed by one line of a session; nothing where each is dosed by its own weight. */
export function groupInSession(
  plan: Pick<Plan, 'lines'>,
  line: string | undefined,
  /** The animal as it was planned; nothing for one that was not. */
  item: Plan['subjects'][number] | undefined,
  stays: boolean,
): InGroup | undefined {
  const i = plan.lines.findIndex((each) => each.line === line);
  const grouping = plan.lines[i]?.grouping;
  if (grouping === undefined) return undefined;
  return inGroup(grouping, item?.parts?.[i] ?? undefined, stays);
}

/**
 * What to ask before an animal gets another dose than its part was planned to, or nothing: it weighs more than its part
 * is dosed to, or so little that the part's dose is over the cap for it.
 */
export function movedQuestion(
  who: string,
  dosed: Dosed & Partial<Pick<GroupDose, 'isMoved'>>,
  group: InGroup | undefined,
  weight: Weight | undefined,
  piece: string | undefined,
): { code: string; text: string } | undefined {
  const planned = group?.parts.find(({ n }) => n === group.planned);
  if (dosed.isMoved !== true || planned === undefined || weight === undefined) return undefined;
  const dose = printAmount(dosed.worked.draw, piece);
  const isHeavier = compare(kilograms(weight), kilograms(planned.to)) > 0;
  const name = group?.of === 1 ? 'the group' : `part ${planned.n}`;
  const why = isHeavier
    ? `${who} weighs ${printWeight(weight)}, more than the ${printWeight(planned.to)} that ${name} is dosed to`
    : `${who} weighs ${printWeight(weight)}, too little for what ${name} gets`;
  return dosed.part === undefined
    ? { code: 'dose-by-itself', text: `${why}: dose it by itself, ${dose}.` }
    : { code: `other-part-${dosed.part.n}`, text: `${why}: it belongs to part ${dosed.part.n}, ${dose}.` };
}

/** The group of an animal that was dosed already: it got what its part got, and it stays so. */
export function groupAsGiven(dosedTo: DosedTo): InGroup {
  return {
    how: dosedTo.how,
    cap: parseDecimal(dosedTo.capPercent, 'capPercent'),
    parts: [{ n: dosedTo.part, to: dosedTo.weight }],
    of: dosedTo.of,
    isSampled: dosedTo.how === 'heaviest',
    planned: dosedTo.part,
    stays: true,
  };
}

type Dosed = Pick<GroupDose, 'worked' | 'own' | 'part'>;

/** By what it was dosed, as its entry keeps it: nothing when by its own weight. */
export function dosedToOf(dosed: Dosed | undefined, group: InGroup | undefined): DosedTo | undefined {
  if (dosed?.part === undefined || group === undefined) return undefined;
  const { n, to } = dosed.part;
  return { how: group.how, weight: { ...to }, part: n, of: group.of, capPercent: toDecimal(group.cap) };
}

/**
 * Whether the label's own periods do not speak for a dose. In a group that is a dose above the group's own by more
 * than a tenth, or one that is more over the animal's own dose than the cap of its group; a group's dose within its cap
 * is by rule. What is over the label's most refuses before this and is a deviation of its own.
 */
export function isOverFor(dose: Amount, { worked, own, part }: Dosed, group: InGroup | undefined): boolean {
  if (isOverLabel(dose, worked)) return true;
  if (part === undefined || own === undefined || group === undefined) return false;
  return isBeyondCap(dose, own, group.cap);
}

/** ": dose 1.4 times the label's", to one decimal. */
export function sayTimes(dose: Amount, exact: Fraction): string {
  return `: dose ${toPlaces(divide(inDoseUnits(dose), exact), 1)} times the label's`;
}

/** How what went in differs from what was worked out, or from what an animal of its weight should have had. */
export function doseDeviations(
  dose: Amount,
  dosed: Dosed | undefined,
  {
    given,
    group,
    weight,
  }: { given?: string | undefined; group?: InGroup | undefined; weight?: Weight | undefined },
  piece: string | undefined,
): { code: string; text: string }[] {
  if (dosed === undefined) return [];
  const { worked, own, part } = dosed;
  const found: { code: string; text: string }[] = [];
  const isOver = isOverFor(dose, dosed, group);
  if (given !== undefined && baseOf(dose) !== baseOf(worked.draw)) {
    const times = isOver ? sayTimes(dose, worked.exact) : '';
    const text = `${printAmount(dose, piece)} given, ${printAmount(worked.draw, piece)} worked out${times}`;
    found.push({ code: isOver ? 'over-label' : 'other-than-worked-out', text });
  } else if (isOver && own !== undefined && weight !== undefined) {
    const text = `${printAmount(dose, piece)} given, ${printAmount(own.draw, piece)} by its own ${printWeight(weight)}`;
    found.push({ code: 'over-label', text });
  }
  if (!isOver && part !== undefined && own !== undefined && isOverLabel(dose, own)) {
    // By the plan, and within its cap: on the label. The book says it all the same.
    const by = weight === undefined ? '' : ` ${printWeight(weight)}`;
    const text = `dosed with its group to ${printWeight(part.to)}: ${printAmount(dose, piece)} given, ${printAmount(own.draw, piece)} by its own${by}, within the ${toDecimal(group?.cap ?? ZERO)} % of the plan`;
    found.push({ code: 'group-dose', text });
  }
  const isHeavier =
    part !== undefined && weight !== undefined && compare(kilograms(weight), kilograms(part.to)) > 0;
  if (isHeavier && own !== undefined && compare(inDoseUnits(dose), own.exact) < 0) {
    const text = `dosed to ${printWeight(part.to)} and weighs ${printWeight(weight)}: ${printAmount(dose, piece)} given, ${printAmount(own.draw, piece)} by its own weight`;
    found.push({ code: 'under-own-dose', text });
  }
  return found;
}
