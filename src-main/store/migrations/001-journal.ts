import type { Migration } from './all.ts';

/**
 * The journal and the kept tables. The triggers make the journal append-only: a plain no-delete trigger is
 * not enough, because INSERT OR REPLACE removes a row without firing it.
 */
export const journal001: Migration = {
  to: 1,
  sql: `
CREATE TABLE journal (
  seq INTEGER PRIMARY KEY CHECK (seq > 0),
  request TEXT NOT NULL,
  n INTEGER NOT NULL CHECK (n > 0),
  line TEXT NOT NULL,
  hash TEXT NOT NULL CHECK (length(hash) = 64),
  UNIQUE (request, n)
) STRICT;

CREATE TRIGGER journal_no_update BEFORE UPDATE ON journal
BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END;

CREATE TRIGGER journal_no_delete BEFORE DELETE ON journal
BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END;

CREATE TRIGGER journal_next_only BEFORE INSERT ON journal
WHEN NEW.seq IS NOT (SELECT coalesce(max(seq), 0) + 1 FROM journal)
  OR EXISTS (SELECT 1 FROM journal WHERE request = NEW.request AND n = NEW.n)
BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END;

CREATE TABLE kept_reply (
  request TEXT NOT NULL PRIMARY KEY,
  asked TEXT NOT NULL,
  reply TEXT,
  kept_at TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE kept_attachment (
  hash TEXT NOT NULL PRIMARY KEY CHECK (length(hash) = 64),
  bytes BLOB NOT NULL,
  kept_at TEXT NOT NULL
) STRICT;

CREATE TABLE kept_form (
  screen TEXT NOT NULL,
  key TEXT NOT NULL,
  value TEXT NOT NULL,
  kept_at TEXT NOT NULL,
  PRIMARY KEY (screen, key)
) STRICT, WITHOUT ROWID;

CREATE TABLE kept_preference (
  name TEXT NOT NULL PRIMARY KEY,
  value TEXT NOT NULL,
  kept_at TEXT NOT NULL
) STRICT, WITHOUT ROWID;
`,
};
