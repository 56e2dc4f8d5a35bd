/**
 * Every deed that has a name of its own, defined once. The palette, the sheet of keys and the buttons all read
 * it, so a deed is called the same and has the same key wherever it is met.
 */

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

/**
 * No run is the start of another, so no key ever waits. "g" and then a letter goes to a place; a single sign
 * is kept for what must be one key away. None of them is a key of a browser.
 */
export const COMMANDS = [
  { id: 'go-today', name: 'Today', group: 'Go to', place: 'today', shortcut: 'g d', at: 'today' },
  { id: 'go-cabinet', name: 'Cabinet', group: 'Go to', place: 'cabinet', shortcut: 'g c', at: 'cabinet' },
  { id: 'go-flock', name: 'Flock', group: 'Go to', place: 'flock', shortcut: 'g f', at: 'flock' },
  { id: 'go-treat', name: 'Treat', group: 'Go to', place: 'treat', shortcut: 'g t', at: 'treat' },
  { id: 'go-book', name: 'Book', group: 'Go to', place: 'book', shortcut: 'g b', at: 'book' },
  {
    id: 'go-declare',
    name: 'Declare',
    group: 'Go to',
    place: 'declare',
    shortcut: 'g l',
    at: 'declare',
    also: 'abattoir slaughter',
  },
  {
    id: 'go-order',
    name: 'Order',
    group: 'Go to',
    place: 'order',
    shortcut: 'g o',
    at: 'order',
    also: 'buy',
  },
  {
    id: 'go-farm',
    name: 'Farm',
    group: 'Go to',
    place: 'farm',
    shortcut: 'g m',
    at: 'farm',
    also: 'settings',
  },

  {
    id: 'plan-session',
    name: 'Plan work at the race',
    group: 'At the race',
    place: 'treat',
    shortcut: 'n p',
    at: 'treat/plan',
    also: 'session dose vaccinate',
  },
  {
    id: 'treat-one',
    name: 'Write down one treatment',
    group: 'At the race',
    place: 'treat',
    shortcut: 'n t',
    at: 'treat/one',
    also: 'single record',
  },
  {
    id: 'take-back-last',
    name: 'Take back the last one',
    group: 'At the race',
    place: 'treat',
    shortcut: 'Mod+b',
    also: 'void undo strike out wrong animal',
  },
  {
    id: 'given-otherwise',
    name: 'Write what was different',
    group: 'At the race',
    place: 'treat',
    shortcut: 'Mod+i',
    also: 'amount bottle given lost spilt',
  },
  {
    id: 'pause-session',
    name: 'Pause and leave the race',
    group: 'At the race',
    place: 'treat',
    also: 'break stop later',
  },
  {
    id: 'close-session',
    name: 'Close the session',
    group: 'At the race',
    place: 'treat',
    also: 'count heads finish end',
  },
  {
    id: 'emergency-sheet',
    name: 'Somebody was injected: what to do',
    group: 'At the race',
    place: 'treat',
    shortcut: '!',
    at: 'treat/emergency',
    also: 'emergency needlestick accident doctor',
  },

  {
    id: 'receive-batch',
    name: 'Take in a delivery',
    group: 'Stock',
    place: 'cabinet',
    shortcut: 'n d',
    at: 'cabinet/delivery',
    also: 'batch received bottle',
  },
  {
    id: 'write-label',
    name: 'Write down a label',
    group: 'Stock',
    place: 'cabinet',
    shortcut: 'n l',
    at: 'cabinet/label',
    also: 'medicine insert new',
  },
  {
    id: 'receive-here',
    name: 'Take in more of what is shown',
    group: 'Stock',
    shortcut: '+',
    also: 'delivery receive batch',
  },
  {
    id: 'count-here',
    name: 'Count what is shown',
    group: 'Stock',
    shortcut: '=',
    also: 'stock take container bottle',
  },

  {
    id: 'find-subject',
    name: 'Find an animal or lot by its number',
    group: 'Flock',
    place: 'flock',
    shortcut: 'g n',
    at: 'flock/find',
    also: 'tag chip read reader',
  },
  {
    id: 'add-animal',
    name: 'Add an animal or a lot',
    group: 'Flock',
    place: 'flock',
    shortcut: 'n a',
    at: 'flock/add',
    also: 'tag ewe lamb',
  },
  {
    id: 'import-animals',
    name: 'Bring in a flock file',
    group: 'Flock',
    place: 'flock',
    at: 'flock/import',
    also: 'csv import',
  },
  {
    id: 'import-weighings',
    name: 'Bring in weights from the crate',
    group: 'Flock',
    place: 'flock',
    at: 'flock/weights',
    also: 'csv weighings scale',
  },
  {
    id: 'set-group',
    name: 'Make a group',
    group: 'Flock',
    place: 'flock',
    shortcut: 'n g',
    at: 'flock/groups',
    also: 'selection dates tupping lambing',
  },

  {
    id: 'depart',
    name: 'Write down who left',
    group: 'Flock',
    place: 'flock',
    shortcut: 'n x',
    at: 'flock/depart',
    also: 'sold died slaughter moved lost gone',
  },
  {
    id: 'imports',
    name: 'Files that came in, and taking one back',
    group: 'Flock',
    place: 'flock',
    at: 'flock/imports',
    also: 'undo withdraw import',
  },
  { id: 'treat-this', name: 'Treat the one on the screen', group: 'Flock', shortcut: 'a t', also: 'dose' },
  { id: 'weigh-this', name: 'Weigh the one on the screen', group: 'Flock', shortcut: 'a w', also: 'weight' },
  {
    id: 'change-this',
    name: 'Change the one on the screen, or give it another tag',
    group: 'Flock',
    shortcut: 'a c',
    also: 'retag number recount',
  },
  {
    id: 'move-heads',
    name: 'Split the lot on the screen, or name one out of it',
    group: 'Flock',
    shortcut: 'a m',
    also: 'merge heads tag',
  },
  {
    id: 'depart-this',
    name: 'The one on the screen left',
    group: 'Flock',
    shortcut: 'a x',
    also: 'sold died',
  },

  {
    id: 'clear-list',
    name: 'See who is held',
    group: 'Papers',
    place: 'declare',
    shortcut: 'g h',
    at: 'declare/clear',
    also: 'clear withdrawal meat milk',
  },
  {
    id: 'declare',
    name: 'Sign a declaration',
    group: 'Papers',
    place: 'declare',
    shortcut: 'n s',
    at: 'declare/new',
    also: 'abattoir slaughter',
  },
  {
    id: 'book-paper',
    name: 'Print the treatment record',
    group: 'Papers',
    place: 'book',
    shortcut: 'n r',
    at: 'book/paper',
    also: 'pdf inspector',
  },
  {
    id: 'entries',
    name: 'Read the journal',
    group: 'Papers',
    place: 'book',
    shortcut: 'g j',
    at: 'book/entries',
    also: 'history who wrote when strike out',
  },
  {
    id: 'check-book',
    name: 'Check the book against a paper',
    group: 'Papers',
    place: 'book',
    shortcut: 'g k',
    at: 'book/check',
    also: 'verify check code recheck rules',
  },

  {
    id: 'farm-papers',
    name: "The vet's instructions and prescriptions",
    group: 'Farm',
    place: 'farm',
    shortcut: 'g v',
    at: 'farm/papers',
    also: 'veterinarian papers',
  },
  {
    id: 'record-instruction',
    name: 'Write down what the vet ordered',
    group: 'Farm',
    place: 'farm',
    shortcut: 'n i',
    at: 'farm/papers/instruction',
    also: 'instruction told off label period',
  },
  {
    id: 'record-prescription',
    name: 'Write down a prescription',
    group: 'Farm',
    place: 'farm',
    shortcut: 'n v',
    at: 'farm/papers/prescription',
    also: 'vet paper number',
  },
  { id: 'set-person', name: 'Add a person or firm', group: 'Farm', place: 'farm', at: 'farm/person' },
  { id: 'set-holding', name: 'Add a holding', group: 'Farm', place: 'farm', at: 'farm/holding' },
  {
    id: 'book-file',
    name: 'Check the book and back it up',
    group: 'Farm',
    place: 'farm',
    at: 'farm/file',
    also: 'verify backup restore check code',
  },
  {
    id: 'confirm-date',
    name: 'Confirm the date',
    group: 'Farm',
    place: 'farm',
    at: 'farm/date',
    also: 'clock',
  },

  { id: 'find', name: 'Find or do anything', group: 'Foldbook', shortcut: 'Mod+k', also: 'palette search' },
  {
    id: 'find-here',
    name: 'Look through this list',
    group: 'Foldbook',
    shortcut: '/',
    also: 'filter search',
  },
  { id: 'keys', name: 'Show the keys', group: 'Foldbook', shortcut: '?', also: 'shortcuts help keyboard' },
  { id: 'save', name: 'Write it in the book', group: 'Foldbook', shortcut: 'Mod+Enter', also: 'save submit' },
  {
    id: 'look',
    name: 'Light, dark, large or high contrast',
    group: 'Foldbook',
    place: 'farm',
    at: 'farm/look',
    also: 'look theme size appearance',
  },
] as const satisfies readonly Command[];

export type CommandId = (typeof COMMANDS)[number]['id'];

/** The deed with this id. */
export function commandOf(id: CommandId): Command {
  // Every id of the type is in the list the type is made from.
  return COMMANDS.find((command) => command.id === id)!;
}

/** A shortcut as it is written for people: "g, then t"; "Ctrl K", or "⌘ K" on a Mac. */
export function printShortcut(shortcut: string, isMac: boolean): string {
  if (shortcut.startsWith('Mod+')) {
    const key = shortcut.slice('Mod+'.length);
    return `${isMac ? '⌘' : 'Ctrl'} ${key.length === 1 ? key.toUpperCase() : key}`;
  }
  return shortcut.split(' ').join(', then ');
}
