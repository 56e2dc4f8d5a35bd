import path from 'node:path';
import { parseArgs } from 'node:util';
import { type Computer, userDataFolder } from '../src-main/default-book.ts';
import { Refusal } from '../src-shared/refusal.ts';

export type DemoOptions = {
  book: string;
  /** Where the papers go. */
  out: string;
  /** Only build it and print where it is. */
  noWindow: boolean;
  /** Build it anew though it is there. */
  fresh: boolean;
  help: boolean;
};

export const demoHelp = [
  'npm run demo -- [--no-window] [--book FILE] [--out FOLDER] [--fresh]',
  '',
  '  Builds the demo farm, an invented one, and opens it in the desk.',
  '',
  '  --no-window    build it, write its papers, print where they are, and open nothing',
  '  --book FILE    build it in this file instead of demo.foldbook beside your own book',
  '  --out FOLDER   put the papers here instead of beside the book',
  '  --fresh        build it anew even if it is there already',
].join('\n');

/**
 * Reads the command line of `npm run demo`. The demo has a book of its own beside the usual one, and FOLDBOOK_BOOK is
 * not asked: nothing invented may get into a farm's own book. Throws Refusal on anything it does not know.
 */
export function readDemoOptions(words: readonly string[], computer: Computer, folder: string): DemoOptions {
  const values = read(words);
  const book =
    values.book === undefined
      ? path.join(userDataFolder(computer), 'demo.foldbook')
      : path.resolve(folder, named('--book', values.book));
  return {
    book,
    out: values.out === undefined ? path.dirname(book) : path.resolve(folder, named('--out', values.out)),
    noWindow: values['no-window'] ?? false,
    fresh: values.fresh ?? false,
    help: values.help ?? false,
  };
}

function named(option: string, text: string): string {
  if (text.trim() !== '' && !text.includes('\0')) return text;
  throw new Refusal('name-missing', `The name after ${option} is empty.`, {
    field: option,
    next: 'Give a name, or leave the option out.',
  });
}

function read(words: readonly string[]) {
  try {
    return parseArgs({
      args: [...words],
      strict: true,
      allowPositionals: false,
      options: {
        book: { type: 'string' },
        out: { type: 'string' },
        'no-window': { type: 'boolean' },
        fresh: { type: 'boolean' },
        help: { type: 'boolean' },
      },
    }).values;
  } catch (thrown) {
    const said = thrown instanceof Error ? thrown.message.split('.')[0] : '';
    throw new Refusal('option-not-known', `The demo does not know this option: ${said}.`, {
      next: 'Type npm run demo -- --help for the options.',
    });
  }
}
