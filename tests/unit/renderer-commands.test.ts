import { describe, expect, it } from 'vitest';
import { isRoutePath, ROUTES } from '../../src-renderer/routes.ts';
import { hear, type Press } from '../../src-renderer/shell/key-runs.ts';
import { COMMANDS, type Command, PLACE_NAMES, PLACES, printShortcut } from '../../src-shared/commands.ts';

const commands: readonly Command[] = COMMANDS;
const plain = (key: string, more: Partial<Press> = {}): Press => ({
  key,
  mod: false,
  alt: false,
  inField: false,
  ...more,
});

/** Keys that browsers take for themselves, held with Ctrl or Cmd. */
const ofBrowsers = [
  't',
  'n',
  'w',
  'r',
  'l',
  'p',
  's',
  'f',
  'd',
  'h',
  'j',
  'u',
  'o',
  'q',
  'a',
  'c',
  'v',
  'x',
  'z',
  'y',
];

describe('the one list of deeds', () => {
  it('has each id and each name once', () => {
    expect(new Set(commands.map((one) => one.id)).size).toBe(commands.length);
    expect(new Set(commands.map((one) => one.name)).size).toBe(commands.length);
  });

  it('has a way to each of the eight places, under its name', () => {
    expect(PLACES.length).toBe(8);
    for (const place of PLACES) {
      const way = commands.find((one) => one.id === `go-${place}`);
      expect(way?.name).toBe(PLACE_NAMES[place]);
      expect(way?.at).toBe(place);
      expect(way?.shortcut).toMatch(/^g \w$/);
    }
  });

  it('leads only to screens that there are, and to none that wants to know more', () => {
    for (const { id, at, place } of commands) {
      if (at === undefined) continue;
      expect(isRoutePath(at), `${id} leads to ${at}`).toBe(true);
      expect(at).not.toContain(':');
      if (isRoutePath(at) && place !== undefined) expect(ROUTES[at].place).toBe(place);
    }
  });

  it('has no key twice, and no run that is the start of another', () => {
    const keys = commands.flatMap((one) => (one.shortcut === undefined ? [] : [one.shortcut]));
    expect(new Set(keys).size).toBe(keys.length);
    for (const key of keys) {
      expect(keys.filter((other) => other.startsWith(`${key} `))).toEqual([]);
    }
  });

  it('takes no key from a browser', () => {
    for (const { shortcut } of commands) {
      if (shortcut?.startsWith('Mod+') !== true) continue;
      expect(ofBrowsers).not.toContain(shortcut.slice('Mod+'.length));
    }
  });

  it('writes keys as people read them', () => {
    expect(printShortcut('g t', false)).toBe('g, then t');
    expect(printShortcut('Mod+k', false)).toBe('Ctrl K');
    expect(printShortcut('Mod+k', true)).toBe('⌘ K');
    expect(printShortcut('?', false)).toBe('?');
  });
});

describe('hearing keys', () => {
  it('does the deed after the second key of a run', () => {
    expect(hear(commands, plain('g'), '')).toEqual({ kind: 'started', run: 'g' });
    expect(hear(commands, plain('t'), 'g')).toEqual({ kind: 'deed', id: 'go-treat' });
  });

  it('never takes a key away from somebody typing', () => {
    for (const { shortcut } of commands) {
      if (shortcut === undefined || shortcut.startsWith('Mod+')) continue;
      for (const key of shortcut.split(' ')) {
        expect(hear(commands, plain(key, { inField: true }), '')).toEqual({ kind: 'none' });
        expect(hear(commands, plain(key, { inField: true }), 'g')).toEqual({ kind: 'none' });
      }
    }
  });

  it('hears keys held with Ctrl in a field too, in either case', () => {
    expect(hear(commands, plain('k', { mod: true, inField: true }), '')).toEqual({
      kind: 'deed',
      id: 'find',
    });
    expect(hear(commands, plain('K', { mod: true }), '')).toEqual({ kind: 'deed', id: 'find' });
    expect(hear(commands, plain('Enter', { mod: true, inField: true }), '')).toEqual({
      kind: 'deed',
      id: 'save',
    });
  });

  it('starts anew after a wrong second key', () => {
    const few = [
      { id: 'go', shortcut: 'g t' },
      { id: 'new', shortcut: 'n a' },
      { id: 'keys', shortcut: '?' },
    ];
    expect(hear(few, plain('n'), 'g')).toEqual({ kind: 'started', run: 'n' });
    expect(hear(few, plain('?'), 'g')).toEqual({ kind: 'deed', id: 'keys' });
    expect(hear(few, plain('z'), 'g')).toEqual({ kind: 'none' });
  });

  it('leaves keys with Alt and keys that write nothing alone', () => {
    expect(hear(commands, plain('g', { alt: true }), '')).toEqual({ kind: 'none' });
    expect(hear(commands, plain('Tab'), '')).toEqual({ kind: 'none' });
  });
});
