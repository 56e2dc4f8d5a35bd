import { describe, expect, test } from 'vitest';
import { isBelow } from '../../src-main/built-files.ts';
import { chooseBook, userDataFolder } from '../../src-main/default-book.ts';
import { readStartOptions } from '../../src-main/start-options.ts';

const linux = { platform: 'linux' as const, env: {}, home: '/home/ewe' };

describe('the usual book', () => {
  test('lies in the platform folder for user data', () => {
    expect(chooseBook(undefined, linux, '/')).toBe('/home/ewe/.local/share/foldbook/book.foldbook');
    const xdg = { ...linux, env: { XDG_DATA_HOME: '/data' } };
    expect(chooseBook(undefined, xdg, '/')).toBe('/data/foldbook/book.foldbook');
    expect(userDataFolder({ platform: 'darwin', env: {}, home: '/Users/ewe' })).toBe(
      '/Users/ewe/Library/Application Support/foldbook',
    );
    const windows = {
      platform: 'win32' as const,
      env: { APPDATA: 'C:\\Users\\ewe\\AppData\\Roaming' },
      home: 'C:\\Users\\ewe',
    };
    expect(userDataFolder(windows)).toBe('C:\\Users\\ewe\\AppData\\Roaming\\foldbook');
    expect(userDataFolder({ ...windows, env: {} })).toBe('C:\\Users\\ewe\\AppData\\Roaming\\foldbook');
  });

  test('a relative or empty XDG_DATA_HOME is ignored', () => {
    for (const XDG_DATA_HOME of ['data', '']) {
      expect(userDataFolder({ ...linux, env: { XDG_DATA_HOME } })).toBe('/home/ewe/.local/share/foldbook');
    }
  });

  test('gives way to FOLDBOOK_BOOK, and that to --book', () => {
    const env = { FOLDBOOK_BOOK: '/b/env.foldbook' };
    expect(chooseBook(undefined, { ...linux, env }, '/here')).toBe('/b/env.foldbook');
    expect(chooseBook('flag.foldbook', { ...linux, env }, '/here')).toBe('/here/flag.foldbook');
  });

  test('an empty name is refused and not taken for the usual book', () => {
    expect(() => chooseBook(' ', linux, '/')).toThrow(
      expect.objectContaining({ code: 'book-not-named', field: '--book' }),
    );
    const env = { FOLDBOOK_BOOK: '' };
    expect(() => chooseBook(undefined, { ...linux, env }, '/')).toThrow(
      expect.objectContaining({ field: 'FOLDBOOK_BOOK' }),
    );
  });
});

describe('the options of npm start', () => {
  test('none asks for a window', () => {
    expect(readStartOptions([])).toEqual({
      book: undefined,
      port: 0,
      noWindow: false,
      inBrowser: false,
      help: false,
    });
  });

  test('a port or no window means a browser', () => {
    expect(readStartOptions(['--port', '8090'])).toMatchObject({ port: 8090, inBrowser: true });
    expect(readStartOptions(['--no-window', '--book', 'a'])).toMatchObject({
      noWindow: true,
      inBrowser: true,
      book: 'a',
    });
  });

  test.each(['0', '80', '1023', '65536', '-1', '8090.5', '0x2000', '', 'abc', '99999999'])(
    'port %s is refused',
    (port) => {
      expect(() => readStartOptions([`--port=${port}`])).toThrow(
        expect.objectContaining({ code: 'port-not-valid', field: '--port' }),
      );
    },
  );

  test.each([[['--bok', 'x']], [['book.foldbook']], [['--book']], [['--no-window=yes']]])(
    '%j is refused with a way to find the options',
    (words) => {
      expect(() => readStartOptions(words)).toThrow(
        expect.objectContaining({ code: 'option-not-known', next: expect.stringContaining('--help') }),
      );
    },
  );
});

test('below a folder means below it, and not beside it under a longer name', () => {
  expect(isBelow('/a/b', '/a/b/c')).toBe(true);
  expect(isBelow('/a/b', '/a/b/..c')).toBe(true);
  for (const other of ['/a/b', '/a/bc', '/a', '/a/b/../c', '/']) expect(isBelow('/a/b', other)).toBe(false);
});
