import { Refusal } from '../../src-shared/refusal.ts';
import type { Instant } from '../../src-shared/time/zone.ts';
import { refusedRow } from './animal-row.ts';
import { checkColumns, unreadColumns } from './animals.ts';
import { bareCell } from './cells.ts';
import { type DateOrder, dateOrderOf, ORDER_WORDS, readDate, readTime } from './dates.ts';
import { type DegreesUnit, readDegrees, unitInCell, unitNamed } from './degrees.ts';
import { type LoggerClock, placeTimes, type Timed } from './logger-clock.ts';
import type { LoggerColumn, LoggerColumns } from './logger-columns.ts';
import type { Question, RefusedRow } from './questions.ts';
import { isBlankRow, type Table, type TableRow } from './table.ts';
import type { Note } from './text.ts';

export type LoggerOptions = {
  dateOrder?: DateOrder | undefined;
  degrees?: DegreesUnit | undefined;
  clock?: LoggerClock | undefined;
  /** Zone of the farm, and the instant after which no reading can be. */
  zone: string;
  now: Instant;
};

/** One reading; `units` are 90,000ths of a degree Celsius. */
export type LoggerReading = { line: number; at: Instant; units: number };

export type LoggerRead = {
  /** Oldest first; none while a question is open. */
  readings: LoggerReading[];
  refused: RefusedRow[];
  /** Lines that repeat an earlier one to the letter. */
  already: { line: number; sameAs: number }[];
  /** Lines that wait for an answer. */
  waiting: number[];
  questions: Question[];
  notes: Note[];
  unit: DegreesUnit | undefined;
};

/** A zone written behind a time. The reader of dates refuses it; here it says exactly when it was. */
const OFFSET = /\s*(Z|UTC|GMT|[+-]\d{2}:?\d{2})$/i;

function offsetOf(text: string): { bare: string; offset: number | undefined } {
  const match = OFFSET.exec(text);
  // "2026-05-04" ends like an offset of four hours and is none.
  if (match === null || !/\d:\d{2}/.test(text.slice(0, match.index)))
    return { bare: text, offset: undefined };
  const written = match[1] ?? '';
  const bare = text.slice(0, match.index).trim();
  if (!/^[+-]/.test(written)) return { bare, offset: 0 };
  const minutes = Number(written.slice(1, 3)) * 60 + Number(written.slice(-2));
  return { bare, offset: written.startsWith('-') ? -minutes : minutes };
}

type Cells = Record<LoggerColumn, string>;

function cellsOf(row: TableRow, columns: LoggerColumns): Cells {
  const of = (column: LoggerColumn) => {
    const at = columns[column];
    return at === undefined ? '' : bareCell(row.cells[at]);
  };
  return { at: of('at'), time: of('time'), degrees: of('degrees') };
}

function timeOf(cells: Cells, order: DateOrder | undefined): { local: string; offset: number | undefined } {
  const { bare, offset } = offsetOf(cells.time === '' ? cells.at : cells.time);
  const { day, time } = readDate(cells.time === '' ? bare : cells.at, 'at', order);
  const clock = cells.time === '' ? time : readTime(bare, 'time');
  if (clock === undefined) {
    throw new Refusal('time-missing', `“${cells.at}” does not say at what time it was read.`, {
      field: 'time',
    });
  }
  return { local: `${day}T${clock}`, offset };
}

/** The unit of the column: answered, named by the header, or written in every cell that has one. */
function unitOf(
  header: string,
  cells: readonly string[],
  answered: DegreesUnit | undefined,
): DegreesUnit | undefined {
  if (answered !== undefined) return answered;
  const named = unitNamed(header);
  if (named !== undefined) return named;
  const written = new Set(cells.map(unitInCell).filter((unit) => unit !== undefined));
  const [only] = written;
  return written.size === 1 && cells.every((cell) => cell === '' || unitInCell(cell) !== undefined)
    ? only
    : undefined;
}

type Draft = Timed & { units: number };

/**
 * The readings of a logger's file. Every line that is not blank comes back read, refused with its reason, a repeat of
 * another, or waiting for a question: the order of day and month, the unit and how the clock ran are asked where the
 * file does not say them, never guessed.
 * @throws Refusal `bad-columns`, `no-at-column`, `no-degrees-column`
 */
