import type { MenuItemConstructorOptions } from 'electron';
import { COMMAND_GROUPS, type Command, type CommandGroup, printShortcut } from '../../src-shared/commands.ts';

/** An item of the menu as data. `command` is the id of the deed that a click asks the page to do. */
export type MenuItem = {
  label?: string;
  role?: NonNullable<MenuItemConstructorOptions['role']>;
  type?: 'separator';
  accelerator?: string;
  command?: string;
  submenu?: MenuItem[];
};

/** The heads of the deeds with the letter that opens each menu from the keyboard; a test holds them together. */
const menuNames: Readonly<Record<CommandGroup, string>> = {
  'Go to': '&Go to',
  'At the race': 'At the &race',
  Stock: '&Stock',
  Flock: 'F&lock',
  Papers: '&Papers',
  Farm: 'F&arm',
  Foldbook: 'Fold&book',
};

const separator: MenuItem = { type: 'separator' };
const roles = (...names: NonNullable<MenuItem['role']>[]): MenuItem[] => names.map((role) => ({ role }));

/**
 * The menu bar by platform, as data: a menu for each head of the one list of deeds, a line for each deed, and the
 * standard roles. No item opens developer tools or a second window.
 */
export function menuTemplate(platform: NodeJS.Platform, commands: readonly Command[]): MenuItem[] {
  const isMac = platform === 'darwin';
  const deeds = (group: CommandGroup): MenuItem[] =>
    commands.filter((command) => command.group === group).map((command) => deed(command, isMac));
  // On a Mac the first menu is the program's own, whatever it is called.
  const own = [
    ...(isMac ? [...roles('about'), separator] : []),
    ...deeds('Foldbook'),
    separator,
    ...(isMac ? [...roles('hide', 'hideOthers', 'unhide'), separator] : []),
    ...roles('quit'),
  ];
  return [
    { label: menuNames.Foldbook, submenu: own },
    {
      label: '&Edit',
      submenu: [...roles('undo', 'redo'), separator, ...roles('cut', 'copy', 'paste', 'selectAll')],
    },
    {
      label: '&View',
      submenu: [...roles('zoomIn', 'zoomOut', 'resetZoom'), separator, ...roles('togglefullscreen')],
    },
    ...COMMAND_GROUPS.filter((group) => group !== 'Foldbook').map((group) => ({
      label: menuNames[group],
      submenu: deeds(group),
    })),
    { label: '&Window', submenu: roles('minimize', 'close') },
  ];
}

/**
 * Only a key held with Ctrl or Cmd is an accelerator; keys pressed alone would be taken away from typing, so they
 * stand behind the name to be read.
 */
function deed({ id, name, shortcut }: Command, isMac: boolean): MenuItem {
  // A single & would be taken for the mark of a letter.
  const label = name.replaceAll('&', '&&');
  if (shortcut === undefined) return { label, command: id };
  if (!shortcut.startsWith('Mod+')) {
    return { label: `${label} (${printShortcut(shortcut, isMac)})`, command: id };
  }
  const key = shortcut.slice('Mod+'.length);
  return {
    label,
    command: id,
    accelerator: `CommandOrControl+${key.length === 1 ? key.toUpperCase() : key}`,
  };
}

/**
 * The items as the runtime takes them; `send` gets the id of the deed that was clicked. Accelerators are shown and
 * not registered: the page hears its keys by itself, and a deed such as taking one back must not be done twice. (A
 * Mac knows no such switch; there the menu hears only keys that the page has not used.)
 */
export function clickable(
  items: readonly MenuItem[],
  send: (command: string) => void,
): MenuItemConstructorOptions[] {
  return items.map(({ command, submenu, ...item }) => ({
    ...item,
    ...(submenu === undefined ? {} : { submenu: clickable(submenu, send) }),
    ...(item.accelerator === undefined ? {} : { registerAccelerator: false }),
    ...(command === undefined ? {} : { id: command, click: () => send(command) }),
  }));
}
