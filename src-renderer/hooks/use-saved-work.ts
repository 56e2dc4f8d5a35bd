import { useEffect, useRef, useState } from 'react';
import type { Ask, Reply } from '../../src-shared/calls/all.ts';
import type { Fault } from '../../src-shared/refusal.ts';
import { desk, type ShownPaper } from '../desk.ts';
import { saveFrom } from '../parts/download.ts';
import { somethingWasWritten } from './use-call.ts';
import { useLongWork } from './use-long-work.ts';

/** Long work whose outcome is one large file that is handed over once. */
export type SavedCall = 'make-backup' | 'make-pack';

export type Taking<N extends SavedCall> =
  | { state: 'idle' | 'busy' }
  | { state: 'failed'; fault: Fault }
  | { state: 'made'; made: Reply<N>; file: ShownPaper };

/**
 * Makes a large file and hands it to the browser to save. The bytes stay at hand until the screen is left.
 * @param gone what is said when the desk has it no longer
 */
export function useSavedWork<N extends SavedCall>(name: N, gone: Fault) {
  const work = useLongWork(name);
  const [taking, setTaking] = useState<Taking<N>>({ state: 'idle' });
  const held = useRef<{ file?: ShownPaper | undefined; isGone: boolean }>({ isGone: false });
  useEffect(() => {
    const here = held.current;
    here.isGone = false;
    return () => {
      here.isGone = true;
      here.file?.release();
      here.file = undefined;
    };
  }, []);

  const make = async (request: Omit<Ask<N>, 'work'>) => {
    setTaking({ state: 'idle' });
    const made = await work.start(request);
    if (made === undefined) return;
    setTaking({ state: 'busy' });
    const taken = await desk.paper(made.file);
    if (!taken.ok) {
      const fault = taken.error.code === 'paper-not-found' ? gone : taken.error;
      return setTaking({ state: 'failed', fault });
    }
    if (held.current.isGone) return taken.value.release();
    held.current.file?.release();
    held.current.file = taken.value;
    setTaking({ state: 'made', made, file: taken.value });
    saveFrom(taken.value.url, made.name);
    await somethingWasWritten();
  };
  return { work, taking, make: (request: Omit<Ask<N>, 'work'>) => void make(request) };
}
