import { Refusal } from '../../../src-shared/refusal.ts';
import { type Day, parseDay } from '../../../src-shared/time/day.ts';

/** The two days of a period, both included. Refuses (`bad-day`, `dates-crossed`). */
export function daysOf(asked: { from: string; to: string }): { from: Day; to: Day } {
  const from = parseDay(asked.from, 'from');
  const to = parseDay(asked.to, 'to');
  if (from <= to) return { from, to };
  throw new Refusal('dates-crossed', 'To: this day is before the first one.', {
    field: 'to',
    next: 'Turn the two dates round.',
  });
}
