import { homedir } from 'node:os';
import path from 'node:path';
import { Refusal } from '../src-shared/refusal.ts';
import { ensureBuilt, programFolder } from './build.ts';
import type { Computer } from './default-book.ts';
import { chooseBook, makeOwnFolder, userDataFolder } from './default-book.ts';
import { electronPackage, fetchRuntime, hasDisplay, meaningOfEnd, runToEnd } from './electron-runtime.ts';
import { chooseOpener, startOpener } from './open-browser.ts';
import type { StartOptions } from './start-options.ts';
import { readStartOptions, startHelp } from './start-options.ts';

const computer: Computer = { platform: process.platform, env: process.env, home: homedir() };
const say = (line: string): void => {
  process.stdout.write(`${line}\n`);
};

/** Runs the window until it is closed. Returns an exit code, or why a browser has to do. */
async function runWindow(options: StartOptions, book: string): Promise<number | string> {
  if (options.inBrowser) return 'Foldbook shows its screens in a browser, as asked.';
  if (!hasDisplay(computer.platform, computer.env)) {
    return 'There is no display for a window here, so Foldbook serves its screens to a browser.';
  }
  const packageFolder = electronPackage();
  if (packageFolder === undefined) {
    return 'The window runtime (Electron) is not installed, so Foldbook uses a browser.';
  }
  const fetched = await fetchRuntime({
    packageFolder,
    overrideFolder: process.env.ELECTRON_OVERRIDE_DIST_PATH,
    notes: userDataFolder(computer),
    nowMs: Date.now(),
    mayFetch: process.env.FOLDBOOK_NO_FETCH !== '1',
    say,
  });
  if (fetched.kind === 'not-allowed')
    return 'The window runtime (Electron) is not here, so Foldbook uses a browser.';
  if (fetched.kind === 'failed') {
    return 'The window runtime (Electron) could not be fetched, so Foldbook uses a browser. It tries again in a day.';
  }
  if (fetched.kind === 'failed-before') {
    return 'The window runtime (Electron) could not be fetched within the last day, so Foldbook uses a browser.';
  }
  if (!(await ensureBuilt(['main', 'preload', 'renderer'], say))) {
    return 'The window could not be built; see above. Foldbook tries a browser.';
  }
  say(`Foldbook opens its window on ${book}`);
  const { ELECTRON_RUN_AS_NODE: _asNode, NODE_OPTIONS: _options, ...env } = process.env;
  const stop = new AbortController();
  const stopOnSignal = (): void => stop.abort();
  process.on('SIGINT', stopOnSignal);
  process.on('SIGTERM', stopOnSignal);
  const ended = await runToEnd(fetched.runtime, [programFolder], {
    env: { ...env, FOLDBOOK_BOOK: book },
    signal: stop.signal,
  });
  process.off('SIGINT', stopOnSignal);
  process.off('SIGTERM', stopOnSignal);
  if (stop.signal.aborted) return 0;
  const meaning = meaningOfEnd(ended);
  if (meaning === 'cannot-run') return 'The window cannot run on this computer, so Foldbook uses a browser.';
  if (meaning === 'broke')
    say('The window ended by a fault. Start Foldbook again; the book keeps what was written.');
  return meaning === 'closed' ? 0 : 1;
}

/** Serves browsers until the person ends it with Ctrl+C. Returns the exit code. */
async function runLoopback(options: StartOptions, book: string): Promise<number> {
  if (!(await ensureBuilt(['renderer'], say))) {
    process.stderr.write(
      'The screens are not built and could not be built; run npm ci, then npm start again.\n',
    );
    return 1;
  }
  const [{ openDesk }, { serveDesk }] = await Promise.all([
    import('./answers/desk.ts'),
    import('./host-loopback/server.ts'),
  ]);
  const log = (line: string): void => {
    process.stderr.write(`${line}\n`);
  };
  const desk = await openDesk({
    book,
    clock: () => new Date().toISOString(),
    log,
    worker: new URL('./work/worker.ts', import.meta.url),
  });
  try {
    const screens = path.join(programFolder, 'out', 'renderer');
    const host = await serveDesk({ desk, screens, port: options.port, log });
    const ended = whenAsked();
    const address = host.newAddress();
    say(`Foldbook serves ${book} to this computer only.`);
    say(`Open this address; it works once:\n\n  ${address}\n`);
    const isTyped = process.stdin.isTTY === true;
    say(isTyped ? 'Press Enter for a new address, Ctrl+C to end.' : 'Ctrl+C ends Foldbook.');
    if (isTyped) process.stdin.on('data', () => say(`\n  ${host.newAddress()}\n`));
    if (!options.noWindow && hasDisplay(computer.platform, computer.env)) await show(host.newAddress());
    await ended;
    // Otherwise it would keep the program waiting for a line.
    if (isTyped) process.stdin.destroy();
    say('Foldbook ends.');
    await host.close();
  } finally {
    await desk.close();
  }
  return 0;
}

async function show(address: string): Promise<void> {
  const opener = chooseOpener(address, computer);
  if (opener === undefined) return say('No browser was found here; open the address yourself.');
  if (!(await startOpener(opener))) return say('The browser did not start; open the address yourself.');
  say(
    opener.ownWindow ? 'Foldbook opens in a browser window of its own.' : 'Foldbook opens in your browser.',
  );
}

/** Resolves at the first request to end. A second one ends at once, as usual. */
function whenAsked(): Promise<void> {
  return new Promise((resolve) => {
    const signals = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;
    const asked = (): void => {
      for (const signal of signals) process.off(signal, asked);
      resolve();
    };
    for (const signal of signals) process.on(signal, asked);
  });
}

async function start(): Promise<number> {
  const options = readStartOptions(process.argv.slice(2));
  if (options.help) {
    say(startHelp);
    return 0;
  }
  const book = chooseBook(options.book, computer, process.cwd());
  makeOwnFolder(book, computer);
  const window = await runWindow(options, book);
  if (typeof window === 'number') return window;
  say(window);
  return runLoopback(options, book);
}

try {
  process.exitCode = await start();
} catch (thrown) {
  if (!(thrown instanceof Refusal)) throw thrown;
  process.stderr.write(`${[thrown.message, thrown.next ?? ''].join(' ').trim()}\n`);
  process.exitCode = 2;
}
