import { describe, expect, test } from 'vitest';
import { clickable, type MenuItem, menuTemplate } from '../../src-main/host-electron/menu.ts';
import { COMMAND_GROUPS, COMMANDS, type Command, PLACE_NAMES, PLACES } from '../../src-shared/commands.ts';

const commands: readonly Command[] = COMMANDS;
const platforms = ['linux', 'darwin', 'win32'] as const;
const bare = (label: string | undefined) => label?.replace('&', '') ?? '';
const itemsOf = (menus: readonly MenuItem[]) => menus.flatMap((menu) => menu.submenu ?? []);
const menuOf = (menus: readonly MenuItem[], name: string) =>
  menus.find((menu) => bare(menu.label) === name)?.submenu ?? [];

describe.each(platforms)('the menu on %s', (platform) => {
  const menus = menuTemplate(platform, commands);

  test('has every deed once, under the head it has everywhere, in the same order', () => {
    const deeds = itemsOf(menus).filter((item) => item.command !== undefined);
    expect(deeds.map((item) => item.command).sort()).toEqual(commands.map((one) => one.id).sort());
    for (const group of COMMAND_GROUPS) {
      const there = menuOf(menus, group).filter((item) => item.command !== undefined);
      expect(there.map((item) => item.command)).toEqual(
        commands.filter((one) => one.group === group).map((one) => one.id),
      );
    }
    expect(menuOf(menus, 'Go to').map((item) => item.label?.replace(/ \(g, then \w\)$/, ''))).toEqual(
      PLACES.map((place) => PLACE_NAMES[place]),
    );
  });

  test('takes no key away from typing: accelerators are held keys only, each once', () => {
    const byId = new Map(commands.map((one) => [one.id, one]));
    const accelerators: string[] = [];
    for (const { command, label, accelerator } of itemsOf(menus)) {
      if (command === undefined) continue;
      const { name, shortcut } = byId.get(command) ?? { name: '' };
      const isHeld = shortcut?.startsWith('Mod+') === true;
      expect([command, accelerator !== undefined]).toEqual([command, isHeld]);
      if (accelerator !== undefined) accelerators.push(accelerator);
      const text = shortcut === undefined || isHeld ? '' : ` (${shortcut.split(' ').join(', then ')})`;
      expect(label).toBe(`${name.replaceAll('&', '&&')}${text}`);
    }
    expect(new Set(accelerators).size).toBe(accelerators.length);
    for (const one of accelerators) expect(one).toMatch(/^CommandOrControl\+(?:[A-Z]|Enter)$/);
  });

  test('can be opened from the keyboard by a letter of its own', () => {
    const letters = menus.map((menu) => /&(\w)/.exec(menu.label ?? '')?.[1]?.toLowerCase());
    expect(letters).not.toContain(undefined);
    expect(new Set(letters).size).toBe(menus.length);
  });

  test('can end, edit and zoom, and opens no tools', () => {
    const roles = itemsOf(menus).map((item) => item.role);
    for (const role of ['quit', 'copy', 'paste', 'zoomIn', 'resetZoom']) expect(roles).toContain(role);
    for (const role of ['toggleDevTools', 'reload', 'forceReload']) expect(roles).not.toContain(role);
  });
});

test('a name with & keeps it, and a deed without keys has none', () => {
  const odd: Command = { id: 'odd', name: 'Salt & lick', group: 'Stock' };
  expect(menuOf(menuTemplate('linux', [odd]), 'Stock')).toEqual([{ label: 'Salt && lick', command: 'odd' }]);
});

test('a click sends the id of its deed, and no key is registered beside the page', () => {
  const sent: string[] = [];
  const items = clickable(menuTemplate('win32', commands), (id) => sent.push(id)).flatMap((menu) =>
    Array.isArray(menu.submenu) ? menu.submenu : [],
  );
  for (const item of items) {
    if (item.accelerator !== undefined) expect(item.registerAccelerator).toBe(false);
    // The host's own handler takes none of what the runtime hands to it.
    const { click } = item;
    if (click !== undefined) Reflect.apply(click, undefined, []);
    else expect(item.role ?? item.type).toBeDefined();
  }
  expect(sent.sort()).toEqual(commands.map((one) => one.id).sort());
});
