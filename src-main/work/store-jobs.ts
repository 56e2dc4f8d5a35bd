import { z } from 'zod';
import { backupBook } from '../store/backup.ts';
import { rebuildBook } from '../store/rebuild.ts';
import { restoreBook } from '../store/restore.ts';
import type { StoreParts } from '../store/store.ts';
import { verifyBook } from '../store/verify.ts';
import type { Job } from './serve.ts';

const verifyInput = z.strictObject({ book: z.string(), head: z.string().optional() });
const backupInput = z.strictObject({ book: z.string(), to: z.string() });
const restoreInput = z.strictObject({ backup: z.string(), book: z.string(), head: z.string().optional() });
const rebuildInput = z.strictObject({ book: z.string(), rescue: z.boolean().optional() });

/**
 * The jobs on a book. `verify` {book, head?} and `backup` {book, to} run beside an open book; `restore`
 * {backup, book, head?} and `rebuild` {book, rescue?} need it closed. They answer what the functions of the
 * same name answer.
 */
export function storeJobs(parts: StoreParts): Readonly<Record<string, Job>> {
  return {
    verify(input, { progress }) {
      const { book, head } = verifyInput.parse(input);
      return verifyBook(book, parts, { progress, ...(head === undefined ? {} : { head }) });
    },
    backup(input, { progress }) {
      const { book, to } = backupInput.parse(input);
      progress(0, 1);
      const made = backupBook(book, to);
      progress(1, 1);
      return made;
    },
    restore(input, { progress }) {
      const { backup, book, head } = restoreInput.parse(input);
      return restoreBook(backup, book, parts, { progress, ...(head === undefined ? {} : { head }) });
    },
    rebuild(input, { progress }) {
      const { book, rescue } = rebuildInput.parse(input);
      return rebuildBook(book, parts, { progress, rescue: rescue === true });
    },
  };
}
