import { CLASSES, type SheepClass } from '../../src-shared/label/terms.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import { type Day, parseDay } from '../../src-shared/time/day.ts';
import {
  type AnimalColumns,
  type AnimalContext,
  cellOf,
  type Draft,
  type ImportedAnimal,
  readAnimalRow,
} from './animal-row.ts';
import { paddedWidth } from './cells.ts';
import { type DateOrder, dateOrderOf, ORDER_WORDS } from './dates.ts';
import {
  type Counts,
  countRows,
  type Question,
  type RefusedRow,
  sayLines,
  type WaitingRow,
} from './questions.ts';
import { isBlankRow, type Table, type TableRow } from './table.ts';
import type { Note } from './text.ts';
import { oddWeightQuestion, type WeightColumn, type WeightOptions, weightColumn } from './weights.ts';
import { classOfWord, type Sex, sexOfWord, wordKey } from './words.ts';

export type AnimalOptions = WeightOptions & {
  dateOrder?: DateOrder | undefined;
  /** Answers about words of the class column; `refuse` refuses the rows. */
  classWords?: Readonly<Record<string, SheepClass | 'refuse'>> | undefined;
  sexWords?: Readonly<Record<string, Sex | 'refuse'>> | undefined;
  /** For rows that do not say their class, and for files without that column. */
  defaultClass?: SheepClass | undefined;
  /** What becomes of weights no such sheep has: taken, the animal taken without it, or the row refused. */
  oddWeights?: 'take' | 'without' | 'refuse' | undefined;
  /** Dates after this day are refused. */
  today?: string | undefined;
};

export type TakenAnimal = { line: number; state: 'taken'; animal: ImportedAnimal };
export type AnimalRow = TakenAnimal | RefusedRow | WaitingRow;

export type AnimalsRead = {
  rows: AnimalRow[];
  questions: Question[];
  counts: Counts;
  notes: Note[];
  /** Lines with nothing but space in them; they count as no row. */
  blankLines: number[];
};

/** Refuses columns that are not in the table and two meanings for one column. */
export function checkColumns(columns: Partial<Record<string, number>>, table: Table): void {
  const used = new Map<number, string>();
  for (const [column, at] of Object.entries(columns)) {
    if (at === undefined) continue;
    if (!Number.isInteger(at) || at < 0 || at >= table.header.length) {
      throw new Refusal(
        'bad-columns',
        `There is no column ${at + 1} in this file; choose another for ${column}.`,
        {
          field: `columns.${column}`,
        },
      );
    }
    const other = used.get(at);
    if (other !== undefined) {
      throw new Refusal(
        'bad-columns',
        `Column ${at + 1} cannot be both ${other} and ${column}; choose one.`,
        {
          field: `columns.${column}`,
        },
      );
    }
    used.set(at, column);
  }
}

/** A remark that names the columns nobody reads, so that nothing is dropped unseen. */
export function unreadColumns(columns: Partial<Record<string, number>>, table: Table): Note[] {
  const used = new Set(Object.values(columns));
  const unread = table.header.filter(
    (_, i) => !used.has(i) && table.rows.some((row) => (row.cells[i] ?? '').trim() !== ''),
  );
  if (unread.length === 0) return [];
  return [
    { code: 'columns-unread', text: `Not read: ${unread.map((name) => `“${name.trim()}”`).join(', ')}.` },
  ];
}

function answers<T>(words: Readonly<Record<string, T>> | undefined): ReadonlyMap<string, T> {
  return new Map(Object.entries(words ?? {}).map(([word, answer]) => [wordKey(word), answer]));
}

