import { createHash } from 'node:crypto';
import canonicalize from 'canonicalize';
import { z } from 'zod';
import { dateConfirmed } from '../../src-shared/entries/date-confirmed.ts';
import type { Entry, EntryKind } from '../../src-shared/entries/kind.ts';
import { happenedSchema, isInstant, replaced } from '../../src-shared/entries/replaced.ts';
import { voided } from '../../src-shared/entries/voided.ts';
import { Refusal } from '../../src-shared/refusal.ts';

/** One row of the journal as it lies in the file. `line` holds every field of the entry; the rest is checked against it. */
export type JournalRow = { seq: number; request: string; n: number; line: string; hash: string };

export type Kinds = ReadonlyMap<string, EntryKind>;

export const JOURNAL_COLUMNS = 'seq, request, n, line, hash';

/** Everything an entry is made of, and nothing else: a field that is not here would not be checked. */
const entrySchema = z.strictObject({
  seq: z.int().min(1),
  request: z.string().min(1),
  n: z.int().min(1),
  asked: z.string().regex(/^[0-9a-f]{64}$/),
  kind: z.string().min(1),
  v: z.int().min(1),
  happened: happenedSchema,
  recorded: z.string().refine(isInstant),
  clock: z.enum(['believed', 'doubted']),
  by: z.string().min(1),
  data: z.unknown(),
});

/** SHA-256 of the text's UTF-8 bytes, in lower-case hex. */
export function sha256(text: string): string {
  return createHash('sha256').update(text, 'utf8').digest('hex');
}

/**
 * Canonical JSON (RFC 8785). Numbers that JSON cannot hold and half characters are refused.
 * @throws Refusal `cannot-be-written`
 */
export function canonical(value: unknown): string {
  try {
    return canonicalize(value) ?? 'null';
  } catch (thrown) {
    const why = thrown instanceof Error ? thrown.message : String(thrown);
    throw new Refusal('cannot-be-written', `The book cannot hold this: ${why}.`, {
      next: 'Type the text again without unusual characters.',
    });
  }
}

/** The hash of one line, given the hash of the line before. */
export function chainHash(previous: string, line: string): string {
  return sha256(`${previous}\n${line}`);
}

/** The kinds of a program plus the generic ones that the store itself takes care of. */
export function withGenericKinds(kinds: Kinds): Kinds {
  const all = new Map(kinds);
  for (const kind of [voided, replaced, dateConfirmed] as const) all.set(kind.kind, kind);
  return all;
}

/** A map of kinds by name. @throws Error when two have the same name */
export function kindsOf(kinds: Iterable<EntryKind>): Kinds {
  const map = new Map<string, EntryKind>();
  for (const kind of kinds) {
    if (map.has(kind.kind)) throw new Error(`two kinds are called ${kind.kind}`);
    map.set(kind.kind, kind);
  }
  return map;
}

/** Reads a line without checking it further: for lines whose chain has been or will be checked elsewhere. */
export function parseLine(line: string): Entry {
  const entry: Entry = JSON.parse(line);
  return entry;
}

/**
 * A row read back: its entry, or what is wrong with it, given the hash of the row before.
 * @param strict hold the line against the schema of an entry and its canonical form too. The hash alone proves
 *   that these are the bytes that were written; a thorough check asks as well whether they were written properly.
 */
export function checkedRow(
  row: JournalRow,
  expectedSeq: number,
  previous: string,
  strict: boolean,
): { entry: Entry; fault?: undefined } | { fault: string } {
  if (row.seq !== expectedSeq) {
    return { fault: `entry ${expectedSeq} is missing; entry ${row.seq} comes in its place` };
  }
  let entry: Entry;
  try {
    entry = parseLine(row.line);
  } catch {
    return { fault: `entry ${row.seq} is not readable text` };
  }
  if (typeof entry !== 'object' || entry === null || (strict && !entrySchema.safeParse(entry).success)) {
    return { fault: `entry ${row.seq} does not have the fields of an entry` };
  }
  if (strict && canonicalize(entry) !== row.line) {
    return { fault: `entry ${row.seq} is not written in canonical form` };
  }
  const { seq, request, n } = entry;
  if (seq !== row.seq) return { fault: `entry ${row.seq} says it is entry ${seq}` };
  if (request !== row.request) return { fault: `entry ${row.seq} stands under another request` };
  if (n !== row.n) return { fault: `entry ${row.seq} stands under another place in its request` };
  if (chainHash(previous, row.line) !== row.hash) {
    return { fault: `entry ${row.seq} does not follow from the one before` };
  }
  return { entry };
}

/**
 * The kind that an entry is of.
 * @throws Refusal `entry-from-the-future` when this program does not know the kind, or only an older version
 */
export function kindFor(kinds: Kinds, name: string, v: number, seq: number): EntryKind {
  const kind = kinds.get(name);
  if (kind && v <= kind.version) return kind;
  throw new Refusal(
    'entry-from-the-future',
    `Entry ${seq} is of the kind "${name}", version ${v}; this Foldbook knows ${kind ? `version ${kind.version}` : 'version 0, that is, not at all'}.`,
    { next: 'Open the book with the newer Foldbook that wrote it.' },
  );
}

/** Data of an older version brought to the newest, one version at a time. @throws Error when a step is missing */
export function upgradedData(kind: EntryKind, v: number, data: unknown): unknown {
  let now = data;
  for (let from = v; from < kind.version; from += 1) {
    const step = kind.upgrade?.[from];
    if (!step) throw new Error(`kind ${kind.kind} has no upgrade from version ${from}`);
    now = step(now);
  }
  return now;
}

/** The entry with its data at the newest version of its kind. */
export function upgraded(kinds: Kinds, entry: Entry): Entry {
  const kind = kindFor(kinds, entry.kind, entry.v, entry.seq);
  if (kind.version === entry.v) return entry;
  return { ...entry, v: kind.version, data: upgradedData(kind, entry.v, entry.data) };
}

/**
 * Data checked by its kind's schema, as it will be stored. A schema must give the same again when its result
 * is read back, or a replay would differ from what was folded first.
 * @throws Refusal `entry-not-valid` naming the field
 */
export function checkedData(kind: EntryKind, data: unknown): unknown {
  const first = kind.schema.safeParse(data);
  if (!first.success) {
    const issue = first.error.issues[0];
    const field = issue?.path.map(String).join('.');
    throw new Refusal(
      'entry-not-valid',
      `An entry of the kind "${kind.kind}" is not complete${field ? ` at ${field}` : ''}: ${issue?.message ?? 'not valid'}.`,
      { ...(field ? { field } : {}), next: 'Correct it and send it again.' },
    );
  }
  const text = canonical(first.data);
  const again: unknown = JSON.parse(text);
  const second = kind.schema.safeParse(again);
  if (!second.success || canonical(second.data) !== text) {
    throw new Error(`the schema of kind ${kind.kind} changes what it has already accepted`);
  }
  return again;
}
