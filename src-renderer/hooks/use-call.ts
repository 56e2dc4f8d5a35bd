import { useCallback, useSyncExternalStore } from 'react';
import type { Ask, CallName, Reply } from '../../src-shared/calls/all.ts';
import { desk } from '../desk.ts';
import { type Answer, CallCache } from './call-cache.ts';

export type { Answer } from './call-cache.ts';

const cache = new CallCache();

/** To be called after anything was written. `useWrite` does it by itself. */
export function somethingWasWritten(): Promise<void> {
  return cache.changed();
}

export type Called<T> = Answer<T> & { refresh(): Promise<void> };

const idle = () => () => {};

/**
 * Asks the desk, and asks again after anything was written. `null` in place of the request asks nothing yet,
 * for when something it needs is still missing. Show it with `<Await>`, which says what to do on trouble.
 */
export function useCall<N extends CallName>(name: N, ask: Ask<N> | null): Called<Reply<N>> {
  const key = ask === null ? '' : `${name} ${JSON.stringify(ask)}`;
  const follow = useCallback(
    (listener: () => void) => {
      if (key === '') return idle();
      const request = JSON.parse(key.slice(name.length + 1)) as Ask<N>;
      return cache.follow(key, () => desk.call(name, request), listener);
    },
    [key, name],
  );
  // The key names the call, so what is kept under it is the reply of that call.
  const answer = useSyncExternalStore(follow, () => cache.answer(key)) as Answer<Reply<N>>;
  return { ...answer, refresh: () => cache.refresh(key) };
}
