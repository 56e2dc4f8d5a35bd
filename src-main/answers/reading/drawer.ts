import type { DataOf } from '../../../src-shared/entries/all.ts';
import { type Move, piecesLeft } from '../../../src-shared/needle/drawer.ts';
import type { Needle } from '../../../src-shared/needle/needle.ts';
import type { Reader } from '../../store/store.ts';
import { recordsOf } from './holding.ts';

/** What is in the drawer: needles, syringes and what goes with them. */

export type Consumable = DataOf<'consumable-set'>;
export type InDrawer = { one: Consumable; left: number | undefined; counted: string | undefined };

/** Everything that is kept, in the order of its kind, needles widest first. */
export function drawerOf(tx: Reader): InDrawer[] {
  const moves = new Map<string, { move: Move; at: string }[]>();
  for (const { subject, data, at } of tx.all<{ subject: string; data: string; at: string }>(
    "SELECT subject, data, at FROM record WHERE what = 'consumable-move' ORDER BY at, seq",
  )) {
    const move = JSON.parse(data) as Move;
    moves.set(subject, [...(moves.get(subject) ?? []), { move, at }]);
  }
  return recordsOf<Consumable>(tx, 'consumable').map((one) => {
    const own = moves.get(`consumable:${one.consumable}`) ?? [];
    return {
      one,
      left: piecesLeft(own.map(({ move }) => move)),
      counted: own.findLast(({ move }) => move.cause === 'counted')?.at,
    };
  });
}

/** The needles that are in use and not used up; those that were never counted may be there. */
export function needlesAtHand(drawer: readonly InDrawer[]): Needle[] {
  return drawer.flatMap(({ one, left }) =>
    left === 0 || !one.active || one.size === undefined ? [] : [one.size],
  );
}
