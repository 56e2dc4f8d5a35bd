import type { Step, WorkingLine } from '../working.ts';
import { OFF_LABEL_LINES } from './off-label-working.ts';

export type Line = (values: Readonly<Record<string, string>>) => string;

/** How each step of a clearance or a hold reads. */
export const CLEARANCE_LINES: Readonly<Record<string, Line>> = {
  'end-of-day': (v) => `Only the day ${v.day} is known, so it counts from the end of that day, ${v.from}`,
  zero: (v) => `The period is zero: clear at the dose itself, ${v.clear}`,
  hours: (v) => `${v.from} + ${v.period} of elapsed time = ${v.clear}`,
  '24-hour': (v) => `24-hour days: ${v.from} + ${(v.period ?? '').replace(' d', '')} × 24 h = ${v.clear}`,
  'whole-days': (v) =>
    `Whole days after ${v.day}: ${v.period}, then clear from the start of ${v.after}, ${v.clear}`,
  later: (v) => `The later of the two: ${v.clear}`,
  milking: (v) =>
    v.discarded === '0'
      ? 'The first milking after the dose may be kept'
      : `Milkings to discard after the dose: ${v.discarded}; milking number ${v.number} may be kept`,
  'counted-from': (v) => `Counted from ${v.anchor}:`,
  'later-of-two': (v) => `The later of the two: ${v.clear}`,
  'no-row': (v) =>
    `The label has no period for ${v.produce} that fits this animal and route: not stated never ends by time`,
  'not-stated': (v) => `The label does not state a period for ${v.produce}: not stated never ends by time`,
  'not-for-this-produce': (v) => `The label is not for animals giving ${v.produce}: no end is known`,
  'for-life': (v) => `The label bars ${v.produce} for life`,
  'waits-for': (v) =>
    `${v.period} counted from ${(v.event ?? '').replaceAll('-', ' ')}, which is not known yet`,
  happened: (v) => `${(v.event ?? '').replaceAll('-', ' ')} happened ${v.at}`,
  'suckling-word': (v) => `The label says of lambs that suck her: ${v.period}, from her last dose`,
  'organic-twice': (v) => `Organic: twice ${v.period} is ${v.double}, and never under 48 h`,
  'organic-twice-after': () => 'Organic: twice each period, and never under 48 h',
  'organic-vaccine': () => 'Organic: a vaccine keeps the period of its label',
  'organic-us-antibiotic': () => 'Organic status ended with this antibiotic',
  'stated-until': (v) => `Stated: held until ${v.until}`,
  'stand-down': (v) => `The keeper set a stand-down of ${v.days} d from the day it came`,
  'two-events': (v) =>
    `Rows of the label count ${v.produce} from two different events: no one date follows from that, so the vet must say`,
  'at-least': (v) => `Another row of the label ends later: ${v.clear}`,
  inserts: (v) => `The bottles have different inserts, ${v.periods}: the longest counts`,
  'planned-last': (v) => `The course is open: counted from its planned last dose, ${v.lastDose}`,
  margin: (v) => `The farm's own margin of ${v.days} d more: ${v.clear}`,
  ...OFF_LABEL_LINES,
};

/** The steps of a clearance or a hold as lines of text. */
export function printClearanceWorking(steps: readonly Step[]): WorkingLine[] {
  return linesOf(steps, CLEARANCE_LINES);
}

/**
 * Steps as lines, by a table of how each code reads. A code from an older book that is known no longer is shown
 * with its values as they stand.
 */
export function linesOf(steps: readonly Step[], table: Readonly<Record<string, Line>>): WorkingLine[] {
  return steps.map(({ code, values, source }) => {
    const line = Object.hasOwn(table, code) ? table[code] : undefined;
    const plain = `${code.replaceAll('-', ' ')}: ${Object.values(values).join(', ')}`;
    return {
      code,
      text: line === undefined ? plain : line(values),
      ...(source === undefined ? {} : { source }),
    };
  });
}
