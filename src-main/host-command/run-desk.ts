import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { homedir } from 'node:os';
import { basename, dirname, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { v7 as uuid } from 'uuid';
import { z } from 'zod';
import { CALLS, type CallName } from '../../src-shared/calls/all.ts';
import { workOut } from '../../src-shared/calls/work-out.ts';
import { type Fault, faultOf, Refusal } from '../../src-shared/refusal.ts';
import { chooseBook } from '../default-book.ts';

/**
 * The desk from a terminal, for every call: one JSON object in, one out. An answer goes to standard output and the exit
 * code is 0; a refusal goes to standard error as one line {"error":…} and the exit code is 2.
 */
const HELP = `npm run -s desk -- [--book FILE] CALL JSON      any call; "-" reads the JSON from standard input
npm run -s desk -- calls                        what calls there are
npm run -s desk -- schema CALL                  the request and the reply of a call as JSON Schema
npm run -s desk -- work-out TOPIC JSON          arithmetic without a book
npm run -s desk -- paper '{"paper":"HASH"}' --out FILE.pdf
npm run -s desk -- backup FILE                  copies the book to a new file and proves the copy
npm run -s desk -- restore FILE [--head CODE]   checks a backup from end to end and makes it the book; the book
                                                that was there is set aside beside it, never deleted
npm run -s desk -- --book NEW unpack PACK.zip   makes a new book from the journal in an inspector's pack

A writing call gets a request id when it has none. Where a call takes a file, write {"path":"flock.csv"}.`;

type Words = {
  book?: string | undefined;
  out?: string | undefined;
  head?: string | undefined;
  rest: string[];
};

function readWords(words: readonly string[]): Words {
  try {
    const { values, positionals } = parseArgs({
      args: [...words],
      allowPositionals: true,
      options: {
        book: { type: 'string' },
        out: { type: 'string' },
        head: { type: 'string' },
        help: { type: 'boolean' },
      },
    });
    const { book, out, head, help } = values;
    return { book, out, head, rest: help ? [] : positionals };
  } catch (thrown) {
    throw new Refusal('option-not-known', thrown instanceof Error ? thrown.message : String(thrown), {
      next: HELP,
    });
  }
}

function readJson(text: string | undefined): unknown {
  const from = text === '-' ? readFileSync(0, 'utf8') : (text ?? '{}');
  try {
    return JSON.parse(from);
  } catch {
    throw new Refusal('not-json', 'What follows the name of the call is not JSON.', { field: 'request' });
  }
}

/** The terminal has its own rights to read files, so a path stands for the bytes; no other host does this. */
function withFiles(request: unknown): unknown {
  if (typeof request !== 'object' || request === null || !('file' in request)) return request;
  const { file } = request;
  if (typeof file !== 'object' || file === null || !('path' in file) || typeof file.path !== 'string')
    return request;
  let bytes: Buffer;
  try {
    bytes = readFileSync(file.path);
  } catch {
    throw new Refusal('file-not-read', `The file ${file.path} cannot be read.`, { field: 'file' });
  }
  return { ...request, file: { name: basename(file.path), base64: bytes.toString('base64') } };
}

function withRequestId(name: string, request: unknown): unknown {
  if (!Object.hasOwn(CALLS, name) || !CALLS[name as CallName].writes) return request;
  if (typeof request !== 'object' || request === null || 'request' in request) return request;
  return { request: uuid(), ...request };
}

function bookOf(words: Words): string {
  const computer = { platform: process.platform, env: process.env, home: homedir() };
  return chooseBook(words.book, computer, process.cwd());
}

/** The file that a copy goes to or comes from; the last word. */
function fileOf(word: string | undefined): string {
  if (word !== undefined && word !== '') return resolve(word);
  throw new Refusal('file-not-named', 'No file was named.', { field: 'FILE', next: HELP });
}

async function backup(words: Words, file: string): Promise<unknown> {
  const { backupBook } = await import('../store/backup.ts');
  const book = bookOf(words);
  return { book, ...backupBook(book, file) };
}

async function restore(words: Words, file: string): Promise<unknown> {
  const [{ restoreBook }, { storeParts }] = await Promise.all([
    import('../store/restore.ts'),
    import('../answers/store-parts.ts'),
  ]);
  const book = bookOf(words);
  if (words.book === undefined) mkdirSync(dirname(book), { recursive: true });
  return {
    book,
    ...restoreBook(file, book, storeParts, words.head === undefined ? {} : { head: words.head }),
  };
}

async function unpack(words: Words, file: string): Promise<unknown> {
  const [{ bookFromPack }, { storeParts }] = await Promise.all([
    import('../answers/book/from-pack.ts'),
    import('../answers/store-parts.ts'),
  ]);
  const book = bookOf(words);
  return {
    book,
    ...bookFromPack(readFileSync(file), book, storeParts, new Date().toISOString(), words.head),
  };
}

async function callDesk(words: Words, name: string, request: unknown): Promise<unknown> {
  // Loaded here, so that the arithmetic needs no book and no SQLite.
  const { openDesk } = await import('../answers/desk.ts');
  const book = bookOf(words);
  if (words.book === undefined) mkdirSync(dirname(book), { recursive: true });
  const desk = await openDesk({ book, clock: () => new Date().toISOString() });
  try {
    const outcome = await desk.call(name, withRequestId(name, withFiles(request)));
    if (!outcome.ok) throw refusalOf(outcome.error);
    return outcome.value;
  } finally {
    await desk.close();
  }
}

function refusalOf(fault: Fault): Refusal {
  return new Refusal(fault.code, fault.message, { field: fault.field, next: fault.next });
}

async function answer(words: Words): Promise<unknown> {
  const [name, second, third] = words.rest;
  if (name === undefined) return undefined;
  if (name === 'calls') {
    return Object.fromEntries(Object.entries(CALLS).map(([call, spec]) => [call, spec.about]));
  }
  if (name === 'schema') {
    if (second === undefined || !Object.hasOwn(CALLS, second)) {
      throw new Refusal('unknown-call', 'The desk knows no such call.', { field: 'call' });
    }
    const spec = CALLS[second as CallName];
    return {
      writes: spec.writes,
      about: spec.about,
      request: z.toJSONSchema(spec.request, { io: 'input', unrepresentable: 'any' }),
      reply: z.toJSONSchema(spec.reply, { unrepresentable: 'any' }),
    };
  }
  if (name === 'work-out') return workOut(second ?? '', readJson(third));
  if (name === 'backup') return backup(words, fileOf(second));
  if (name === 'restore') return restore(words, fileOf(second));
  if (name === 'unpack') return unpack(words, fileOf(second));
  return callDesk(words, name, readJson(second));
}

function save(words: Words, value: unknown): string {
  if (words.out === undefined) return JSON.stringify(value);
  if (
    typeof value !== 'object' ||
    value === null ||
    !('base64' in value) ||
    typeof value.base64 !== 'string'
  ) {
    throw new Refusal('nothing-to-save', 'This call answers no file, so there is nothing to save.', {
      field: '--out',
    });
  }
  writeFileSync(words.out, Buffer.from(value.base64, 'base64'));
  return JSON.stringify({ saved: words.out });
}

/** What a run prints and how it ends: 0 with one line on standard output, or 2 with one on standard error. */
export type Ended = { code: 0 | 2; out: string; err: string };

/** Answers the words after the program's name. Paths are from the folder that the process stands in. */
export async function runDesk(args: readonly string[]): Promise<Ended> {
  try {
    const words = readWords(args);
    const value = await answer(words);
    return { code: 0, out: `${value === undefined ? HELP : save(words, value)}\n`, err: '' };
  } catch (thrown) {
    return { code: 2, out: '', err: `${JSON.stringify({ error: faultOf(thrown) })}\n` };
  }
}
