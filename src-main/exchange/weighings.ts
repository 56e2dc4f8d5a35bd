import type { Weight, WeightUnit } from '../../src-shared/quantity/weight.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import { type Day, parseDay } from '../../src-shared/time/day.ts';
import { refusedRow } from './animal-row.ts';
import { checkColumns, unreadColumns } from './animals.ts';
import { bareCell } from './cells.ts';
import { type DateOrder, dateOrderOf, ORDER_WORDS, readDate, readTime } from './dates.ts';
import type { WeighColumn } from './guess.ts';
import { readIdentityCell } from './identities.ts';
import {
  type Counts,
  countRows,
  type Question,
  type QuestionCode,
  type RefusedRow,
  sayLines,
  type WaitingRow,
} from './questions.ts';
import { type Decimal, isBlankRow, type Table, type TableRow } from './table.ts';
import type { Note } from './text.ts';
import {
  isNoWeight,
  isOddWeight,
  oddWeightQuestion,
  readWeightCell,
  type WeightColumn,
  weightColumn,
} from './weights.ts';

export type WeighOptions = {
  unit?: WeightUnit | undefined;
  decimal?: Decimal | 'both' | undefined;
  dateOrder?: DateOrder | undefined;
  /** The day of weighings whose row does not say it. */
  day?: string | undefined;
  /** Days after this one are refused. */
  today?: string | undefined;
  /** Weights no sheep has, or far from the last one: taken as they are, or refused. */
  oddWeights?: 'take' | 'refuse' | undefined;
  /** Questions that a person has answered; their answers stand and are not asked again. */
  confirmed?: readonly QuestionCode[] | undefined;
  /** The last known weights by identity key, to see pounds among kilograms. */
  lastWeights?: ReadonlyMap<string, Weight> | undefined;
};

export type WeighColumns = Partial<Record<WeighColumn, number>>;

export type TakenWeighing = {
  line: number;
  state: 'taken';
  identity: { key: string; written: string };
  weight: Weight;
  /** "2026-03-04", or "2026-03-04T10:23" in local time. */
  on: string;
  note?: string;
};

/** The same animal, day and weight as an earlier line, which is the one taken. */
export type RepeatedWeighing = { line: number; state: 'already'; sameAs: number; message: string };

export type WeighRow = TakenWeighing | RefusedRow | RepeatedWeighing | WaitingRow;

export type WeighingsRead = {
  rows: WeighRow[];
  questions: Question[];
  counts: Counts;
  notes: Note[];
  blankLines: number[];
};

type Draft = {
  line: number;
  state: 'draft';
  identity: { key: string; written: string };
  weight?: Weight;
  on?: string;
  odd?: string;
  note?: string;
  cells: string[];
};

type Context = {
  columns: WeighColumns;
  order: DateOrder | undefined;
  datesOpen: boolean;
  weight: WeightColumn;
  day: Day | undefined;
  dayOpen: boolean;
  today: Day | undefined;
  oddWeights: 'take' | 'refuse' | undefined;
  last: ReadonlyMap<string, Weight>;
};

function cellOf(cells: readonly string[], columns: WeighColumns, column: WeighColumn): string {
  const at = columns[column];
  return at === undefined ? '' : bareCell(cells[at]);
}

/** The local day or day and time of a row; undefined while the question about it is open. */
function readOn(cells: string[], context: Context): string | undefined {
  const dayCell = cellOf(cells, context.columns, 'on');
  const timeCell = cellOf(cells, context.columns, 'time');
  if (dayCell === '') {
    if (context.dayOpen) return undefined;
    if (context.day === undefined) {
      throw new Refusal('day-missing', 'This row does not say when the animal was weighed; give the day.', {
        field: 'on',
      });
    }
    return timeCell === '' ? context.day : `${context.day}T${readTime(timeCell, 'time')}`;
  }
  if (context.datesOpen) return undefined;
  const { day, time } = readDate(dayCell, 'on', context.order, context.today);
  const clock = timeCell === '' ? time : readTime(timeCell, 'time');
  return clock === undefined ? day : `${day}T${clock}`;
}

