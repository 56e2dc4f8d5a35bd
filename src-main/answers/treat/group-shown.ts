import type { z } from 'zod';
import type { groupShown } from '../../../src-shared/calls/treat-grouping.ts';
import type { DraftSplit } from '../../../src-shared/dose/draft.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { GroupingData } from '../../../src-shared/entries/grouping.ts';
import { amountData, unitsOf } from '../../../src-shared/entries/parts.ts';
import { amountOf, baseOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import { toPlaces } from '../../../src-shared/quantity/fraction.ts';
import { printWeight } from '../../../src-shared/quantity/weight.ts';
import type { SubjectRow } from '../reading/subjects.ts';

export type GroupShown = z.output<typeof groupShown>;

/** One part in a sentence, as the plan, the race and the work sheet say it. */
export function shownPart(
  data: GroupingData['parts'][number],
  i: number,
  of: number,
  classes: ReadonlySet<string>,
  piece: string | undefined,
): GroupShown['parts'][number] {
  const { from, to, gate, heads, dose } = data;
  const text = printAmount(amountOf(dose.kind, unitsOf(dose)), piece);
  const [only, second] = classes;
  const noun =
    only === undefined || second !== undefined
      ? 'head'
      : `${only.replace('-', ' ')}${heads === 1 ? '' : 's'}`;
  const isSame = from.value === to.value && from.unit === to.unit;
  const range = isSame
    ? printWeight(to)
    : from.unit === to.unit
      ? `${from.value} to ${printWeight(to)}`
      : `${printWeight(from)} to ${printWeight(to)}`;
  const byItself = of > 1 && heads <= 2;
  const alone = heads === 1 ? 'dose this one by itself' : 'dose these two by themselves';
  const says = [
    `${range}: ${heads} ${noun}, ${text}${heads === 1 ? '' : ' each'}`,
    ...(byItself ? [alone] : []),
    ...(gate === undefined ? [] : [`set the gate at ${printWeight(gate)}`]),
  ].join('; ');
  return {
    part: i + 1,
    of,
    from: printWeight(from),
    to: printWeight(to),
    ...(gate === undefined ? {} : { gate: printWeight(gate) }),
    heads,
    dose: { amount: dose, text },
    over: data.overPercent,
    byItself,
    says,
  };
}

/** The ends of the trade in as many parts, and everyone to the heaviest, each in a sentence. */
export function endsOf(
  draft: Record<'leastProduct' | 'leastWorst' | 'toHeaviest', DraftSplit>,
  piece: string | undefined,
): GroupShown['ends'] {
  const end = (code: GroupShown['ends'][number]['code'], what: string, split: DraftSplit) => {
    const total = printAmount(split.total, piece);
    const worstOver = toPlaces(split.worstOverPercent, 1);
    const parts = split.parts.map(({ from, to, heads, dose }) => {
      const range = from.value === to.value ? printWeight(to) : `${printWeight(from)} to ${printWeight(to)}`;
      return `${range} (${heads}) ${printAmount(dose, piece)}`;
    });
    return {
      code,
      says: `${what}: ${total}, the worst gets ${worstOver} % too much (${parts.join('; ')})`,
      total: { amount: amountData(split.total.kind, baseOf(split.total)), text: total },
      worstOver,
    };
  };
  return [
    end('least-product', 'Least product, whatever the cap', draft.leastProduct),
    end('least-worst', 'Least overdose, whatever it takes', draft.leastWorst),
    end('to-heaviest', 'All to the heaviest', draft.toHeaviest),
  ];
}

/** The parts of an open session with the heads that still wait in each. */
export function groupInSessionShown(
  data: GroupingData | undefined,
  i: number,
  waiting: DataOf<'session-opened'>['subjects'],
  rows: ReadonlyMap<string, SubjectRow>,
  piece: string | undefined,
): GroupShown | undefined {
  if (data === undefined) return undefined;
  const parts = data.parts.flatMap((part, n) => {
    const who = waiting.filter((item) => item.parts?.[i] === n);
    const heads = who.reduce((sum, item) => sum + item.heads, 0);
    const classes = new Set(who.flatMap((item) => rows.get(item.subject)?.class ?? []));
    if (heads === 0) return [];
    const shown = shownPart({ ...part, heads }, n, data.parts.length, classes, piece);
    return [{ shown, units: heads * unitsOf(part.dose), kind: part.dose.kind }];
  });
  const kind = data.parts[0]?.dose.kind ?? 'volume';
  const total = parts.reduce((sum, { units }) => sum + units, 0);
  const worst = data.parts.map(({ overPercent }) => overPercent).toSorted((a, b) => Number(b) - Number(a))[0];
  return {
    how: data.how,
    capPercent: data.capPercent,
    parts: parts.map(({ shown }) => shown),
    total: { amount: amountData(kind, total), text: printAmount(amountOf(kind, total), piece) },
    worstOver: worst ?? '0',
    ends: [],
    working: [],
  };
}
