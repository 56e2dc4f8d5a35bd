type Line = (values: Readonly<Record<string, string>>) => string;

/** How each step of a clearance or a hold reads. */
export const CLEARANCE_LINES: Readonly<Record<string, Line>> = {
  'end-of-day': (v) => `Only the day ${v.day} is known, so it counts from the end of that day, ${v.from}`,
  zero: (v) => `The period is zero: clear at the dose itself, ${v.clear}`,
  hours: (v) => `${v.from} + ${v.period} of elapsed time = ${v.clear}`,
  '24-hour': (v) => `24-hour days: ${v.from} + ${v.period} × 24 h = ${v.clear}`,
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
  'planned-last': (v) => `The course is open: counted from its planned last dose, ${v.lastDose}`,
  margin: (v) => `The farm's own margin of ${v.days} d more: ${v.clear}`,
};
