import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { storeParts } from '../../src-main/answers/store-parts.ts';
import { openStore, type Store } from '../../src-main/store/store.ts';
import { steppingClock } from '../store/toys.ts';
import type { Script } from './script.ts';
import { writeHistory } from './write-history.ts';

/** Memory where there is a file system in memory: hundreds of short-lived books need no disk. */
const memory = '/dev/shm';

/** A folder of its own for one book; `clear` removes it. */
export function bookPlace(): { path: string; clear(): void } {
  const made = mkdtempSync(join(existsSync(memory) ? memory : tmpdir(), 'foldbook-history-'));
  return {
    path: join(made, 'history.foldbook'),
    clear: () => rmSync(made, { recursive: true, force: true }),
  };
}

/** A clock that stands after everything that happens in a history. */
export const afterwards = () => steppingClock('2026-07-01T08:00:00.000Z');

/** Plays a history into a book of its own and hands it on; the book is gone afterwards. */
export function withHistory<T>(script: Script, work: (store: Store, path: string) => T): T {
  const place = bookPlace();
  try {
    const store = openStore(place.path, storeParts, afterwards(), { create: true });
    try {
      writeHistory(store, script);
      return work(store, place.path);
    } finally {
      store.close();
    }
  } finally {
    place.clear();
  }
}

/** Options that end a failing run, its shrinking included, in reasonable time. */
export function bounded(options: { seed: number; numRuns: number }, secondsARun = 1) {
  return { ...options, interruptAfterTimeLimit: Math.max(45_000, options.numRuns * secondsARun * 1000) };
}
