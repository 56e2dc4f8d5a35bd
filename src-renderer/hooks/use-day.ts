import { useEffect, useRef } from 'react';
import type { Reply } from '../../src-shared/calls/all.ts';
import { desk } from '../desk.ts';
import { somethingWasWritten } from './use-call.ts';

type Clock = Reply<'farm'>['clock'];

/** While nobody does anything the day is looked at this often: a screen that is only looked at changes over too. */
const everyMs = 60_000;

const sayClock = ({ today, state }: Clock) => `${today} ${state}`;

/**
 * Looks what day it is with each screen that is opened, when somebody comes back to the window, and once a minute. A
 * program left open over night would else go on with yesterday: courses would be planned a day early, and what clears
 * today would be said of the day before. When the day, or whether the computer's date is believed, is another than is
 * shown, everything on the screen is asked again.
 * @param shown what the screens stand on by now; absent before the book is read
 * @param visit another number for each screen that is opened
 */
export function useDay(shown: Clock | undefined, visit: number): void {
  const last = useRef(shown);
  last.current = shown;
  useEffect(() => {
    void look(last.current);
    // Each screen looks for itself.
    void visit;
  }, [visit]);
  useEffect(() => {
    const lookAgain = () => {
      if (!document.hidden) void look(last.current);
    };
    window.addEventListener('focus', lookAgain);
    document.addEventListener('visibilitychange', lookAgain);
    const timer = window.setInterval(lookAgain, everyMs);
    return () => {
      window.removeEventListener('focus', lookAgain);
      document.removeEventListener('visibilitychange', lookAgain);
      window.clearInterval(timer);
    };
  }, []);
}

async function look(shown: Clock | undefined): Promise<void> {
  if (shown === undefined) return;
  const outcome = await desk.call('farm', {});
  // A desk that does not answer is said by what is on the screen.
  if (outcome.ok && sayClock(outcome.value.clock) !== sayClock(shown)) await somethingWasWritten();
}
