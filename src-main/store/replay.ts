import type { Entry } from '../../src-shared/entries/kind.ts';
import { FIRST_PREVIOUS } from './check-code.ts';
import { type EntrySource, journalSource } from './effective.ts';
import { foldEngine } from './fold.ts';
import { checkedData, checkedRow, JOURNAL_COLUMNS, type JournalRow, type Kinds, kindFor } from './journal.ts';
import type { Projection } from './projection.ts';
import { createProjections, dropProjections } from './projection-tables.ts';
import { type Db, sqliteCode } from './sqlite.ts';

export type Progress = (done: number, total: number) => void;

/** Rows of a journal in order, read in pages so that the same connection may write in between. */
export function* journalRows(db: Db, after = 0): Generator<JournalRow> {
  const page = db.prepare(`SELECT ${JOURNAL_COLUMNS} FROM journal WHERE seq > ? ORDER BY seq LIMIT 500`);
  let last = after;
  for (;;) {
    const rows = page.all(last) as JournalRow[];
    for (const row of rows) yield row;
    const end = rows.at(-1);
    if (!end) return;
    last = end.seq;
  }
}

export type ReplayParts = { kinds: Kinds; projections: readonly Projection[]; projectionVersion: number };

/** What was wrong with one row on the way. */
export type RowTrouble = { seq: number; message: string };

export type ReplayOptions = {
  progress?: Progress | undefined;
  /** Told of each row that is taken, before it is folded. */
  onRow?: (row: JournalRow) => void;
  /** Where entries are read back from when a subject is folded again. Default: `from`. */
  source?: EntrySource;
  /**
   * Hold every line against the schema of an entry and of its kind, and against canonical form. A book opens
   * without this: a schema that became stricter must lock nobody out.
   */
  strict?: boolean;
  /** A page that cannot be read is the end of what can be taken, not an error. */
  rescue?: boolean;
};

/**
 * Reads a whole journal, checks its chain, and folds it into projection tables in `target` (which may be the
 * same connection). The caller holds a transaction on `target`.
 * @returns the head, and the first row that is not as it should be: nothing after it is taken
 */
export function replay(
  from: Db,
  target: Db,
  parts: ReplayParts,
  options: ReplayOptions = {},
): { seq: number; hash: string; trouble?: RowTrouble } {
  dropProjections(target);
  createProjections(target, parts.projections, parts.projectionVersion);
  const source = options.source ?? journalSource(from);
  const folding = foldEngine(target, source, parts.kinds, parts.projections).begin();
  const total = (from.prepare('SELECT max(seq) FROM journal').pluck().get() as number | null) ?? 0;
  let head: { seq: number; hash: string; trouble?: RowTrouble } = { seq: 0, hash: FIRST_PREVIOUS };
  const rows = journalRows(from);
  const strict = options.strict === true;
  for (;;) {
    const next = nextRow(rows, options.rescue === true);
    if (next === undefined) break;
    const checked =
      typeof next === 'string' ? { fault: next } : checkedRow(next, head.seq + 1, head.hash, strict);
    if (typeof next === 'string' || checked.fault !== undefined) {
      head = { ...head, trouble: { seq: head.seq + 1, message: checked.fault ?? '' } };
      break;
    }
    const row = next;
    const { entry } = checked;
    if (strict) checkNewest(parts.kinds, entry);
    options.onRow?.(row);
    folding.take(entry);
    head = { seq: row.seq, hash: row.hash };
    if (row.seq % 1000 === 0) options.progress?.(row.seq, total);
  }
  folding.finish();
  options.progress?.(total, total);
  return head;
}

/** The next row, nothing at the end, or in a rescue why it cannot be read. */
function nextRow(rows: Generator<JournalRow>, rescue: boolean): JournalRow | string | undefined {
  try {
    const next = rows.next();
    return next.done ? undefined : next.value;
  } catch (thrown) {
    const code = sqliteCode(thrown);
    if (!rescue || code === undefined) throw thrown;
    return `the file cannot be read further (${code})`;
  }
}

function checkNewest(kinds: Kinds, entry: Entry): void {
  const kind = kindFor(kinds, entry.kind, entry.v, entry.seq);
  if (entry.v === kind.version) checkedData(kind, entry.data);
}