function readRow(row: TableRow, context: Context): Draft | RefusedRow {
  const { line, cells } = row;
  try {
    if (row.fault !== undefined) throw new Refusal(row.fault.code, row.fault.message, { field: 'row' });
    const identityCell = cellOf(cells, context.columns, 'identity');
    if (identityCell === '') {
      throw new Refusal('no-identity', 'This row does not say which animal was weighed.', {
        field: 'identity',
      });
    }
    const { key, written } = readIdentityCell(identityCell, 'identity', 'any');
    const draft: Draft = { line, state: 'draft', identity: { key, written }, cells };
    const on = readOn(cells, context);
    if (on !== undefined) draft.on = on;
    const note = cellOf(cells, context.columns, 'note');
    if (note.length > 2000) {
      throw new Refusal('text-too-long', 'This note has more than 2000 letters; shorten it.', {
        field: 'note',
      });
    }
    if (note !== '') draft.note = note;
    const cell = cellOf(cells, context.columns, 'weight');
    if (cell === '') throw new Refusal('weight-missing', 'This row has no weight.', { field: 'weight' });
    if (isNoWeight(cell)) {
      throw new Refusal('no-weight', `“${cell}” is no weight: the crate read nothing; weigh again.`, {
        field: 'weight',
      });
    }
    if (context.weight.questions.length > 0) return draft;
    const weight = readWeightCell(cell, 'weight', context.weight);
    if (isOddWeight(weight, undefined, context.last.get(key)) && context.oddWeights !== 'take') {
      if (context.oddWeights === undefined) return { ...draft, weight, odd: cell };
      throw new Refusal('weight-odd', `“${cell}” is not what this sheep can weigh; weigh again.`, {
        field: 'weight',
      });
    }
    return { ...draft, weight };
  } catch (thrown) {
    if (thrown instanceof Refusal) return refusedRow(row, thrown);
    throw thrown;
  }
}

/**
 * Two reads of one animal on one day. The same weight: one weighing, and the later line is `already` there.
 * Different weights: nobody knows which is right, so all are refused, each naming the others.
 */
function settleDoubles(drafts: readonly Draft[]): Map<number, RefusedRow | RepeatedWeighing> {
  const byAnimalAndDay = new Map<string, Draft[]>();
  for (const draft of drafts) {
    if (draft.on === undefined || draft.weight === undefined) continue;
    const key = `${draft.on.slice(0, 10)} ${draft.identity.key}`;
    const same = byAnimalAndDay.get(key);
    if (same === undefined) byAnimalAndDay.set(key, [draft]);
    else same.push(draft);
  }
  const settled = new Map<number, RefusedRow | RepeatedWeighing>();
  for (const same of byAnimalAndDay.values()) {
    const [first] = same;
    if (first?.weight === undefined || same.length < 2) continue;
    const { weight } = first;
    const alike = same.every((one) => one.weight?.value === weight.value && one.weight.unit === weight.unit);
    for (const draft of alike ? same.slice(1) : same) {
      const others = same.filter((one) => one !== draft).map((one) => one.line);
      settled.set(
        draft.line,
        alike
          ? {
              line: draft.line,
              state: 'already',
              sameAs: first.line,
              message: `${draft.identity.written} has the same weight on line ${first.line}; one weighing is kept.`,
            }
          : {
              line: draft.line,
              state: 'refused',
              field: 'weight',
              code: 'duplicate',
              message: `${draft.identity.written} has another weight for the same day on ${sayLines(others)}; keep the right one.`,
              cells: draft.cells,
            },
      );
    }
  }
  return settled;
}

/**
 * The weighings in a table from a crate or a scale. Every row that is not blank comes back taken, already there
 * (to the letter the same as an earlier line), refused with a reason, or waiting for a question; `counts` says
 * how many. While a question is open no row is taken: read again with the answer in `options`, and with the
 * question's code in `confirmed` where the answer goes against the file.
 *
 * Throws a Refusal for `columns` that cannot be read and for a `day` or `today` that is no day.
 */
