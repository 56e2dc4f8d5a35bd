import { createHash } from 'node:crypto';
import { type BookLine, bookLine, COLUMN_NAMES } from '../../src-shared/record/columns.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import { readTable } from './table.ts';
import { decodeText } from './text.ts';
import { writeCsv } from './write.ts';

/** The last column: by it a row that was changed, taken out or put in by hand is found. */
export const CHECK_COLUMN = 'check';
const HEX_SHOWN = 16;

/** The columns of the medicine book as a file, in their order; what each holds stands in `COLUMNS`. */
export const BOOK_CSV_HEADER: readonly string[] = [...COLUMN_NAMES, CHECK_COLUMN];

/**
 * The check of a row: SHA-256 over the check of the row before (nothing before the first), a line feed, and the cells
 * as a JSON list; its first 16 hex digits. It finds a slip of a spreadsheet or a hand; it is no signature.
 */
function checkOf(previous: string, cells: readonly string[]): string {
  return createHash('sha256')
    .update(`${previous}\n${JSON.stringify(cells)}`, 'utf8')
    .digest('hex')
    .slice(0, HEX_SHOWN);
}

const cellsOf = (line: BookLine) => COLUMN_NAMES.map((name) => line[name]);

/** The book as comma-separated text by RFC 4180. `readBookCsv` gives the same lines back. */
export function writeBookCsv(lines: readonly BookLine[]): string {
  let check = '';
  const rows = lines.map((line) => {
    const cells = cellsOf(line);
    check = checkOf(check, cells);
    return [...cells, check];
  });
  return writeCsv(BOOK_CSV_HEADER, rows, { bom: true });
}

export type BookCsv = {
  lines: BookLine[];
  /** Rows that are not as they were written, in order: which row of the list, counted from 1, and its line in the file. */
  wrong: { row: number; line: number }[];
};

/**
 * Reads the book's own file, and finds the rows that are not as they were written.
 * @throws Refusal `not-the-book` when the columns are others, and what reading a text file refuses
 */
export function lookAtBookCsv(bytes: Uint8Array): BookCsv {
  const table = readTable(decodeText(bytes).text, { header: true, delimiter: ',' });
  if (table.header.join('\n') !== BOOK_CSV_HEADER.join('\n')) {
    throw new Refusal('not-the-book', 'This file does not have the columns of the medicine book.', {
      field: 'file',
      next: 'Choose the file as Foldbook wrote it, with its first line.',
    });
  }
  let previous = '';
  const wrong: BookCsv['wrong'] = [];
  const lines = table.rows.map(({ cells, line, fault }, i) => {
    const own = cells.slice(0, COLUMN_NAMES.length);
    const said = cells[COLUMN_NAMES.length] ?? '';
    const isWrong = fault !== undefined || checkOf(previous, own) !== said;
    if (isWrong) wrong.push({ row: i + 1, line });
    // What the row says of itself: so one bad row does not make the next one bad.
    previous = said;
    return bookLine(Object.fromEntries(COLUMN_NAMES.map((name, n) => [name, own[n] ?? ''])));
  });
  return { lines, wrong };
}

/**
 * The lines of the book from its own file.
 * @throws Refusal `row-changed` with the number of the first row that is not as it was written, or after which one
 *   is missing; `not-the-book`
 */
export function readBookCsv(bytes: Uint8Array): BookLine[] {
  const { lines, wrong } = lookAtBookCsv(bytes);
  const [first] = wrong;
  if (!first) return lines;
  throw new Refusal(
    'row-changed',
    `Row ${first.row} (line ${first.line} of the file) is not as Foldbook wrote it, or the row before it is missing.`,
    { field: 'file', next: 'Use the file as it was saved, and make changes in the book itself.' },
  );
}
