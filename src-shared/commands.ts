import type { Command } from './commands/command.ts';
import { FARM } from './commands/farm.ts';
import { FLOCK } from './commands/flock.ts';
import { FOLDBOOK } from './commands/foldbook.ts';
import { PAPERS } from './commands/papers.ts';
import { GO_TO } from './commands/places.ts';
import { AT_THE_RACE } from './commands/race.ts';
import { STOCK } from './commands/stock.ts';

export {
  COMMAND_GROUPS,
  type Command,
  type CommandGroup,
  PLACE_NAMES,
  PLACES,
  type Place,
} from './commands/command.ts';

/**
 * Every deed that has a name of its own, defined once. The palette, the sheet of keys and the buttons all read
 * it, so a deed is called the same and has the same key wherever it is met.
 *
 * No run is the start of another, so no key ever waits. "g" and then a letter goes to a place; a single sign
 * is kept for what must be one key away. None of them is a key of a browser.
 */
export const COMMANDS = [
  ...GO_TO,
  ...AT_THE_RACE,
  ...STOCK,
  ...FLOCK,
  ...PAPERS,
  ...FARM,
  ...FOLDBOOK,
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
