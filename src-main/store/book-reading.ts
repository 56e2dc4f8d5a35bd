import type { Entry, Subject } from '../../src-shared/entries/kind.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import { FIRST_PREVIOUS } from './check-code.ts';
import { type Effective, type EntryState, effectiveEntries, journalSource } from './effective.ts';
import { checkedRow, JOURNAL_COLUMNS, type JournalRow, type Kinds, parseLine } from './journal.ts';
import { type Db, statements } from './sqlite.ts';

/** An entry with the content that counts now, and what became of it. */
export type BookEntry = Entry & {
  state: EntryState;
  /** The latest correction: its number and its reason. */
  correctedBy?: { seq: number; reason: string };
};

const MOST_AT_ONCE = 1000;

/** Reading entries from a connection: by subject, number and name. */
export function bookReading(db: Db, kinds: Kinds) {
  const prepare = statements(db);
  const source = journalSource(db);
  const { effective } = effectiveEntries(db, source, kinds);
  const clock: { seq: number; reference: string | undefined } = { seq: 0, reference: undefined };

  function asBookEntry(found: Effective): BookEntry {
    const { entry, state, correctedBy } = found;
    return { ...entry, state, ...(correctedBy ? { correctedBy } : {}) };
  }

  function entry(seq: number): BookEntry | undefined {
    const found = effective(seq);
    return found && asBookEntry(found);
  }

  function present(seqs: readonly number[]): BookEntry[] {
    return seqs.map((seq) => {
      const found = entry(seq);
      if (!found) throw new Error(`entry ${seq} is listed and missing`);
      return found;
    });
  }

  function row(seq: number): JournalRow | undefined {
    return prepare(`SELECT ${JOURNAL_COLUMNS} FROM journal WHERE seq = ?`).get(seq) as JournalRow | undefined;
  }

  function lastRow(): JournalRow | undefined {
    const sql = `SELECT ${JOURNAL_COLUMNS} FROM journal ORDER BY seq DESC LIMIT 1`;
    return prepare(sql).get() as JournalRow | undefined;
  }

  return {
    entry,
    entryNamed(request: string, n: number): BookEntry | undefined {
      const found = source.byName({ request, n });
      return found && entry(found.seq);
    },
    entriesOf(subject: Subject): BookEntry[] {
      const sql = 'SELECT seq FROM subject_entry WHERE subject = ? ORDER BY at, seq';
      return present(prepare(sql).pluck().all(subject) as number[]);
    },
    entriesBetween(first: number, last: number, limit: number = MOST_AT_ONCE): BookEntry[] {
      const sql = 'SELECT seq FROM journal WHERE seq BETWEEN ? AND ? ORDER BY seq LIMIT ?';
      return present(prepare(sql).pluck().all(first, last, Math.min(limit, MOST_AT_ONCE)) as number[]);
    },
    written(seq: number): { entry: Entry; line: string; hash: string } | undefined {
      const found = row(seq);
      return found && { entry: parseLine(found.line), line: found.line, hash: found.hash };
    },
    last(): { seq: number; hash: string; recorded: string } | undefined {
      const found = lastRow();
      return found && { seq: found.seq, hash: found.hash, recorded: parseLine(found.line).recorded };
    },

    /** Only entries written since the last look are read, however long the clock has been in doubt. */
    clockReference(): string | undefined {
      const found = prepare(
        `SELECT seq, line ->> '$.recorded' AS recorded FROM journal
         WHERE seq > ? AND (line ->> '$.clock' = 'believed' OR line ->> '$.kind' = 'date-confirmed')
         ORDER BY seq DESC LIMIT 1`,
      ).get(clock.seq) as { seq: number; recorded: string } | undefined;
      // In a transaction that is then rolled back the entry would not stay, so nothing is remembered there.
      if (!db.inTransaction) {
        clock.seq = lastRow()?.seq ?? 0;
        if (found) clock.reference = found.recorded;
      }
      return found?.recorded ?? clock.reference;
    },

    /** Checks the last entry before anything is added to it. @throws Refusal `book-damaged` */
    checkTail(): void {
      const last = lastRow();
      if (!last) return;
      const before = last.seq === 1 ? FIRST_PREVIOUS : row(last.seq - 1)?.hash;
      const fault =
        before === undefined
          ? `entry ${last.seq - 1} is missing`
          : checkedRow(last, last.seq, before, true).fault;
      if (fault === undefined) return;
      throw new Refusal('book-damaged', `The book is damaged: ${fault}.`, {
        next: 'Open the recovery screen: it rescues what can be read, or puts a backup in place.',
      });
    },
  };
}
