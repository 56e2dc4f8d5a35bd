import { predictWeight } from '../../../src-shared/dose/growth.ts';
import { type Day, daysBetween } from '../../../src-shared/time/day.ts';
import type { Reader } from '../../store/store.ts';

type Weighing = { local: string; value: string; unit: 'kg' | 'lb'; how: string };

/** Only what was weighed shows growth; an estimate by tape or eye is further off than a month of it. */
const WEIGHED = new Set(['crate', 'scale']);

/**
 * What an animal may weigh on a day, by its own last two weighings, as a sentence that says it is a prediction; nothing
 * for a lot, for one weighed that day, or where nothing can be predicted. It is shown, and no dose is worked out by it.
 */
export function predictedWeight(tx: Reader, subject: string, today: Day): string | undefined {
  if (!subject.startsWith('animal:')) return undefined;
  const [last, ...earlier] = tx.all<Weighing>(
    'SELECT local, value, unit, how FROM weighing WHERE subject = ? ORDER BY at DESC, seq DESC LIMIT 12',
    subject,
  );
  if (!last || !WEIGHED.has(last.how)) return undefined;
  const day = (one: Weighing) => one.local.slice(0, 10) as Day;
  const before = earlier.find((one) => WEIGHED.has(one.how) && day(one) < day(last));
  const daysAgo = daysBetween(day(last), today);
  if (!before || daysAgo < 0) return undefined;
  const growth = predictWeight({
    last,
    daysAgo,
    before: { weight: before, daysEarlier: daysBetween(day(before), day(last)) },
  });
  return growth.state === 'predicted' ? growth.says : undefined;
}
