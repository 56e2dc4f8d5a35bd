import { createHash } from 'node:crypto';
import { homedir } from 'node:os';
import path from 'node:path';
import { app, BrowserWindow, dialog, ipcMain, Menu, protocol, screen, session } from 'electron';
import { openDesk } from '../answers/desk.ts';
import { chooseBook, makeOwnFolder, userDataFolder } from '../default-book.ts';
import { runElectron } from './run.ts';

// Built to out/main/electron.js; the preload, the worker and the screens are built beside it.
const here = import.meta.dirname;
const named = process.argv.find((word) => word.startsWith('--book='))?.slice('--book='.length);
const computer = { platform: process.platform, env: process.env, home: homedir() };
const book = chooseBook(named, computer, process.cwd());
makeOwnFolder(book, computer);
const log = (line: string): void => {
  process.stderr.write(`${line}\n`);
};

await runElectron(
  { app, BrowserWindow, dialog, ipcMain, Menu, protocol, screen, session },
  {
    openDesk: () =>
      openDesk({
        book,
        clock: () => new Date().toISOString(),
        log,
        worker: new URL('./worker.js', import.meta.url),
      }),
    keepsIn: path.join(
      userDataFolder(computer),
      `window-${createHash('sha256').update(book).digest('hex').slice(0, 12)}`,
    ),
    screens: path.join(here, '..', 'renderer'),
    preload: path.join(here, '..', 'preload', 'preload.cjs'),
    platform: process.platform,
    log,
  },
);
