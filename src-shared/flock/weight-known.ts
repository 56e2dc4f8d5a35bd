import { sayAgo } from '../time/ago.ts';
import type { Day } from '../time/day.ts';

const HOW: Readonly<Record<string, string>> = {
  crate: 'crate',
  scale: 'scale',
  tape: 'tape',
  eye: 'by eye',
};

/** How a weight is known, in a word or two; the code itself for one that is not known here. */
export function sayHow(how: string): string {
  return HOW[how] ?? how;
}

/** A weight with how and when it is known: "62 kg, tape, 12 days ago". Only what is known is said. */
export function sayWeightKnown(
  of: { weight: string; weighedOn?: string | undefined; weighedHow?: string | undefined },
  today: Day,
): string {
  const how = of.weighedHow === undefined ? [] : [sayHow(of.weighedHow)];
  const ago = of.weighedOn === undefined ? [] : [sayAgo(of.weighedOn, today)];
  return [of.weight, ...how, ...ago].join(', ');
}
