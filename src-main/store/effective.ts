import type { Entry } from '../../src-shared/entries/kind.ts';
import type { Replaced } from '../../src-shared/entries/replaced.ts';
import type { EntryName } from '../../src-shared/entries/voided.ts';
import { type Kinds, kindFor, parseLine, upgraded, upgradedData } from './journal.ts';
import { type Db, statements } from './sqlite.ts';

/** Where entries are read back from; `undefined` when there is none. Their data is as it was written. */
export type EntrySource = {
  bySeq(seq: number): Entry | undefined;
  byName(name: EntryName): Entry | undefined;
};

/** An entry stands as it was written, is struck out, or holds new content. */
export type EntryState = 'stands' | 'voided' | 'replaced';

export type Effective = {
  /** With the data and the time that count now, at the newest version of its kind. */
  entry: Entry;
  state: EntryState;
  /** The latest correction. */
  correctedBy?: { seq: number; reason: string };
};

/** Whether an entry is about another entry rather than about the farm. */
export function isCorrection(entry: Entry): boolean {
  return entry.kind === 'voided' || entry.kind === 'replaced';
}

/** Entries of the journal that lies in `db`. */
export function journalSource(db: Db): EntrySource {
  const bySeq = db.prepare('SELECT line FROM journal WHERE seq = ?').pluck();
  const byName = db.prepare('SELECT line FROM journal WHERE request = ? AND n = ?').pluck();
  const parsed = (line: unknown) => (typeof line === 'string' ? parseLine(line) : undefined);
  return {
    bySeq: (seq) => parsed(bySeq.get(seq)),
    byName: ({ request, n }) => parsed(byName.get(request, n)),
  };
}

type CorrectionRow = { seq: number; what: 'voided' | 'replaced'; reason: string };

/** Entries as they count now, by the corrections noted in `db`. */
export function effectiveEntries(db: Db, source: EntrySource, kinds: Kinds) {
  const prepare = statements(db);
  const last = prepare('SELECT seq, what, reason FROM correction WHERE target = ? ORDER BY seq DESC LIMIT 1');
  const lastReplacement = prepare(
    "SELECT seq FROM correction WHERE target = ? AND what = 'replaced' ORDER BY seq DESC LIMIT 1",
  ).pluck();

  function effective(seq: number): Effective | undefined {
    const written = source.bySeq(seq);
    if (!written) return undefined;
    const correction = last.get(seq) as CorrectionRow | undefined;
    if (!correction) return { entry: upgraded(kinds, written), state: 'stands' };
    // What is struck out is still shown with the content it had last.
    const content = lastReplacement.get(seq) as number | undefined;
    return {
      entry: content === undefined ? upgraded(kinds, written) : withContent(written, content),
      state: correction.what,
      correctedBy: { seq: correction.seq, reason: correction.reason },
    };
  }

  function withContent(written: Entry, by: number): Entry {
    const correcting = source.bySeq(by);
    if (!correcting) throw new Error(`entry ${by}, which corrects entry ${written.seq}, is missing`);
    const content = correcting.data as Replaced;
    const kind = kindFor(kinds, content.kind, content.v, by);
    const data = upgradedData(kind, content.v, content.data);
    return { ...written, v: kind.version, happened: content.happened, data, decidedSeq: by };
  }

  return { effective };
}
