/**
 * What a reader asks before it takes anything, and how it says no to one row. A question is answered by reading
 * again with the answer among the options; until then no row is taken.
 */

export type QuestionCode =
  | 'date-order'
  | 'weight-unit'
  | 'decimal'
  | 'class'
  | 'default-class'
  | 'sex'
  | 'weight-check'
  | 'day'
  | 'degrees-unit'
  | 'clock';

export type Question = {
  code: QuestionCode;
  field: string;
  message: string;
  choices: string[];
  /** The word in the file that is asked about (`class`, `sex`). */
  word?: string;
  /** The lines it is about, when it is not about all of them. */
  lines?: number[];
};

/** Why one row was not taken. `cells` are as the file has them, so that a person finds them again. */
export type RefusedRow = {
  line: number;
  state: 'refused';
  field: string;
  code: string;
  message: string;
  next?: string;
  cells: string[];
};

/** A row that would be taken if the open questions were answered. */
export type WaitingRow = { line: number; state: 'waiting' };

/**
 * Rows in = taken + refused + waiting + already. `already` rows repeat a row of the same file to the letter;
 * waiting is zero unless a question is open, and taken is zero while one is. Blank rows are not rows.
 */
export type Counts = { in: number; taken: number; refused: number; waiting: number; already: number };

/** Counts rows by state. */
export function countRows(rows: readonly { state: string }[]): Counts {
  const counts: Counts = { in: rows.length, taken: 0, refused: 0, waiting: 0, already: 0 };
  for (const { state } of rows) {
    if (state === 'taken' || state === 'refused' || state === 'waiting' || state === 'already') {
      counts[state] += 1;
    }
  }
  return counts;
}

/** "line 4", "lines 4 and 9", "lines 4, 9, 12 and 30 more": short enough for one sentence. */
export function sayLines(lines: readonly number[]): string {
  const shown = lines.slice(0, 5);
  if (lines.length > 5) return `lines ${shown.join(', ')} and ${lines.length - 5} more`;
  const last = shown.pop();
  return shown.length === 0 ? `line ${last}` : `lines ${shown.join(', ')} and ${last}`;
}