/** One question for each word of a column that stands for nothing known. */
function wordQuestions(
  rows: readonly TableRow[],
  columns: AnimalColumns,
  field: 'class' | 'sex',
  known: (word: string) => boolean,
  choices: readonly string[],
): Question[] {
  const unknown = new Map<string, { word: string; lines: number[] }>();
  for (const row of rows) {
    const word = cellOf(row.cells, columns, field);
    if (word === '' || /^#/.test(word) || known(word)) continue;
    const one = unknown.get(wordKey(word)) ?? { word, lines: [] };
    one.lines.push(row.line);
    unknown.set(wordKey(word), one);
  }
  return [...unknown.values()].map(({ word, lines }) => ({
    code: field,
    field,
    message: `What ${field} is “${word}” (${sayLines(lines)})?`,
    choices: [...choices, 'refuse'],
    word,
    lines,
  }));
}

function askAboutDates(
  rows: readonly TableRow[],
  columns: AnimalColumns,
  column: 'born' | 'weighedOn',
  answered: DateOrder | undefined,
  questions: Question[],
  notes: Note[],
): DateOrder | undefined {
  const cells = rows.map((row) => ({ line: row.line, cell: cellOf(row.cells, columns, column) }));
  const found = dateOrderOf(
    cells.filter((one) => one.cell !== ''),
    column,
    answered,
  );
  if (found.question !== undefined) questions.push(found.question);
  if (found.evidence !== undefined && found.order !== undefined) {
    notes.push({
      code: 'date-order',
      text: `Dates were read as ${ORDER_WORDS[found.order]}, as line ${found.evidence} can only be.`,
    });
  }
  return found.order;
}

/**
 * Rows that name an animal of another row: to the letter the same, the first is taken; otherwise it is not known
 * which is right and all are refused. A management number counts only where it is all a row has.
 */
function refuseDoubles(drafts: readonly Draft[]): Map<number, RefusedRow> {
  const byKey = new Map<string, Draft[]>();
  for (const draft of drafts) {
    for (const key of draft.animal.keys) {
      const isOnlyManagement = key === draft.animal.keys.at(-1) && draft.animal.management !== undefined;
      if (isOnlyManagement && draft.animal.keys.length > 1) continue;
      const same = byKey.get(key);
      if (same === undefined) byKey.set(key, [draft]);
      else same.push(draft);
    }
  }
  const refused = new Map<number, RefusedRow>();
  for (const same of byKey.values()) {
    const [first] = same;
    if (first === undefined || same.length < 2) continue;
    const text = (draft: Draft): string => JSON.stringify(draft.cells.map((cell) => cell.trim()));
    const alike = same.every((draft) => text(draft) === text(first));
    for (const draft of alike ? same.slice(1) : same) {
      const others = same.filter((one) => one !== draft).map((one) => one.line);
      refused.set(draft.line, {
        line: draft.line,
        state: 'refused',
        field:
          draft.animal.tag !== undefined ? 'tag' : draft.animal.chip !== undefined ? 'chip' : 'management',
        code: alike ? 'repeated-row' : 'duplicate',
        message: alike
          ? `${draft.animal.shown} is written the same on line ${first.line}, and is taken from there.`
          : `${draft.animal.shown} is also on ${sayLines(others)} with other words; keep the right one.`,
        cells: draft.cells,
      });
    }
  }
  return refused;
}

function sharedManagement(drafts: readonly Draft[]): Note[] {
  const byNumber = new Map<string, number[]>();
  for (const { line, animal } of drafts) {
    if (animal.management === undefined || animal.keys.length === 1) continue;
    byNumber.set(animal.management, [...(byNumber.get(animal.management) ?? []), line]);
  }
  const shared = [...byNumber].filter(([, lines]) => lines.length > 1);
  return shared.slice(0, 5).map(([number, lines]) => ({
    code: 'management-shared',
    text: `Management number ${number} is on ${sayLines(lines)}: typed at the race it will not find one animal.`,
  }));
}

/**
 * The animals in a table. Every row that is not blank comes back taken, refused with a reason, or waiting for a
 * question; `counts` says how many. While any question is open no row is taken: read again with the answer in
 * `options`. The order of dates, the unit, the decimal mark and unknown words are asked and never guessed.
 *
 * Throws a Refusal only for `columns` that cannot be read (`bad-columns`, `no-identity-column`) and for a
 * `today` that is no day.
 */
export function readAnimals(table: Table, columns: AnimalColumns, options: AnimalOptions = {}): AnimalsRead {
  checkColumns(columns, table);
  if (columns.tag === undefined && columns.chip === undefined && columns.management === undefined) {
    throw new Refusal(
      'no-identity-column',
      'Say which column holds the tag, the chip or the management number.',
      {
        field: 'columns.tag',
      },
    );
  }
  const today: Day | undefined = options.today === undefined ? undefined : parseDay(options.today, 'today');
  const blankLines = table.rows.filter(isBlankRow).map((row) => row.line);
  const filled = table.rows.filter((row) => !isBlankRow(row));
  // Cells of a ragged row may stand in the wrong column: they are no evidence for anything.
  const sound = filled.filter((row) => row.fault === undefined);
  const questions: Question[] = [];
  const notes = [...table.notes, ...unreadColumns(columns, table)];

  const classWords = answers(options.classWords);
  const sexWords = answers(options.sexWords);
  questions.push(
    ...wordQuestions(sound, columns, 'class', (w) => classOfWord(w, classWords) !== undefined, CLASSES),
    ...wordQuestions(sound, columns, 'sex', (w) => sexOfWord(w, sexWords) !== undefined, [
      'female',
      'male',
      'castrated',
    ]),
  );
  if (columns.class === undefined && options.defaultClass === undefined) {
    questions.push({
      code: 'default-class',
      field: 'class',
      message: 'No column says what class of sheep these are; which class are they all?',
      choices: [...CLASSES],
    });
  }
  const dateOrders = {
    born: askAboutDates(sound, columns, 'born', options.dateOrder, questions, notes),
    weighedOn: askAboutDates(sound, columns, 'weighedOn', options.dateOrder, questions, notes),
  };
  let weight: WeightColumn | undefined;
  if (columns.weight !== undefined) {
    const cells = sound.map((row) => ({ line: row.line, cell: cellOf(row.cells, columns, 'weight') }));
    weight = weightColumn(cells, 'weight', table.header[columns.weight], options);
    questions.push(...weight.questions);
  }
  const context: AnimalContext = {
    columns,
    dateOrders,
    weight,
    classWords,
    sexWords,
    defaultClass: options.defaultClass,
    oddWeights: options.oddWeights,
    today,
    managementWidth: paddedWidth(sound.map((row) => cellOf(row.cells, columns, 'management'))),
    open: new Set(questions.map((question) => question.field)),
  };

  const read = filled.map((row) => readAnimalRow(row, context));
  const drafts = read.filter((row) => row.state === 'draft');
  const odd = drafts.flatMap((draft) =>
    draft.odd === undefined ? [] : [{ line: draft.line, cell: draft.odd }],
  );
  const oddQuestion = oddWeightQuestion(odd, 'weight', ['take', 'without', 'refuse']);
  if (oddQuestion !== undefined) questions.push(oddQuestion);
  notes.push(...sharedManagement(drafts));
  const doubles = refuseDoubles(drafts);

  const rows = read.map((row): AnimalRow => {
    if (row.state === 'refused') return row;
    const double = doubles.get(row.line);
    if (double !== undefined) return double;
    if (questions.length > 0) return { line: row.line, state: 'waiting' };
    if (row.class === undefined)
      throw new TypeError(`Line ${row.line} has no class and no question is open.`);
    return { line: row.line, state: 'taken', animal: { ...row.animal, class: row.class } };
  });
  return { rows, questions, counts: countRows(rows), notes, blankLines };
}
