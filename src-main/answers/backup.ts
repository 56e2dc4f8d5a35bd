import { createHash } from 'node:crypto';
import { createReadStream, rmSync, statSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import { z } from 'zod';
import { Refusal } from '../../src-shared/refusal.ts';
import { dayOf, parseInstant } from '../../src-shared/time/zone.ts';
import type { Clock, IssuedPaper } from '../desk-type.ts';
import type { Store } from '../store/store.ts';
import type { WorkTools } from '../work/board.ts';
import type { Work } from '../work/desk-work.ts';
import { onlyHolding } from './reading/holding.ts';

/** The most bytes that go through a window at once; a larger book is backed up from a terminal. */
const MOST_BYTES = 512 * 1024 * 1024;
const LAST = 'last-backup';
const lastSchema = z.object({ at: z.string(), entries: z.number().int() });

/** A backup that was made and proved, and waits to be fetched. */
type Waiting = { file: string; name: string; bytes: number; entries: number; checkCode: string };

/** The last backup that was handed over to be saved: when, and how many entries it holds. */
export function lastBackup(store: Store): z.output<typeof lastSchema> | undefined {
  const kept = store.kept.preferences.get(LAST);
  return kept === undefined ? undefined : lastSchema.parse(kept);
}

/**
 * Holds at most one backup between making it and saving it: as a file beside the book, because there is room for
 * the book there. What an earlier run left behind is removed; it was a copy.
 */
export function backupShelf(store: Store, clock: Clock, mostBytes = MOST_BYTES) {
  const path = `${store.path}.to-save`;
  let waiting: Waiting | undefined;
  let isBusy = false;
  const clear = () => {
    waiting = undefined;
    for (const tail of ['', '.part']) rmSync(path + tail, { force: true });
  };
  clear();
  return {
    /**
     * Makes the backup and answers how it is fetched. Refuses (`backup-under-way`, `backup-too-big`, and what
     * copying refuses, `cancelled` among it; nothing of the copy is then left).
     */
    async make(work: Work, tools: WorkTools): Promise<Waiting> {
      if (isBusy) {
        throw new Refusal('backup-under-way', 'A backup is being made or fetched already.', {
          next: 'Wait a moment, then make it again.',
        });
      }
      isBusy = true;
      try {
        clear();
        const { entries, checkCode } = await work('backup', { book: store.path, to: path }, tools);
        const bytes = statSync(path).size;
        if (bytes > mostBytes) {
          throw new Refusal('backup-too-big', 'This book is too large to be saved from a window.', {
            next: 'Close Foldbook and run: npm run -s desk -- backup FILE',
          });
        }
        const day = dayOf(parseInstant(clock(), 'clock'), onlyHolding(store.read)?.zone ?? 'UTC');
        const name = `backup-${basename(store.path, '.foldbook')}-${day}-entry-${entries}.foldbook`;
        const made = { file: await hashOfFile(path), name, bytes, entries, checkCode };
        waiting = made;
        return made;
      } catch (thrown) {
        clear();
        throw thrown;
      } finally {
        isBusy = false;
      }
    },
    /** Hands the backup over, once: the file beside the book is removed, and that it was handed over is kept. */
    async take(file: string): Promise<IssuedPaper | undefined> {
      if (waiting?.file !== file) return undefined;
      const { name, entries } = waiting;
      // Before the wait: of two who ask at once only one gets it.
      waiting = undefined;
      isBusy = true;
      try {
        const bytes = await readFile(path);
        store.kept.preferences.put(LAST, { at: clock(), entries });
        return { name, mime: 'application/octet-stream', bytes };
      } finally {
        isBusy = false;
        clear();
      }
    },
    close: clear,
  };
}
export type BackupShelf = ReturnType<typeof backupShelf>;

async function hashOfFile(path: string): Promise<string> {
  const hash = createHash('sha256');
  for await (const chunk of createReadStream(path)) hash.update(chunk as Uint8Array);
  return hash.digest('hex');
}
