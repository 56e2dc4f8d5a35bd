import type { Reply } from '../../../src-shared/calls/all.ts';
import type { CONSUMABLES } from '../../../src-shared/entries/consumable-set.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import type { InDrawer } from '../reading/drawer.ts';

type Item = Reply<'session-kit'>['items'][number];
/** Something the work needs from the drawer. */
export type Want = { what: (typeof CONSUMABLES)[number]; text: string; wanted: number; why: string };

/** What is wanted against what is there; the same thing wanted twice is added up. */
export function itemsOf(wants: readonly Want[], drawer: readonly InDrawer[]): Item[] {
  const together = new Map<string, Want>();
  for (const want of wants) {
    const key = `${want.what} ${want.text}`;
    const before = together.get(key);
    const why = before === undefined || before.why === want.why ? want.why : `${before.why} ${want.why}`;
    together.set(key, { ...want, wanted: want.wanted + (before?.wanted ?? 0), why });
  }
  return [...together.values()].map((want) => {
    const kept = drawer.filter(({ one }) => one.what === want.what && fits(one.name, want));
    // One that nobody counted may be there; what is short is short of what is known.
    const known = kept.filter(({ left }) => left !== undefined);
    const left = known.reduce((sum, one) => sum + (one.left ?? 0), 0);
    const leftText = kept.length === 0 ? 'none kept' : known.length === 0 ? 'not counted' : String(left);
    return { ...want, leftText, short: Math.max(0, want.wanted - left) };
  });
}

/** Needles and syringes by their size; of spares and boxes any will do, of sprays one of the colour. */
function fits(name: string, { what, text }: Want): boolean {
  if (what === 'gun-spare' || what === 'sharps-box' || text === 'any colour') return true;
  if (what === 'marking-spray') return searchKey(name).includes(searchKey(text));
  return searchKey(name) === searchKey(text);
}
