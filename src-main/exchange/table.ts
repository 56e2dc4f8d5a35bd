import { parse } from 'csv-parse/sync';
import { readHarmless } from '../../src-shared/harmless.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import { looksLikeData } from './looks.ts';
import type { Note } from './text.ts';

export type Delimiter = ',' | ';' | '\t' | '|';
export type Decimal = '.' | ',';

/**
 * One row as the file has it. `line` is where it begins, counted from 1 as an editor does. A row with a `fault`
 * keeps its cells for showing, but which column they belong to is not known.
 */
export type TableRow = { line: number; cells: string[]; fault?: { code: string; message: string } };

export type Table = {
  delimiter: Delimiter;
  decimal: Decimal;
  header: string[];
  /** False: the file has no names for its columns and `header` was made up ("Column 1"…). */
  headerInFile: boolean;
  rows: TableRow[];
  notes: Note[];
};

export const MOST_ROWS = 200_000;
export const MOST_COLUMNS = 200;

/** In order of trust: a tab is never a decimal mark, a semicolon hardly ever stands in a name. */
const DELIMITERS: readonly Delimiter[] = ['\t', ';', '|', ','];
const SAMPLED_LINES = 200;
const LINE_BREAK = /\r\n|\r|\n/g;

/** The lines of a file as they stand, and the number of the first. */
type Lines = { first: number; lines: string[] };
type LineCounts = Record<Delimiter, number> & {
  /** Commas between two digits: decimal marks, perhaps. */
  digitCommas: number;
};

function noCounts(): LineCounts {
  return { ',': 0, ';': 0, '\t': 0, '|': 0, digitCommas: 0 };
}

const isDigit = (c: string): boolean => c >= '0' && c <= '9';

/** Counts of each separator outside quotation marks, for each line, and where the last quotation mark opened. */
function scanLines(text: string, most: number): { lines: LineCounts[]; openedOnLine: number } {
  const lines: LineCounts[] = [];
  let counts = noCounts();
  let quoted = false;
  let cellStart = true;
  let blank = true;
  let line = 1;
  let openedOnLine = 0;
  for (let i = 0; i < text.length && lines.length < most; i++) {
    const c = text.charAt(i);
    const newLine = c === '\n' || (c === '\r' && text.charAt(i + 1) !== '\n');
    if (newLine) line += 1;
    if (quoted) {
      if (c !== '"') continue;
      if (text.charAt(i + 1) === '"') i += 1;
      else quoted = false;
    } else if (c === '"' && cellStart) {
      quoted = true;
      cellStart = false;
      blank = false;
      openedOnLine = line;
    } else if (newLine) {
      if (!blank) lines.push(counts);
      counts = noCounts();
      cellStart = true;
      blank = true;
    } else if (c !== '\r') {
      cellStart = c === ',' || c === ';' || c === '\t' || c === '|';
      if (cellStart) counts[c as Delimiter] += 1;
      if (c === ',' && isDigit(text.charAt(i - 1)) && isDigit(text.charAt(i + 1))) counts.digitCommas += 1;
      blank = false;
    }
  }
  if (!blank && lines.length < most) lines.push(counts);
  return { lines, openedOnLine };
}

/** The count a separator has most often, and on what share of the lines. */
function usualCount(lines: readonly LineCounts[], delimiter: Delimiter): { count: number; share: number } {
  const seen = new Map<number, number>();
  for (const line of lines) {
    const count = line[delimiter];
    if (count > 0) seen.set(count, (seen.get(count) ?? 0) + 1);
  }
  let best = { count: 0, share: 0 };
  for (const [count, times] of seen) {
    const share = times / lines.length;
    if (share > best.share) best = { count, share };
  }
  return best;
}

function guessDelimiter(lines: readonly LineCounts[]): Delimiter {
  const named = lines.find((line) => DELIMITERS.some((d) => line[d] > 0));
  if (named === undefined) return ',';
  // One column, and commas only within its numbers: take a separator that does not occur at all.
  const oneColumn = named !== lines[0] && lines.every((line) => line[','] === line.digitCommas);
  const unused = DELIMITERS.find((d) => d !== '\t' && lines.every((line) => line[d] === 0));
  if (oneColumn && unused !== undefined && lines.every((line) => line[';'] + line['|'] + line['\t'] === 0)) {
    return unused;
  }
  const scored = DELIMITERS.map((delimiter) => {
    const usual = usualCount(lines, delimiter);
    // A separator that the line of names lacks is most likely a decimal mark or punctuation.
    return { delimiter, score: named[delimiter] > 0 ? usual.share : usual.share / 4 };
  });
  const top = Math.max(...scored.map((s) => s.score));
  return scored.find((s) => s.score >= top - 0.1)?.delimiter ?? ',';
}

