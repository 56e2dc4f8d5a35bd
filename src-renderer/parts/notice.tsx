import type { ReactNode } from 'react';
import type { Fault } from '../../src-shared/refusal.ts';
import { Deed, DeedLink } from './deed.tsx';

/** How much it matters. The word stands before the text, so that the colour is never needed. */
const words = { note: 'Note', mind: 'Mind', stop: 'Stop', done: 'Written' } as const;

/** A few words set off from the rest. `stop` interrupts a screen reader; the others wait their turn. */
export function Notice({
  kind = 'note',
  word = words[kind],
  children,
  deed,
}: {
  kind?: keyof typeof words;
  /** Another word than Note, Mind, Stop or Written. */
  word?: string;
  children: ReactNode;
  deed?: ReactNode;
}) {
  return (
    <div className={`notice notice-${kind}`} role={kind === 'stop' ? 'alert' : 'status'}>
      <strong className="notice-word">{word}</strong>
      <div className="notice-text">{children}</div>
      {deed === undefined ? null : <div className="notice-deed">{deed}</div>}
    </div>
  );
}

/** A refusal of the desk, with what to do next. */
export function FaultNotice({ fault, onAgain }: { fault: Fault; onAgain?: (() => void) | undefined }) {
  // Asking again does not help against a doubted clock; saying what day it is does.
  const deed =
    fault.code === 'clock-doubted' ? (
      <DeedLink to="farm/date">Confirm the date</DeedLink>
    ) : onAgain === undefined ? undefined : (
      <Deed onDo={onAgain}>Try again</Deed>
    );
  return (
    <Notice kind="stop" deed={deed}>
      <p>{fault.message}</p>
      {fault.next === undefined ? null : <p>{fault.next}</p>}
    </Notice>
  );
}

/** Warnings that came with an answer, each a line. Shows nothing when there are none. */
export function Warnings({ warnings }: { warnings: readonly { code: string; text: string }[] }) {
  if (warnings.length === 0) return null;
  return (
    <Notice kind="mind">
      {warnings.map((warning) => (
        <p key={`${warning.code} ${warning.text}`}>{warning.text}</p>
      ))}
    </Notice>
  );
}