export function readWeighings(
  table: Table,
  columns: WeighColumns,
  options: WeighOptions = {},
): WeighingsRead {
  checkColumns(columns, table);
  for (const [column, says] of [
    ['identity', 'the tag or chip'],
    ['weight', 'the weight'],
  ] as const) {
    if (columns[column] === undefined) {
      throw new Refusal(`no-${column}-column`, `Say which column holds ${says}.`, {
        field: `columns.${column}`,
      });
    }
  }
  const day = options.day === undefined ? undefined : parseDay(options.day, 'day');
  const today = options.today === undefined ? undefined : parseDay(options.today, 'today');
  const last = options.lastWeights ?? new Map<string, Weight>();
  const blankLines = table.rows.filter(isBlankRow).map((row) => row.line);
  const filled = table.rows.filter((row) => !isBlankRow(row));
  const sound = filled.filter((row) => row.fault === undefined);
  const questions: Question[] = [];
  const notes = [...table.notes, ...unreadColumns(columns, table)];

  const dates = sound.map((row) => ({ line: row.line, cell: cellOf(row.cells, columns, 'on') }));
  const order = dateOrderOf(
    dates.filter((one) => one.cell !== ''),
    'on',
    options.dateOrder,
  );
  if (order.question !== undefined) questions.push(order.question);
  if (order.evidence !== undefined && order.order !== undefined) {
    notes.push({
      code: 'date-order',
      text: `Dates were read as ${ORDER_WORDS[order.order]}, as line ${order.evidence} can only be.`,
    });
  }
  const dayOpen = columns.on === undefined && day === undefined;
  if (dayOpen) {
    questions.push({
      code: 'day',
      field: 'on',
      message: 'On which day were these animals weighed?',
      choices: [],
    });
  }
  const cells = sound.map((row) => ({
    line: row.line,
    cell: cellOf(row.cells, columns, 'weight'),
    ...keyOf(cellOf(row.cells, columns, 'identity'), last),
  }));
  const header = columns.weight === undefined ? undefined : table.header[columns.weight];
  const weight = weightColumn(
    cells,
    'weight',
    header,
    { weightUnit: options.unit, decimal: options.decimal, confirmed: options.confirmed },
    last,
  );
  questions.push(...weight.questions);
  const context: Context = {
    columns,
    order: order.order,
    datesOpen: order.question !== undefined,
    weight,
    day,
    dayOpen,
    today,
    oddWeights: options.oddWeights,
    last,
  };
  const read = filled.map((row) => readRow(row, context));
  const drafts = read.filter((row) => row.state === 'draft');
  const odd = drafts.flatMap((one) => (one.odd === undefined ? [] : [{ line: one.line, cell: one.odd }]));
  const oddQuestion = oddWeightQuestion(odd, 'weight', ['take', 'refuse']);
  if (oddQuestion !== undefined) questions.push(oddQuestion);
  const settled = settleDoubles(drafts);

  const rows = read.map((row): WeighRow => {
    if (row.state === 'refused') return row;
    const double = settled.get(row.line);
    if (double !== undefined && (double.state === 'refused' || questions.length === 0)) return double;
    if (questions.length > 0) return { line: row.line, state: 'waiting' };
    if (row.weight === undefined || row.on === undefined) {
      throw new TypeError(`Line ${row.line} has no weight or day and no question is open.`);
    }
    return {
      line: row.line,
      state: 'taken',
      identity: row.identity,
      weight: row.weight,
      on: row.on,
      ...(row.note === undefined ? {} : { note: row.note }),
    };
  });
  return { rows, questions, counts: countRows(rows), notes, blankLines };
}

/** The key of an animal, when there are last weights to compare; a spoilt number is refused with its row later. */
function keyOf(cell: string, last: ReadonlyMap<string, Weight>): { key?: string } {
  if (last.size === 0 || cell === '') return {};
  try {
    return { key: readIdentityCell(cell, 'identity', 'any').key };
  } catch (thrown) {
    if (thrown instanceof Refusal) return {};
    throw thrown;
  }
}
