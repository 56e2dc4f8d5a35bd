import type { ReactNode } from 'react';
import type { Called } from '../hooks/use-call.ts';
import { FaultNotice } from './notice.tsx';

/**
 * What is worked out anew with each key, by `useSteady`. The last answer stays where it is, and above it stands that
 * it is the last one; the line for that is always there, so that nothing below it jumps.
 */
export function Steady<T>({
  call,
  what,
  children,
}: {
  call: Called<T>;
  /** What is being worked out, in words: "Working out the plan". */
  what: string;
  children: (value: T) => ReactNode;
}) {
  if (call.state === 'failed') return <FaultNotice fault={call.fault} onAgain={() => void call.refresh()} />;
  const isOld = call.state === 'ready' && call.isRefreshing;
  const says = call.state === 'loading' ? `${what}…` : isOld ? `${what} again…` : '';
  return (
    <div className="steady" aria-busy={says !== ''}>
      <p className={says === '' ? 'steady-line' : 'steady-line awaited'} role="status">
        {says}
      </p>
      {call.state === 'loading' ? null : (
        <div className={isOld ? 'steady-old' : undefined}>{children(call.value)}</div>
      )}
    </div>
  );
}
