/** The eight places, in the order they stand on every screen. */
export const PLACES = ['today', 'cabinet', 'flock', 'treat', 'book', 'declare', 'order', 'farm'] as const;
export type Place = (typeof PLACES)[number];

export const PLACE_NAMES: Readonly<Record<Place, string>> = {
  today: 'Today',
  cabinet: 'Cabinet',
  flock: 'Flock',
  treat: 'Treat',
  book: 'Book',
  declare: 'Declare',
  order: 'Order',
  farm: 'Farm',
};

/** The heads under which deeds are listed, in their order. */
export const COMMAND_GROUPS = [
  'Go to',
  'At the race',
  'Stock',
  'Flock',
  'Papers',
  'Farm',
  'Foldbook',
] as const;
export type CommandGroup = (typeof COMMAND_GROUPS)[number];

/**
 * A deed. `shortcut` is either a run of plain keys ("g t": one after the other, only outside fields), or one
 * key held with Ctrl, or with Cmd on a Mac ("Mod+k"). `at` is the screen that does it, as its path; a deed
 * without one is done where it stands, by whichever screen has taken it on.
 */
export type Command = {
  readonly id: string;
  readonly name: string;
  readonly group: CommandGroup;
  readonly place?: Place;
  readonly shortcut?: string;
  readonly at?: string;
  /** Other words a person may look for it by. */
  readonly also?: string;
};
