import { expect, test } from 'vitest';
import { backupWords } from '../../src-renderer/screens/farm/backup-words.ts';

const farm = (seq: number, backup?: { day: string; entries: number }, today = '2026-05-08') => ({
  head: { seq, checkCode: `${seq}-ab12-cd34-ef56` },
  clock: { state: 'believed' as const, today },
  ...(backup === undefined ? {} : { backup: { at: `${backup.day}T10:00:00.000Z`, ...backup } }),
});

test('a book that was never backed up is due, and says so', () => {
  expect(backupWords(farm(3))).toEqual({
    margin: 'Due',
    text: 'No backup of this book has been made from here yet.',
    isDue: true,
  });
});

test('a backup of all that is written is never due, however old', () => {
  expect(backupWords(farm(3, { day: '2024-02-29', entries: 3 }))).toEqual({
    margin: 'Backup',
    text: 'The last backup was made on Thursday 29 February 2024 and holds everything in the book.',
    isDue: false,
  });
});

test.each([
  ['2026-05-02', 4, false, 'Since then 1 entry was written.'],
  ['2026-05-01', 4, true, 'Since then 1 entry was written.'],
  ['2026-04-01', 1203, true, 'Since then 1,200 entries were written.'],
])('made on %s, with %i entries now: due is %s', (day, seq, isDue, since) => {
  const words = backupWords(farm(seq, { day, entries: 3 }));
  expect([words.isDue, words.margin]).toEqual([isDue, isDue ? 'Due' : 'Backup']);
  expect(words.text).toContain(since);
});

test('a restored book that is shorter than its last backup is not said to be behind it', () => {
  expect(backupWords(farm(2, { day: '2026-04-01', entries: 3 })).isDue).toBe(false);
});
