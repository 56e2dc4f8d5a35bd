import { useEffect, useState, useSyncExternalStore } from 'react';
import type { Ask, Reply } from '../../src-shared/calls/all.ts';
import { desk, newRequestId } from '../desk.ts';
import { LongRun, type LongState } from './long-run.ts';

/** The calls that may take long: they take the id of the work, to be asked about and ended by it. */
export type LongCall = 'verify' | 'recheck' | 'book-paper' | 'make-backup' | 'make-pack';

export type LongWork<N extends LongCall> = {
  readonly now: LongState<Reply<N>>;
  readonly isBusy: boolean;
  /** Begins; answers what came of it, or nothing when it was refused or ended. */
  start(request: Omit<Ask<N>, 'work'>): Promise<Reply<N> | undefined>;
  cancel(): void;
};

/** Long work of the desk for one screen; it ends with the screen. Show it with `<Working>`. */
export function useLongWork<N extends LongCall>(name: N): LongWork<N> {
  const [run] = useState(
    () =>
      new LongRun<Omit<Ask<N>, 'work'>, Reply<N>>(
        {
          // The request of each of these calls with its id is what the call asks for.
          begin: (request, work) => desk.call(name, { ...request, work } as Ask<N>),
          progress: (work) => desk.call('work-progress', { work }),
          end: (work) => desk.call('cancel-work', { work }),
        },
        newRequestId,
      ),
  );
  const now = useSyncExternalStore(run.follow, () => run.state);
  useEffect(() => run.cancel, [run]);
  return { now, isBusy: now.state === 'busy', start: run.start, cancel: run.cancel };
}
