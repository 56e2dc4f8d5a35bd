import { closeSync, existsSync, openSync, readFileSync, readSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { faultOf, Refusal } from '../../src-shared/refusal.ts';
import { packLines, verifyPack } from '../answers/book/verify-pack.ts';
import { storeParts } from '../answers/store-parts.ts';
import { lookAtBookCsv } from '../exchange/book-csv.ts';
import { verifiedLines, verifyBook } from '../store/verify.ts';

/**
 * npm run -s verify -- FILE [--head CODE]: checks a book, an inspector's pack or the book's own CSV from end to end without writing to
 * it. Exit code 0 when it is whole, 1 when something is wrong with it, 2 when it could not be checked.
 */
const USE = 'npm run -s verify -- FILE [--head CODE]';

function readWords(): { file: string; head: string | undefined } {
  try {
    const { values, positionals } = parseArgs({
      allowPositionals: true,
      options: { head: { type: 'string' } },
    });
    const [file, second] = positionals;
    if (file !== undefined && second === undefined) return { file, head: values.head };
  } catch {
    // Said below, with how it is used.
  }
  throw new Refusal('how-to-use', `Name one book, pack or CSV of the book: ${USE}`, { field: 'FILE' });
}

type Result = { ok: boolean; lines: string[] };

/** What a file is, by its first bytes, whatever it is called. */
function kindOf(file: string): 'pack' | 'table' | 'book' {
  if (!existsSync(file)) return 'book';
  const start = Buffer.alloc(16);
  const opened = openSync(file, 'r');
  try {
    readSync(opened, start, 0, start.length, 0);
  } finally {
    closeSync(opened);
  }
  if (start.readUInt32LE(0) === 0x04034b50) return 'pack';
  return start.toString('utf8').includes('no,entry,act') ? 'table' : 'book';
}

function ofPack(file: string, head: string | undefined): Result {
  const result = verifyPack(readFileSync(file), head);
  return { ok: result.ok, lines: packLines(result) };
}

function ofBook(file: string, head: string | undefined): Result {
  const result = verifyBook(file, storeParts, head === undefined ? {} : { head });
  return { ok: result.ok, lines: verifiedLines(result) };
}

/** Rows of the book's own file, each by its check. A check code says nothing of them. */
function ofTable(file: string): Result {
  const { lines, wrong } = lookAtBookCsv(readFileSync(file));
  const found = wrong.map(
    ({ row, line }) =>
      `- Row ${row} (line ${line}) is not as it was written, or the one before it is missing.`,
  );
  const first =
    wrong.length === 0
      ? `The file is as it was written: ${lines.length} rows.`
      : 'The file is not as it was written:';
  return { ok: wrong.length === 0, lines: [first, ...found] };
}

const CHECKS = { pack: ofPack, table: ofTable, book: ofBook } as const;

try {
  const { file, head } = readWords();
  const { ok, lines } = CHECKS[kindOf(file)](file, head);
  process.stdout.write(`${lines.join('\n')}\n`);
  process.exitCode = ok ? 0 : 1;
} catch (thrown) {
  process.stderr.write(`${JSON.stringify({ error: faultOf(thrown) })}\n`);
  process.exitCode = 2;
}
