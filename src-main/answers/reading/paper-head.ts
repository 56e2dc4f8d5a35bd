import { Refusal } from '../../../src-shared/refusal.ts';
import type { PaperHead } from '../../paper/parts.ts';
import { clockState } from '../../store/store.ts';
import type { Context } from '../context.ts';
import { paperHead } from '../declare/paper.ts';
import { type Holding, onlyHolding } from './holding.ts';

/** The holding of a paper that is of the whole farm. Refuses (`no-such-holding`). */
export function farmHolding(context: Context): Holding {
  const holding = onlyHolding(context.store.read);
  if (holding) return holding;
  throw new Refusal('no-such-holding', 'The book has no holding yet.', {
    next: 'Write down the farm first.',
  });
}

/** What a paper made now carries: the holding, the check code of the last entry, and whether the date was certain. */
export function farmPaperHead(
  { store, now }: Context,
  holding: Holding,
  size: 'a4' | 'letter' | undefined,
): PaperHead {
  return paperHead(store.read, holding, {
    now: now(),
    checkCode: store.head().checkCode,
    size: size ?? holding.paper,
    doubted: clockState(store, now()).state === 'doubted',
  });
}
