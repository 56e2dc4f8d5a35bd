/**
 * What the heads of a lot have had. A lot that took in heads, or of which only some were treated, is not all alike:
 * for what protects, only what every head had may count, so the different histories are kept apart.
 */

/** What happened to a lot, in the order in which it happened. */
export type LotEvent =
  /** Counted anew: what is more than before came from nowhere the book knows. */
  | { what: 'counted'; heads: number }
  /** Heads came in, each with one of these histories. */
  | { what: 'in'; heads: number; had: readonly (readonly string[])[] }
  | { what: 'out'; heads: number }
  | { what: 'dose'; heads: number; id: string };

/** More different histories than this are no longer told apart: what all of them share is kept. */
const MOST = 32;

/**
 * The different lists of doses that heads of the lot have had, each once. One list: all had the same. None: no head
 * is or was in it.
 */
export function headsHad(events: readonly LotEvent[]): string[][] {
  let heads = 0;
  let had: string[][] = [];
  for (const event of events) {
    switch (event.what) {
      case 'counted':
        if (heads === 0) had = [];
        if (event.heads > heads) had = distinct([...had, []]);
        heads = event.heads;
        break;
      case 'in':
        if (heads === 0) had = [];
        had = distinct([...had, ...event.had.map((list) => [...list])]);
        heads += event.heads;
        break;
      case 'out':
        heads = Math.max(0, heads - event.heads);
        break;
      case 'dose': {
        const dosed = had.map((list) => [...list, event.id]);
        // Some of them and nobody knows which: each history with it and without it.
        had = event.heads >= heads ? dosed : distinct([...had, ...dosed]);
        break;
      }
    }
  }
  return had;
}

function distinct(lists: string[][]): string[][] {
  const once = [...new Map(lists.map((list) => [list.join('\n'), list])).values()];
  if (once.length <= MOST) return once;
  const [first = [], ...others] = once;
  const shared = first.filter((id) => others.every((list) => list.includes(id)));
  // With what none has beside it, so that it is still seen that they are not all alike.
  return [shared, first.length > shared.length ? first : (others[0] ?? shared)];
}
