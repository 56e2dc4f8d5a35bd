import { createHash } from 'node:crypto';
import { createReadStream, rmSync, statSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { Refusal } from '../../src-shared/refusal.ts';

/** Something large that was made and waits to be fetched: the SHA-256 it is asked for by, and how large it is. */
export type Waiting<T> = T & { file: string; name: string; bytes: number };

/**
 * Holds at most one large file between making it and saving it, beside the book, because there is room for the book
 * there. What an earlier run left behind is removed.
 * @param what "backup": for the codes and words of what it refuses
 * @param mostBytes the most that goes through a window at once
 */
export function saveShelf<T extends { name: string }>(
  path: string,
  what: string,
  mostBytes: number,
  tooBigNext: string,
) {
  let waiting: Waiting<T> | undefined;
  let isBusy = false;
  const clear = () => {
    waiting = undefined;
    for (const tail of ['', '.part']) rmSync(path + tail, { force: true });
  };
  clear();
  return {
    path,
    /**
     * Makes it, as `write` does at `path`, and answers how it is fetched. Refuses (`…-under-way`, `…-too-big`, and
     * what `write` refuses, `cancelled` among it; nothing is then left).
     */
    async make(write: () => Promise<T>): Promise<Waiting<T>> {
      if (isBusy) {
        throw new Refusal(`${what}-under-way`, `A ${what} is being made or fetched already.`, {
          next: 'Wait a moment, then make it again.',
        });
      }
      isBusy = true;
      try {
        clear();
        const more = await write();
        const bytes = statSync(path).size;
        if (bytes > mostBytes) {
          throw new Refusal(
            `${what}-too-big`,
            `This ${what === 'backup' ? 'book' : what} is too large to be saved from a window.`,
            {
              next: tooBigNext,
            },
          );
        }
        const made = { ...more, file: await hashOfFile(path), bytes };
        waiting = made;
        return made;
      } catch (thrown) {
        clear();
        throw thrown;
      } finally {
        isBusy = false;
      }
    },
    /** Hands it over, once: the file beside the book is removed. `taken` is told before that. */
    async take(
      file: string,
      taken: (made: Waiting<T>) => void = () => {},
    ): Promise<{ name: string; bytes: Uint8Array } | undefined> {
      if (waiting?.file !== file) return undefined;
      const made = waiting;
      // Before the wait: of two who ask at once only one gets it.
      waiting = undefined;
      isBusy = true;
      try {
        const bytes = await readFile(path);
        taken(made);
        return { name: made.name, bytes };
      } finally {
        isBusy = false;
        clear();
      }
    },
    close: clear,
  };
}

async function hashOfFile(path: string): Promise<string> {
  const hash = createHash('sha256');
  for await (const chunk of createReadStream(path)) hash.update(chunk as Uint8Array);
  return hash.digest('hex');
}
