import { Refusal } from '../../src-shared/refusal.ts';

/** What the work was refused with; fails when it was not refused, or failed in any other way. */
export function refused(work: () => unknown): Refusal {
  let value: unknown;
  try {
    value = work();
  } catch (thrown) {
    if (thrown instanceof Refusal) return thrown;
    throw thrown;
  }
  throw new Error(`Not refused: it answered ${JSON.stringify(value)}`);
}
