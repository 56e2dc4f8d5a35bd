import { useState } from 'react';
import type { Ask, CallName, Reply } from '../../src-shared/calls/all.ts';
import { type Called, useCall } from './use-call.ts';

/**
 * As `useCall`, for what is worked out anew with each key: the last answer stays until the next is there, and is
 * marked as being asked again. Show it with `<Steady>`, which says so. Nothing to ask, and a refusal, forget it.
 */
export function useSteady<N extends CallName>(name: N, ask: Ask<N> | null): Called<Reply<N>> {
  const call = useCall(name, ask);
  const [last, setLast] = useState<{ value: Reply<N> } | undefined>(undefined);
  const isForgotten = ask === null || call.state === 'failed';
  if (isForgotten && last !== undefined) setLast(undefined);
  if (!isForgotten && call.state === 'ready' && last?.value !== call.value) setLast({ value: call.value });
  if (isForgotten || call.state !== 'loading' || last === undefined) return call;
  return { state: 'ready', value: last.value, isRefreshing: true, refresh: call.refresh };
}
