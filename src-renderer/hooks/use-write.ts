import { useEffect, useRef, useState, useSyncExternalStore } from 'react';
import type { Ask, Reply, WritingCall } from '../../src-shared/calls/all.ts';
import { desk, newRequestId } from '../desk.ts';
import { somethingWasWritten } from './use-call.ts';
import { useWriter } from './use-writer.ts';
import { WriteRun, type WriteState } from './write-run.ts';

export type { WriteQuestion, WriteState } from './write-run.ts';

/** What a screen fills in: the id, the writer and the questions answered are added here. */
export type Filled<N extends WritingCall> = Omit<Ask<N>, 'request' | 'by' | 'confirmed'> & { by?: string };

export type Write<N extends WritingCall> = {
  readonly now: WriteState<Reply<N>>;
  readonly isBusy: boolean;
  /** Sends. What comes of it is in `now`, and goes to `onDone` once it is written. */
  send(filled: Filled<N>): Promise<void>;
  /** Answers the question with yes and sends again. */
  yes(): Promise<void>;
  /** Goes back to the form; nothing was written. */
  no(): void;
  /** Makes the next sending a new act even when its content is the same. */
  next(): void;
};

/**
 * A writing call for one form. A double Enter is written once. Give it to `<Form write={…}>`, which shows
 * refusals beside their fields and questions with their deed.
 */
export function useWrite<N extends WritingCall>(
  name: N,
  /** What follows once it is written, whether at once or after a question. */
  onDone?: (reply: Reply<N>) => void,
): Write<N> {
  const { person } = useWriter();
  const follows = useRef(onDone);
  useEffect(() => {
    follows.current = onDone;
  });
  const [held] = useState(() => {
    const listeners = new Set<() => void>();
    const run = new WriteRun<Reply<N>>(
      async (ask, confirmed, id) => {
        // `ask` came in as Filled<N>; the run keeps it untyped because it only carries it.
        const request = { ...ask, confirmed } as Omit<Ask<N>, 'request'>;
        const outcome = await desk.write(name, request, id);
        // Before the form goes on: what it shows next must already know what was written.
        if (outcome.ok) await somethingWasWritten();
        return outcome;
      },
      newRequestId,
      () => {
        for (const listener of listeners) listener();
      },
    );
    const follow = (listener: () => void) => {
      listeners.add(listener);
      return () => {
        listeners.delete(listener);
      };
    };
    return { run, follow };
  });
  const now = useSyncExternalStore(held.follow, () => held.run.state);
  const finish = (reply: Reply<N> | undefined) => {
    if (reply !== undefined) follows.current?.(reply);
  };
  return {
    now,
    isBusy: now.state === 'busy',
    send: async (filled) =>
      finish(await held.run.send({ ...(person === undefined ? {} : { by: person }), ...filled })),
    yes: async () => finish(await held.run.yes()),
    no: () => held.run.no(),
    next: () => held.run.next(),
  };
}
