import { Refusal } from '../../src-shared/refusal.ts';
import type { TellProgress } from './serve.ts';

/** What a piece of long work is started with: when to end, and where to say how far it is. */
export type WorkTools = { signal: AbortSignal; onProgress: TellProgress };

export type Progress = { done: number; total: number; step?: string | undefined };

/**
 * The long work that is under way, by the id its caller gave it, so that a screen can ask how far it is and end it.
 * Work without an id cannot be asked about; all of it ends with `closing`.
 */
export function workBoard(closing: AbortSignal) {
  const running = new Map<string, Progress & { end: AbortController }>();
  return {
    /** Does a piece of work. Refuses (`work-under-way`) an id that is in use, and what the work refuses. */
    async run<T>(id: string | undefined, work: (tools: WorkTools) => Promise<T>): Promise<T> {
      if (id === undefined) return work({ signal: closing, onProgress: () => {} });
      if (running.has(id)) {
        throw new Refusal('work-under-way', 'This is being done already.', {
          field: 'work',
          next: 'Wait until it is done.',
        });
      }
      const own: Progress & { end: AbortController } = { done: 0, total: 0, end: new AbortController() };
      running.set(id, own);
      try {
        return await work({
          signal: AbortSignal.any([closing, own.end.signal]),
          onProgress: (done, total, step) => Object.assign(own, { done, total, step }),
        });
      } finally {
        running.delete(id);
      }
    },
    /** How far it is; undefined when nothing of this id is under way. A total of 0: not known. */
    progress(id: string): Progress | undefined {
      const found = running.get(id);
      return found && { done: found.done, total: found.total, step: found.step };
    },
    /** Ends it. False when nothing of this id is under way. */
    cancel(id: string): boolean {
      const found = running.get(id);
      found?.end.abort();
      return found !== undefined;
    },
  };
}
export type WorkBoard = ReturnType<typeof workBoard>;