/** A number with a decimal comma and no thousands: "62,5". Three digits after it could be thousands. */
const DECIMAL_COMMA = /^[+-]?\d+,\d{1,2}(?:\s*(?:kg|lbs?))?$/i;
const DECIMAL_POINT = /^[+-]?\d+\.\d{1,2}(?:\s*(?:kg|lbs?))?$/i;

function guessDecimal(rows: readonly TableRow[], notes: Note[]): Decimal {
  let commas = 0;
  let points = 0;
  for (const row of rows) {
    for (const cell of row.cells) {
      const bare = cell.trim();
      if (DECIMAL_COMMA.test(bare)) commas += 1;
      else if (DECIMAL_POINT.test(bare)) points += 1;
    }
  }
  if (commas > 0 && points > 0) {
    notes.push({
      code: 'decimals-mixed',
      text: `Some numbers have a decimal comma (${commas}) and some a decimal point (${points}).`,
    });
  }
  return commas > points ? ',' : '.';
}

type ParsedRecord = { record: string[]; info: { empty_lines: number } };

function isParsedRecord(value: unknown): value is ParsedRecord {
  return typeof value === 'object' && value !== null && 'record' in value && 'info' in value;
}

function parseRecords(text: string, delimiter: Delimiter, firstLine: number): TableRow[] {
  let parsed: unknown[];
  try {
    parsed = parse(text, {
      delimiter,
      info: true,
      record_delimiter: ['\r\n', '\n', '\r'],
      relax_column_count: true,
      relax_quotes: true,
      skip_empty_lines: true,
      to: MOST_ROWS + 20,
    });
  } catch (thrown) {
    if (!(thrown instanceof Error) || !('code' in thrown) || thrown.code !== 'CSV_QUOTE_NOT_CLOSED')
      throw thrown;
    const line = scanLines(text, Number.POSITIVE_INFINITY).openedOnLine + firstLine - 1;
    throw new Refusal(
      'quote-not-closed',
      `A quotation mark is opened on line ${line} and never closed; everything after it would be lost.`,
      {
        field: 'file',
        next: `Close or remove the quotation mark on line ${line} and choose the file again.`,
      },
    );
  }
  const rows: TableRow[] = [];
  let spanned = 0;
  for (const one of parsed) {
    if (!isParsedRecord(one)) throw new TypeError('The CSV parser gave a record without its place.');
    const line = firstLine + spanned + one.info.empty_lines;
    for (const cell of one.record) spanned += cell.match(LINE_BREAK)?.length ?? 0;
    spanned += 1;
    rows.push({ line, cells: one.record.map(readHarmless) });
  }
  return rows;
}

/** True when nothing but space stands in the row. */
export function isBlankRow(row: { cells: readonly string[] }): boolean {
  return row.cells.every((cell) => cell.trim() === '');
}

/**
 * A quotation mark left open swallows the lines after it. The parser then leaves the mark in the cell, and one of
 * the swallowed lines has as many separators as a row.
 */
function swallowsLines(cells: readonly string[], delimiter: Delimiter, columns: number): boolean {
  return cells.some(
    (cell) =>
      cell.startsWith('"') &&
      cell.split(LINE_BREAK).some((part, i) => i > 0 && part.split(delimiter).length >= columns),
  );
}

/** Marks rows whose cells cannot be told apart. Run-together lines become rows again, one for each line. */
function markFaults(
  rows: readonly TableRow[],
  columns: number,
  delimiter: Delimiter,
  body: Lines,
): TableRow[] {
  return rows.flatMap((row): TableRow[] => {
    if (isBlankRow(row)) return [row];
    const { line, cells } = row;
    // Separators left over at the end of a line shift nothing.
    while (cells.length > columns && cells.at(-1)?.trim() === '') cells.pop();
    const breaks = cells.reduce((sum, cell) => sum + (cell.match(LINE_BREAK)?.length ?? 0), 0);
    const ragged = cells.length !== columns;
    if (breaks > 0 && (ragged || swallowsLines(cells, delimiter, columns))) {
      const fault = {
        code: 'lines-run-together',
        message: `Lines ${line} to ${line + breaks} run together: a quotation mark on line ${line} is not closed.`,
      };
      if (!ragged) return [{ ...row, fault }];
      return Array.from({ length: breaks + 1 }, (_, i) => ({
        line: line + i,
        cells: [body.lines[line + i - body.first] ?? ''],
        fault,
      }));
    }
    if (!ragged) return [row];
    const fault = {
      code: 'ragged',
      message: `Line ${line} has ${cells.length} ${cells.length === 1 ? 'cell' : 'cells'} where ${columns} are expected, so it is not known which cell is which.`,
    };
    return [{ ...row, fault }];
  });
}

