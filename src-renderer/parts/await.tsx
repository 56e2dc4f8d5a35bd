import type { ReactNode } from 'react';
import type { Called } from '../hooks/use-call.ts';
import { Deed } from './deed.tsx';
import { FaultNotice, Notice } from './notice.tsx';

/** Shows an answer of the desk: a quiet line while it is awaited, what to do next when it was refused. */
export function Await<T>({
  call,
  what,
  children,
}: {
  call: Called<T>;
  /** What is being read, in words: "Reading the cabinet". */
  what: string;
  children: (value: T) => ReactNode;
}) {
  if (call.state === 'failed') return <FaultNotice fault={call.fault} onAgain={() => void call.refresh()} />;
  if (call.state === 'loading') {
    return (
      <p className="awaited" role="status">
        {what}…
      </p>
    );
  }
  return (
    <>
      {call.old === undefined ? null : (
        <Notice kind="mind" word="Old" deed={<Deed onDo={() => void call.refresh()}>Ask again</Deed>}>
          <p>What is shown may be out of date. {call.old.message}</p>
        </Notice>
      )}
      {children(call.value)}
    </>
  );
}
