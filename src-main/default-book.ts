import { mkdirSync } from 'node:fs';
import path from 'node:path';
import { Refusal } from '../src-shared/refusal.ts';

/** The few things about a computer that decide where its files belong. */
export type Computer = {
  platform: NodeJS.Platform;
  env: Readonly<Record<string, string | undefined>>;
  home: string;
};

function pathsOf(platform: NodeJS.Platform): path.PlatformPath {
  return platform === 'win32' ? path.win32 : path.posix;
}

/**
 * Foldbook's own folder in the platform's place for user data: XDG_DATA_HOME or ~/.local/share,
 * ~/Library/Application Support, or %APPDATA%. A relative XDG_DATA_HOME is ignored, as the XDG base
 * directory specification asks.
 */
export function userDataFolder({ platform, env, home }: Computer): string {
  const paths = pathsOf(platform);
  if (platform === 'win32') {
    const roaming = env.APPDATA;
    return paths.join(roaming ? roaming : paths.join(home, 'AppData', 'Roaming'), 'foldbook');
  }
  if (platform === 'darwin') return paths.join(home, 'Library', 'Application Support', 'foldbook');
  const data = env.XDG_DATA_HOME;
  return paths.join(data && paths.isAbsolute(data) ? data : paths.join(home, '.local', 'share'), 'foldbook');
}

/**
 * The book that every host opens: the one named by `--book`, else by FOLDBOOK_BOOK, else the default one.
 * A relative name is taken from `folder`. Throws Refusal when a name is given but empty.
 */
export function chooseBook(flag: string | undefined, computer: Computer, folder: string): string {
  const paths = pathsOf(computer.platform);
  const named = flag ?? computer.env.FOLDBOOK_BOOK;
  if (named === undefined) return paths.join(userDataFolder(computer), 'book.foldbook');
  if (named.trim() === '' || named.includes('\0')) {
    throw new Refusal('book-not-named', 'The name of the book is empty.', {
      field: flag === undefined ? 'FOLDBOOK_BOOK' : '--book',
      next: 'Give the file of the book, or leave the option out to open the usual book.',
    });
  }
  return paths.resolve(folder, named);
}

/**
 * Makes Foldbook's own folder when the book lies in it: on a new machine it is not there yet. A folder that somebody
 * named is never made for them: a name typed wrongly would start an empty book in the wrong place.
 */
export function makeOwnFolder(book: string, computer: Computer): void {
  const own = userDataFolder(computer);
  if (pathsOf(computer.platform).dirname(book) === own) mkdirSync(own, { recursive: true });
}
