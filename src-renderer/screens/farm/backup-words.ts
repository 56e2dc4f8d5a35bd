import type { Reply } from '../../../src-shared/calls/all.ts';
import { addDays, compareDays, parseDay } from '../../../src-shared/time/day.ts';
import { count, dayInWords } from '../../parts/words.ts';

/** After this many days a book that was written to is due for a new backup. A habit of ours, no rule. */
const LONG_DAYS = 7;

/** What is said of the last backup; `isDue` when it should be made anew, with a margin word that says so. */
export function backupWords(farm: Pick<Reply<'farm'>, 'backup' | 'head' | 'clock'>): {
  margin: string;
  text: string;
  isDue: boolean;
} {
  const { backup, head, clock } = farm;
  if (backup === undefined) {
    return { margin: 'Due', text: 'No backup of this book has been made from here yet.', isDue: true };
  }
  const made = `The last backup was made on ${dayInWords(backup.day)}`;
  const since = head.seq - backup.entries;
  if (since <= 0)
    return { margin: 'Backup', text: `${made} and holds everything in the book.`, isDue: false };
  const text = `${made}. Since then ${count(since, 'entry was', 'entries were')} written.`;
  const isDue =
    compareDays(addDays(parseDay(backup.day, 'backup'), LONG_DAYS), parseDay(clock.today, 'today')) <= 0;
  return { margin: isDue ? 'Due' : 'Backup', text, isDue };
}
