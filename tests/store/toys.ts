import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { z } from 'zod';
import { kindsOf, type Reader, type StoreParts } from '../../src-main/store/store.ts';
import { type EntryDraft, entryKind, type Happened } from '../../src-shared/entries/kind.ts';

/** Three toy kinds, one for each way in which order can matter: not at all, last one wins, and reset. */
const thing = z.string().min(1);

/** Order does not matter. One entry may touch two subjects, each with its own share. */
export const added = entryKind({
  kind: 'toy-added',
  version: 1,
  schema: z.strictObject({ to: z.array(thing).min(1), by: z.int() }),
  subjects: (data) => data.to,
  fold(entry, subject, read) {
    const before = Number(read.rows('toy_count')[0]?.total ?? 0);
    return [
      { op: 'put', table: 'toy_count', row: { subject, total: before + entry.data.by } },
      { op: 'put', table: 'toy_log', row: { seq: entry.seq, before, note: null } },
    ];
  },
  line: (data) => `added ${data.by}`,
});

/** The last one in the order of happening wins; the one before is closed by a change. */
export const named = entryKind({
  kind: 'toy-named',
  version: 2,
  schema: z.strictObject({ of: thing, name: z.string() }),
  upgrade: {
    1: (old) => {
      const { of, title } = z.object({ of: thing, title: z.string() }).parse(old);
      return { of, name: title };
    },
  },
  subjects: (data) => [data.of],
  fold(entry, _subject, read) {
    const last = read.rows('toy_name', { until: null });
    return [
      ...last.map((row) => ({
        op: 'change' as const,
        table: 'toy_name',
        key: { seq: row.seq ?? null },
        set: { until: entry.happened.at },
      })),
      { op: 'put', table: 'toy_name', row: { seq: entry.seq, name: entry.data.name, until: null } },
    ];
  },
  line: (data) => `named ${data.name}`,
});

/** A count sets the balance, whatever was added before, and takes the log of it away. */
export const counted = entryKind({
  kind: 'toy-counted',
  version: 1,
  schema: z.strictObject({ of: thing, found: z.int() }),
  subjects: (data) => [data.of],
  fold: (entry, subject, read) => [
    ...read.rows('toy_log').map((row) => ({
      op: 'remove' as const,
      table: 'toy_log',
      key: { seq: row.seq ?? null },
    })),
    { op: 'put', table: 'toy_count', row: { subject, total: entry.data.found } },
  ],
  line: (data) => `counted ${data.found}`,
});

export const toyParts: StoreParts = {
  kinds: kindsOf([added, named, counted]),
  projections: [
    {
      table: 'toy_count',
      sql: 'CREATE TABLE toy_count (subject TEXT NOT NULL PRIMARY KEY, total INTEGER NOT NULL) STRICT',
    },
    {
      table: 'toy_log',
      sql: `CREATE TABLE toy_log (subject TEXT NOT NULL, seq INTEGER NOT NULL, before INTEGER NOT NULL, note TEXT,
        PRIMARY KEY (subject, seq)) STRICT`,
    },
    {
      table: 'toy_name',
      sql: `CREATE TABLE toy_name (seq INTEGER NOT NULL, subject TEXT NOT NULL, name TEXT NOT NULL, until TEXT,
        PRIMARY KEY (seq, subject)) STRICT;
        CREATE INDEX toy_name_subject ON toy_name (subject)`,
    },
  ],
  projectionVersion: 1,
};

/** Every projection table, the store's own included, in the order of all its columns. */
export function dump(read: Reader): Record<string, unknown[]> {
  const tables = ['subject_entry', 'correction', ...toyParts.projections.map((each) => each.table)];
  return Object.fromEntries(
    tables.map((table) => {
      const rows = read.all<Record<string, unknown>>(`SELECT * FROM ${table}`);
      return [table, rows.map((row) => JSON.stringify(row)).sort()];
    }),
  );
}

/** A clock that goes one second on each time it is read. */
export function steppingClock(start = '2026-03-01T08:00:00.000Z') {
  let now = Date.parse(start);
  return {
    now() {
      now += 1000;
      return new Date(now).toISOString();
    },
    set(to: string) {
      now = Date.parse(to) - 1000;
    },
  };
}

export function minute(count: number): Happened {
  const at = new Date(Date.UTC(2026, 0, 1) + count * 60_000).toISOString();
  return { local: at.slice(0, 16), zone: 'UTC', at };
}

export function addedDraft(to: string[], by: number, at = 0): EntryDraft {
  return { kind: 'toy-added', happened: minute(at), by: 'Ida Test', data: { to, by } };
}
export function namedDraft(of: string, name: string, at = 0): EntryDraft {
  return { kind: 'toy-named', happened: minute(at), by: 'Ida Test', data: { of, name } };
}
export function countedDraft(of: string, found: number, at = 0): EntryDraft {
  return { kind: 'toy-counted', happened: minute(at), by: 'Ida Test', data: { of, found } };
}
export function voidDraft(request: string, n: number, at = 0): EntryDraft {
  return {
    kind: 'voided',
    happened: minute(at),
    by: 'Ida Test',
    data: { target: { request, n }, reason: 'wrong' },
  };
}
export function replaceDraft(request: string, n: number, by: EntryDraft, v = 1, at = 0): EntryDraft {
  const { kind, happened, data } = by;
  return {
    kind: 'replaced',
    happened: minute(at),
    by: 'Ida Test',
    data: { target: { request, n }, kind, v, happened, data, reason: 'mistyped' },
  };
}

/** A folder of its own, emptied by `clear`. */
export function folder(): { path(name: string): string; clear(): void } {
  const made = mkdtempSync(join(tmpdir(), 'foldbook-test-'));
  return { path: (name) => join(made, name), clear: () => rmSync(made, { recursive: true, force: true }) };
}