export function readLogger(table: Table, columns: LoggerColumns, options: LoggerOptions): LoggerRead {
  checkColumns(columns, table);
  for (const [column, says] of [
    ['at', 'the day and time'],
    ['degrees', 'the temperature'],
  ] as const) {
    if (columns[column] === undefined) {
      throw new Refusal(`no-${column}-column`, `Say which column holds ${says}.`, {
        field: `columns.${column}`,
      });
    }
  }
  const rows = table.rows.filter((row) => !isBlankRow(row));
  const sound = rows.filter((row) => row.fault === undefined);
  const questions: Question[] = [];
  const notes = [...table.notes, ...unreadColumns(columns, table)];
  const read = sound.map((row) => ({ row, cells: cellsOf(row, columns) }));

  const dates = read.map(({ row, cells }) => ({
    line: row.line,
    cell: cells.time === '' ? offsetOf(cells.at).bare : cells.at,
  }));
  const { order, question, evidence } = dateOrderOf(
    dates.filter(({ cell }) => cell !== ''),
    'at',
    options.dateOrder,
  );
  if (question !== undefined) questions.push(question);
  if (evidence !== undefined && order !== undefined) {
    notes.push({
      code: 'date-order',
      text: `Days were read as ${ORDER_WORDS[order]}, as line ${evidence} can only be.`,
    });
  }
  const header = table.header[columns.degrees ?? -1] ?? '';
  const unit = unitOf(
    header,
    read.map(({ cells }) => cells.degrees),
    options.degrees,
  );
  if (unit === undefined) {
    const message = `Are the temperatures of “${header.trim()}” in °C or in °F? The file does not say.`;
    questions.push({ code: 'degrees-unit', field: 'degrees', message, choices: ['C', 'F'] });
  }

  const refused: RefusedRow[] = rows.flatMap((row) =>
    row.fault === undefined
      ? []
      : [refusedRow(row, new Refusal(row.fault.code, row.fault.message, { field: 'row' }))],
  );
  const drafts: Draft[] = [];
  const waiting: number[] = [];
  for (const { row, cells } of read) {
    if (question !== undefined || unit === undefined) {
      waiting.push(row.line);
      continue;
    }
    try {
      const units = readDegrees(cells.degrees, 'degrees', unit);
      drafts.push({ line: row.line, ...timeOf(cells, order), units });
    } catch (thrown) {
      if (!(thrown instanceof Refusal)) throw thrown;
      refused.push(refusedRow(row, thrown));
    }
  }
  const isUtc = options.clock === undefined && /\b(?:utc|gmt)\b/i.test(clockHeader(table, columns));
  if (isUtc) notes.push({ code: 'clock', text: 'The heading says UTC, so the times were read as UTC.' });
  const { placed, question: clock } = placeTimes(drafts, options.zone, isUtc ? 'utc' : options.clock);
  if (clock !== undefined) {
    questions.push(clock);
    waiting.push(...drafts.map(({ line }) => line));
  }
  return { ...settled(placed, drafts, rows, options.now, refused), waiting, questions, notes, unit };
}

function clockHeader(table: Table, { at, time }: LoggerColumns): string {
  return [at, time].map((column) => table.header[column ?? -1] ?? '').join(' ');
}

/** Readings still to come are refused; the same reading twice is one. */
function settled(
  placed: readonly { line: number; at: Instant }[],
  drafts: readonly Draft[],
  rows: readonly TableRow[],
  now: Instant,
  refusedBefore: readonly RefusedRow[],
): Pick<LoggerRead, 'readings' | 'refused' | 'already'> {
  const byLine = new Map(drafts.map((draft) => [draft.line, draft]));
  const rowOf = new Map(rows.map((row) => [row.line, row]));
  const seen = new Map<string, number>();
  const readings: LoggerReading[] = [];
  const already: LoggerRead['already'] = [];
  const refused = [...refusedBefore];
  for (const { line, at } of placed) {
    const draft = byLine.get(line);
    const row = rowOf.get(line);
    if (draft === undefined || row === undefined) throw new Error(`line ${line} was placed and never read`);
    if (at > now) {
      const says = `“${draft.local.replace('T', ' ')}” is still to come; look at the clock of the logger.`;
      refused.push(refusedRow(row, new Refusal('date-in-future', says, { field: 'at' })));
      continue;
    }
    const key = `${at} ${draft.units}`;
    const sameAs = seen.get(key);
    if (sameAs !== undefined) already.push({ line, sameAs });
    else readings.push({ line, at, units: draft.units });
    if (sameAs === undefined) seen.set(key, line);
  }
  return { readings, refused: refused.sort((a, b) => a.line - b.line), already };
}
