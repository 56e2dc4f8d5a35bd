import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';

export const dateConfirmedSchema = z.strictObject({
  /** The civil day the person read off a calendar, "2026-03-01". */
  day: z.iso.date(),
});

export type DateConfirmed = z.infer<typeof dateConfirmedSchema>;

/** Everything said about the computer's clock hangs on this one subject. */
export const CLOCK_SUBJECT = subjectOf('book', 'clock');

/**
 * A person says that the computer's date is right. From this entry on the clock is compared with the time at
 * which this entry was written.
 */
export const dateConfirmed = entryKind<DateConfirmed>({
  kind: 'date-confirmed',
  version: 1,
  schema: dateConfirmedSchema,
  subjects: () => [CLOCK_SUBJECT],
  fold: () => [],
  line: (data) => `The date was confirmed: ${data.day}`,
});
