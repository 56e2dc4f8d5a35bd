import type { z } from 'zod';
import type { fileSchema } from '../../../src-shared/calls/call.ts';
import type { previewRow } from '../../../src-shared/calls/flock.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import type { Question } from '../../exchange/questions.ts';
import { readTable, type Table } from '../../exchange/table.ts';
import { decodeText } from '../../exchange/text.ts';
import type { Context } from '../context.ts';
import { chosenFile } from '../files.ts';

/** What both kinds of flock file have in common: opening them, counting their rows, asking about them. */

/** A row of a file; `waiting` where only an open question keeps it from being taken. */
export type PreviewRow = z.output<typeof previewRow>;
export type Totals = { in: number; taken: number; refused: number; alreadyThere: number };
/** A question of a reader of files, or one that only the book can raise. */
export type OpenQuestion = Omit<Question, 'code'> & { code: string };
export type OpenFile = { encoding: string; table: Table };

/** How many rows a preview shows and an import lists. */
const MOST_ROWS_SHOWN = 500;
/** Rows that columns are guessed from. */
const SAMPLED_ROWS = 50;

/** The table in a file that was chosen. Refuses (`file-gone`, `file-unreadable`, and what the reader of tables refuses). */
export function openFile(context: Context, file: z.output<typeof fileSchema>): OpenFile {
  const { text, encoding, notes } = decodeText(chosenFile(context, file).bytes);
  const table = readTable(text);
  return { encoding, table: { ...table, notes: [...notes, ...table.notes] } };
}

/** The first rows, from which columns are guessed. */
export function sampleOf(table: Table): string[][] {
  return table.rows.slice(0, SAMPLED_ROWS).map((row) => row.cells);
}

/** The guessed columns, overruled by the asked ones: an asked column is no longer free for a guess; -1 means none. */
export function settledColumns<C extends string>(
  guessed: Partial<Record<C, number>>,
  asked: Partial<Record<C, number | undefined>> | undefined,
): Partial<Record<C, number>> {
  const settled: Partial<Record<C, number>> = {};
  const names = (of: object): C[] => Object.keys(of) as C[];
  const used = new Set(names(asked ?? {}).map((name) => asked?.[name]));
  for (const name of names(guessed)) {
    const at = guessed[name];
    if (at !== undefined && asked?.[name] === undefined && !used.has(at)) settled[name] = at;
  }
  for (const name of names(asked ?? {})) {
    const at = asked?.[name];
    if (at !== undefined && at >= 0) settled[name] = at;
  }
  return settled;
}

/** What a refused row is called: the first of these cells that is filled, else the first filled cell. */
export function calledRow(cells: readonly string[], columns: readonly (number | undefined)[]): string {
  const filled = (cell: string | undefined) => cell !== undefined && cell.trim() !== '';
  const named = columns.map((at) => (at === undefined ? undefined : cells[at])).find(filled);
  return (named ?? cells.find(filled) ?? '').trim().slice(0, 80);
}

/** Rows in = taken + refused + already there. */
export function totalsOf(rows: readonly PreviewRow[]): Totals {
  const count = (state: PreviewRow['state']) => rows.filter((row) => row.state === state).length;
  return {
    in: rows.length,
    taken: count('taken'),
    refused: count('refused'),
    alreadyThere: count('already-there'),
  };
}

/**
 * Refused rows first, in the order of the file, then those that wait for an answer, those already there, and the
 * others; as many as are shown.
 */
export function rowsShown(rows: readonly PreviewRow[]): PreviewRow[] {
  const rank = (row: PreviewRow) =>
    row.waiting ? 1 : { refused: 0, 'already-there': 2, taken: 3 }[row.state];
  return rows.toSorted((a, b) => rank(a) - rank(b)).slice(0, MOST_ROWS_SHOWN);
}

/** A row that an open question keeps from being read. It is not taken as long as the question is open. */
export function waitingRow(line: number, shown: string, questions: readonly OpenQuestion[]): PreviewRow {
  const about = questions.find((one) => one.lines?.includes(line)) ?? questions[0];
  return {
    line,
    state: 'refused',
    waiting: true,
    shown,
    ...(about ? { field: about.field } : {}),
    message: `Waits for an answer: ${about?.message ?? 'there is an open question'}`,
  };
}

/** The codes a person said yes to, with or without the "ask:" that refusals put before them. */
export function confirmedCodes(confirmed: readonly string[]): ReadonlySet<string> {
  return new Set(confirmed.map((code) => code.replace(/^ask:/, '')));
}

/** A question as the reply has it. */
export function askedQuestion(question: OpenQuestion) {
  return {
    code: `ask:${question.code}`,
    field: question.field,
    message: question.message,
    choices: question.choices,
    ...(question.word === undefined ? {} : { word: question.word }),
    lines: question.lines ?? [],
  };
}

type Plan = {
  columns: Record<string, number | undefined>;
  notes: string[];
  questions: OpenQuestion[];
  rows: PreviewRow[];
};

/**
 * The reply of a preview. Columns that cannot be read are a question and no refusal: the file is open, and the
 * person who looks at it can say which column holds what. `columns` are those that were tried.
 */
export function previewOf(file: OpenFile, columns: Record<string, number | undefined>, work: () => Plan) {
  const { encoding, table } = file;
  let plan: Plan;
  try {
    plan = work();
  } catch (thrown) {
    if (!(thrown instanceof Refusal) || thrown.field?.startsWith('columns') !== true) throw thrown;
    const question = { code: 'columns', field: thrown.field, message: thrown.message, choices: [] };
    const rows = table.rows.map((row) => waitingRow(row.line, calledRow(row.cells, []), [question]));
    plan = { columns, notes: table.notes.map((note) => note.text), questions: [question], rows };
  }
  const known = Object.entries(plan.columns).flatMap(([name, at]) => (at === undefined ? [] : [[name, at]]));
  return {
    encoding,
    delimiter: table.delimiter,
    header: table.header,
    columns: Object.fromEntries(known) as Record<string, number>,
    notes: plan.notes,
    questions: plan.questions.map(askedQuestion),
    totals: totalsOf(plan.rows),
    rows: rowsShown(plan.rows),
  };
}

/** How each question is answered, for the refusal of an import that still has one. */
const ANSWERED_BY: Readonly<Record<string, string>> = {
  'date-order': 'Say in which order the dates are written',
  'weight-unit': 'Say whether these weights are in kg or lb',
  decimal: 'Say which mark begins the part below one',
  class: 'Say which class the word stands for',
  'default-class': 'Say which class they all are',
  sex: 'Say which sex the word stands for',
  'weight-check': 'Correct the file, say yes to take these weights, or leave them out',
  'weight-jump': 'Say yes if these weights are right, or leave them out',
  day: 'Give the day of the weighing',
  'degrees-unit': 'Say whether these are degrees Celsius or Fahrenheit',
  clock: 'Say how the clock of the logger ran',
};

/** Refuses an import as long as a question is open, naming the first one ("ask:date-order"). */
export function refuseOpenQuestions(questions: readonly OpenQuestion[]): void {
  const [first] = questions;
  if (!first) return;
  const choices = first.choices.length > 0 ? ` (${first.choices.join(', ')})` : '';
  throw new Refusal(`ask:${first.code}`, first.message, {
    field: `options.${first.field}`,
    next: `${ANSWERED_BY[first.code] ?? 'Answer the question'}${choices}, then import again.`,
  });
}
