import { basename } from 'node:path';
import { z } from 'zod';
import { dayOf, parseInstant } from '../../src-shared/time/zone.ts';
import type { Clock, IssuedPaper } from '../desk-type.ts';
import type { Store } from '../store/store.ts';
import type { WorkTools } from '../work/board.ts';
import type { Work } from '../work/desk-work.ts';
import { onlyHolding } from './reading/holding.ts';
import { saveShelf, type Waiting } from './save-shelf.ts';

/** The most bytes that go through a window at once; a larger book is backed up from a terminal. */
export const MOST_SAVED_BYTES = 512 * 1024 * 1024;
const LAST = 'last-backup';
const lastSchema = z.object({ at: z.string(), entries: z.number().int() });

type Backup = { name: string; entries: number; checkCode: string };

/** The last backup that was handed over to be saved: when, and how many entries it holds. */
export function lastBackup(store: Store): z.output<typeof lastSchema> | undefined {
  const kept = store.kept.preferences.get(LAST);
  return kept === undefined ? undefined : lastSchema.parse(kept);
}

/** Holds at most one backup between making it and saving it. */
export function backupShelf(store: Store, clock: Clock, mostBytes = MOST_SAVED_BYTES) {
  const shelf = saveShelf<Backup>(
    `${store.path}.to-save`,
    'backup',
    mostBytes,
    'Close Foldbook and run: npm run -s desk -- backup FILE',
  );
  return {
    /**
     * Makes the backup and answers how it is fetched. Refuses (`backup-under-way`, `backup-too-big`, and what
     * copying refuses, `cancelled` among it; nothing of the copy is then left).
     */
    make: (work: Work, tools: WorkTools): Promise<Waiting<Backup>> =>
      shelf.make(async () => {
        const { entries, checkCode } = await work('backup', { book: store.path, to: shelf.path }, tools);
        const day = dayOf(parseInstant(clock(), 'clock'), onlyHolding(store.read)?.zone ?? 'UTC');
        const name = `backup-${basename(store.path, '.foldbook')}-${day}-entry-${entries}.foldbook`;
        return { name, entries, checkCode };
      }),
    /** Hands the backup over, once, and keeps that it was handed over. */
    async take(file: string): Promise<IssuedPaper | undefined> {
      const taken = await shelf.take(file, ({ entries }) =>
        store.kept.preferences.put(LAST, { at: clock(), entries }),
      );
      return taken && { ...taken, mime: 'application/octet-stream' };
    },
    close: shelf.close,
  };
}
export type BackupShelf = ReturnType<typeof backupShelf>;
