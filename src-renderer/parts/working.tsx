import type { LongState } from '../hooks/long-run.ts';
import { FaultNotice } from './notice.tsx';
import { Progress } from './progress.tsx';

/** Long work as it goes on: how far it is and a way to end it; that it was stopped; why it was refused. */
export function Working({
  work,
  what,
  onAgain,
}: {
  work: { readonly now: LongState<unknown>; cancel(): void };
  /** What is being done, in words: "Reading every entry". */
  what: string;
  onAgain?: () => void;
}) {
  const { now } = work;
  if (now.state === 'failed') {
    return <FaultNotice fault={now.fault} onAgain={onAgain} />;
  }
  if (now.state === 'stopped') return <p role="status">Stopped. Nothing of it is left.</p>;
  if (now.state !== 'busy' || !now.isLong) return null;
  return now.isEnding ? (
    <Progress what="Stopping" />
  ) : (
    <Progress what={what} step={now.step} share={now.share} onCancel={work.cancel} />
  );
}