/** Lines above the names that hold a title and no table: one cell each, over a table of several columns. */
function countTitleLines(rows: readonly TableRow[]): number {
  const widths = rows.slice(0, SAMPLED_LINES).map((row) => row.cells.length);
  const usual = widths.toSorted((a, b) => a - b)[Math.floor(widths.length / 2)] ?? 1;
  if (usual < 2) return 0;
  let titles = 0;
  for (const row of rows.slice(0, 10)) {
    if (row.cells.filter((cell) => cell.trim() !== '').length > 1 || row.cells.length === usual) break;
    titles += 1;
  }
  return titles === rows.length ? 0 : titles;
}

function separatorLine(text: string): { delimiter: Delimiter; rest: string } | undefined {
  const found = /^sep=([,;\t|])[ \t]*(?:\r\n|\r|\n)/i.exec(text);
  const delimiter = DELIMITERS.find((d) => d === found?.[1]);
  if (found === null || delimiter === undefined) return undefined;
  return { delimiter, rest: text.slice(found[0].length) };
}

/**
 * The rows of a table in separated text, each with the line it begins on. The separator is guessed among comma,
 * semicolon, tab and bar, or named by a first line `sep=;`. Cells are given untrimmed, with what `writeCsv` did
 * to formulas undone. Empty lines are left out; a row with another number of cells than the header carries a
 * `fault` and is never shifted.
 *
 * `header` says whether the first row names the columns; when left out it is judged, and a first row of data
 * stays a row. Bounds: 200,000 rows, 200 columns. Refuses a quotation mark that is never closed, naming the line.
 */
export function readTable(text: string, options: { header?: boolean; delimiter?: Delimiter } = {}): Table {
  const unmarked = text.startsWith('\ufeff') ? text.slice(1) : text;
  const named = separatorLine(unmarked);
  const body = named?.rest ?? unmarked;
  const notes: Note[] = [];
  const delimiter =
    options.delimiter ?? named?.delimiter ?? guessDelimiter(scanLines(body, SAMPLED_LINES).lines);
  const firstLine = named === undefined ? 1 : 2;
  const records = parseRecords(body, delimiter, firstLine);
  if (records.length === 0) {
    throw new Refusal('file-empty', 'This file holds no rows; choose the file with the list in it.', {
      field: 'file',
    });
  }
  const titles = options.header === undefined ? countTitleLines(records) : 0;
  for (const row of records.slice(0, titles)) {
    notes.push({
      code: 'title-line',
      text: `Line ${row.line} is a title, not a row: "${row.cells.join(' ')}".`,
    });
  }
  const [first, ...others] = records.slice(titles);
  if (first === undefined) throw new TypeError('A table that has records lost its first one.');
  const headerInFile = options.header ?? !looksLikeData(first.cells);
  const columns = headerInFile
    ? first.cells.length
    : Math.max(...records.slice(titles, titles + SAMPLED_LINES).map((row) => row.cells.length));
  if (columns > MOST_COLUMNS) {
    throw new Refusal('too-many-columns', `This file has ${columns} columns; at most 200 can be read.`, {
      field: 'file',
    });
  }
  const parsed = headerInFile ? others : [first, ...others];
  if (parsed.length > MOST_ROWS) {
    throw new Refusal('too-many-rows', 'This file has more than 200,000 rows; split it into smaller files.', {
      field: 'file',
    });
  }
  if (!headerInFile) {
    notes.push({
      code: 'header-missing',
      text: 'The first line is an animal, not the names of the columns; say what each column is.',
    });
  }
  const lines = { first: firstLine, lines: body.split(LINE_BREAK) };
  const rows = markFaults(parsed, columns, delimiter, lines);
  return {
    delimiter,
    decimal: guessDecimal(rows, notes),
    header: headerInFile ? first.cells : Array.from({ length: columns }, (_, i) => `Column ${i + 1}`),
    headerInFile,
    rows,
    notes,
  };
}
