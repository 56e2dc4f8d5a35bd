/** How many pieces of something are left in the drawer, from what came, went and was counted. */

export type Move = {
  readonly cause: 'received' | 'counted' | 'used' | 'lost' | 'disposed';
  readonly pieces: number;
};

/**
 * The pieces there are, from the moves in the order in which they happened. Nothing until something was received or
 * counted, and nothing when more went than there was: a number that cannot be right is not known.
 */
export function piecesLeft(moves: readonly Move[]): number | undefined {
  let left: number | undefined;
  for (const { cause, pieces } of moves) {
    if (cause === 'counted') left = pieces;
    else if (cause === 'received') left = (left ?? 0) + pieces;
    else if (left !== undefined) left -= pieces;
    if (left !== undefined && left < 0) left = undefined;
  }
  return left;
}

/** Pieces as they are said: "12", "not counted". */
export function sayLeft(left: number | undefined): string {
  return left === undefined ? 'not counted' : String(left);
}
