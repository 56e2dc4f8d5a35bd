import { parseArgs } from 'node:util';
import { Refusal } from '../src-shared/refusal.ts';

/** What `npm start` was asked for. */
export type StartOptions = {
  book: string | undefined;
  port: number;
  /** Only print the address. */
  noWindow: boolean;
  /** Serve a browser even where Electron could run. */
  inBrowser: boolean;
  help: boolean;
};

export const startHelp = [
  'npm start -- [--book FILE] [--in-browser] [--port NUMBER] [--no-window]',
  '',
  '  --book FILE     open this book instead of the usual one (or set FOLDBOOK_BOOK)',
  '  --in-browser    show the screens in a browser even where a window of its own is possible',
  '  --port NUMBER   serve on this port, 1024 to 65535; otherwise any free one',
  '  --no-window     print the address and open nothing',
].join('\n');

/** Reads the command line of `npm start`. Throws Refusal on anything it does not know. */
export function readStartOptions(words: readonly string[]): StartOptions {
  let values: ReturnType<typeof parse>['values'];
  try {
    values = parse(words).values;
  } catch (thrown) {
    const said = thrown instanceof Error ? thrown.message.split('.')[0] : '';
    throw new Refusal('option-not-known', `Foldbook does not know this option: ${said}.`, {
      next: 'Type npm start -- --help for the options.',
    });
  }
  return {
    book: values.book,
    port: readPort(values.port),
    noWindow: values['no-window'] ?? false,
    inBrowser: (values['in-browser'] ?? false) || (values['no-window'] ?? false) || values.port !== undefined,
    help: values.help ?? false,
  };
}

function parse(words: readonly string[]) {
  return parseArgs({
    args: [...words],
    strict: true,
    allowPositionals: false,
    options: {
      book: { type: 'string' },
      port: { type: 'string' },
      'no-window': { type: 'boolean' },
      'in-browser': { type: 'boolean' },
      help: { type: 'boolean' },
    },
  });
}

function readPort(text: string | undefined): number {
  if (text === undefined) return 0;
  const port = /^\d{1,5}$/.test(text) ? Number(text) : 0;
  if (port >= 1024 && port <= 65_535) return port;
  throw new Refusal('port-not-valid', `The port "${text}" is not a whole number from 1024 to 65535.`, {
    field: '--port',
    next: 'Leave --port out, or give a number from 1024 to 65535.',
  });
}
