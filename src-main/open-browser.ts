import { spawn } from 'node:child_process';
import { accessSync, constants } from 'node:fs';
import path from 'node:path';
import type { Computer } from './default-book.ts';

/** A program to start and its words. */
export type Opener = { program: string; words: string[]; ownWindow: boolean };

// Programs that understand --app=ADDRESS, which shows one address in a window without tabs.
const ownWindowNames = [
  'chromium',
  'chromium-browser',
  'google-chrome-stable',
  'google-chrome',
  'microsoft-edge-stable',
  'microsoft-edge',
];
const ownWindowMac = [
  'Google Chrome.app/Contents/MacOS/Google Chrome',
  'Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
  'Chromium.app/Contents/MacOS/Chromium',
];
const ownWindowWindows = [
  'Microsoft/Edge/Application/msedge.exe',
  'Google/Chrome/Application/chrome.exe',
  'Chromium/Application/chrome.exe',
];

/** True when the file is there and may be run. */
export function mayRun(file: string): boolean {
  try {
    accessSync(file, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

function candidates({ platform, env, home }: Computer): string[] {
  if (platform === 'darwin') {
    return ['/Applications', path.posix.join(home, 'Applications')].flatMap((folder) =>
      ownWindowMac.map((name) => path.posix.join(folder, name)),
    );
  }
  if (platform === 'win32') {
    return [env.ProgramFiles, env['ProgramFiles(x86)'], env.LOCALAPPDATA].flatMap((folder) =>
      folder ? ownWindowWindows.map((name) => path.win32.join(folder, name)) : [],
    );
  }
  return ownWindowNames.flatMap((name) => onPath(env, name));
}

function onPath(env: Computer['env'], name: string): string[] {
  return (env.PATH ?? '')
    .split(':')
    .filter((folder) => path.posix.isAbsolute(folder))
    .map((folder) => path.posix.join(folder, name));
}

/**
 * How to show an address on this computer: an installed browser in a window of its own, else whatever the
 * platform opens addresses with, else nothing. `there` tells whether a program may be run.
 */
export function chooseOpener(
  address: string,
  computer: Computer,
  there: (file: string) => boolean = mayRun,
): Opener | undefined {
  const own = candidates(computer).find(there);
  if (own !== undefined) return { program: own, words: [`--app=${address}`], ownWindow: true };
  if (computer.platform === 'darwin') return { program: '/usr/bin/open', words: [address], ownWindow: false };
  if (computer.platform === 'win32') {
    // Not by way of the command shell, which reads some characters of an address as its own.
    return { program: 'rundll32.exe', words: ['url.dll,FileProtocolHandler', address], ownWindow: false };
  }
  const program = onPath(computer.env, 'xdg-open').find(there);
  return program === undefined ? undefined : { program, words: [address], ownWindow: false };
}

/** Starts the opener and leaves it running on its own. Resolves with whether it started. */
export function startOpener(opener: Opener): Promise<boolean> {
  return new Promise((resolve) => {
    const child = spawn(opener.program, opener.words, { stdio: 'ignore', detached: true });
    child.once('error', () => resolve(false));
    child.once('spawn', () => {
      child.unref();
      resolve(true);
    });
  });
}
