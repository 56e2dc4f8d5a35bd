import { closeSync, fsyncSync, openSync, writeSync } from 'node:fs';
import { z } from 'zod';
import { writeBookCsv } from '../../exchange/book-csv.ts';
import { writeCsv } from '../../exchange/write.ts';
import { zipWriter } from '../../exchange/zip.ts';
import { MOST_ROWS } from '../../paper/parts.ts';
import { moveIntoPlace } from '../../store/book-file.ts';
import { hashOfBytes } from '../../store/kept.ts';
import type { Snapshot } from '../../store/reading.ts';
import type { TellProgress } from '../../work/serve.ts';
import { paperHead } from '../declare/paper.ts';
import { keptPapers } from '../reading/attachments.ts';
import { holdingOf } from '../reading/holding.ts';
import { linesOf } from './collect.ts';
import { checkPage, HASHES, JOURNAL, PAGE, SUMS, sumsOf } from './pack-page.ts';
import { collectFor, makeVolumes } from './volumes.ts';

export const packAsk = z.strictObject({
  book: z.string(),
  /** The file that is written; until it is whole it is called `.part`. */
  to: z.string(),
  now: z.string(),
  holding: z.string(),
  from: z.string(),
  until: z.string(),
  size: z.enum(['a4', 'letter']).optional(),
});
export type PackAsk = z.output<typeof packAsk>;
export type PackMade = { files: number; bytes: number; entries: number; rows: number; checkCode: string };

/**
 * Writes the inspector's pack: the book as PDF and CSV, papers, declarations, the whole journal, and a page that says
 * how all of it is checked. One moment of the book. Ended half-way, nothing has the name of the file.
 */
export async function writePack(book: Snapshot, ask: PackAsk, onProgress: TellProgress): Promise<PackMade> {
  const part = `${ask.to}.part`;
  const file = openSync(part, 'w');
  const sums: { name: string; hash: string }[] = [];
  let made: PackMade;
  try {
    const zip = zipWriter((bytes) => void writeSync(file, bytes));
    const add = (name: string, bytes: Uint8Array | string) => {
      const content = typeof bytes === 'string' ? Buffer.from(bytes, 'utf8') : bytes;
      sums.push({ name, hash: hashOfBytes(content) });
      zip.add(name, content);
    };
    const entries = book.head.seq;
    const rows = await addPapers(book, ask, add, onProgress);
    const named = addJournal(book, add, onProgress);
    addKept(book, named, add, onProgress);
    const list = sumsOf(sums);
    zip.add(SUMS, Buffer.from(list, 'utf8'));
    const head = paperHead(book.read, holdingOf(book.read, ask.holding), {
      now: ask.now,
      checkCode: book.head.checkCode,
      size: 'a4',
      doubted: book.isDoubted(ask.now),
    });
    const page = checkPage({
      head,
      from: ask.from,
      to: ask.until,
      book: book.head,
      sums: hashOfBytes(Buffer.from(list)),
    });
    zip.add(PAGE, Buffer.from(page, 'utf8'));
    made = {
      files: sums.length + 2,
      bytes: zip.end(),
      entries,
      rows,
      checkCode: book.head.checkCode,
    };
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
  moveIntoPlace(part, ask.to);
  return made;
}

type Add = (name: string, bytes: Uint8Array | string) => void;

/** The book as PDF, in volumes when it is long, and every line of it as CSV. */
async function addPapers(book: Snapshot, ask: PackAsk, add: Add, onProgress: TellProgress): Promise<number> {
  const asked: Parameters<typeof makeVolumes>[1] = {
    book: ask.book,
    now: ask.now,
    holding: ask.holding,
    from: ask.from,
    to: ask.until,
    ...(ask.size === undefined ? {} : { size: ask.size }),
    form: 'whole',
    filter: {},
    most: MOST_ROWS,
  };
  const found = collectFor(book, asked, onProgress);
  add('book.csv', writeBookCsv(linesOf(book.read, found)));
  const made = await makeVolumes(book, asked, onProgress, found);
  for (const { bytes, name } of made.volumes) add(`book${name}.pdf`, bytes);
  return made.rows;
}

/**
 * The journal as it lies in the book, a line an entry, and beside it the hash of each.
 * @returns every text in it that may name kept bytes
 */
function addJournal(book: Snapshot, add: Add, onProgress: TellProgress): Set<string> {
  const lines: string[] = [];
  const hashes: string[] = [];
  const named = new Set<string>();
  for (const { seq, line, hash } of book.journal()) {
    lines.push(`${line}\n`);
    hashes.push(`${seq} ${hash}\n`);
    for (const [, text] of line.matchAll(/"([0-9a-f]{64})"/g)) if (text !== undefined) named.add(text);
    if (seq % 1000 === 0) onProgress(seq, book.head.seq, 'Copying the journal');
  }
  add(JOURNAL, lines.join(''));
  add(HASHES, hashes.join(''));
  return named;
}

/** Everything the journal names by its hash and the book has kept: declarations as they were signed, papers, photos. */
function addKept(book: Snapshot, named: ReadonlySet<string>, add: Add, onProgress: TellProgress): void {
  const declared = new Map(
    book.read
      .all<{ paper: string; number: number }>('SELECT paper, number FROM declaration ORDER BY number')
      .map(({ paper, number }) => [paper, number] as const),
  );
  const index: string[][] = [];
  for (const [i, hash] of [...named].sort().entries()) {
    onProgress(i, named.size, 'Adding papers and declarations');
    const bytes = book.kept(hash);
    if (!bytes) continue;
    const number = declared.get(hash);
    const name =
      number === undefined
        ? `attachments/${hash}.${endingOf(bytes)}`
        : `declarations/declaration-${String(number).padStart(4, '0')}.pdf`;
    add(name, bytes);
    index.push(...indexRows(book, hash, name));
  }
  if (index.length > 0) add('attachments.csv', writeCsv(INDEX_HEADER, index, { bom: true }));
}

const INDEX_HEADER = ['file', 'sha256', 'name', 'kind', 'kept with'] as const;

/** What a kept file is called and belongs to, one row for each place it was kept with. */
function indexRows(book: Snapshot, hash: string, file: string): string[][] {
  const papers = keptPapers(book.read).filter((paper) => paper.hash === hash);
  if (papers.length === 0) return [[file, hash, '', '', '']];
  return papers.map(({ name, paper, to }) => [file, hash, name, paper, `${to.what} ${to.id}`]);
}

/** The ending by what the bytes are, whatever they were called. */
function endingOf(bytes: Uint8Array): string {
  const start = Buffer.from(bytes.subarray(0, 12)).toString('latin1');
  if (start.startsWith('%PDF-')) return 'pdf';
  if (start.startsWith('\u0089PNG')) return 'png';
  if (start.startsWith('\u00ff\u00d8\u00ff')) return 'jpg';
  if (start.startsWith('RIFF') && start.endsWith('WEBP')) return 'webp';
  return 'bin';
}
