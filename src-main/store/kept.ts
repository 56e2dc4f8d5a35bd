import { createHash } from 'node:crypto';
import type { Clock } from './clock.ts';
import { canonical } from './journal.ts';
import { type Db, statements } from './sqlite.ts';

/** Things the program keeps for convenience. None of it is evidence; a rebuild carries it over as it is. */
export type Kept = {
  attachments: {
    /** Keeps bytes and answers their SHA-256 in hex; the same bytes are kept once. */
    put(bytes: Uint8Array): string;
    get(hash: string): Uint8Array | undefined;
  };
  /** Forms somebody has begun and not sent. Values are plain JSON. */
  forms: {
    put(screen: string, key: string, value: unknown): void;
    get(screen: string, key: string): unknown;
    list(screen: string): { key: string; keptAt: string; value: unknown }[];
    delete(screen: string, key: string): void;
  };
  preferences: {
    put(name: string, value: unknown): void;
    get(name: string): unknown;
  };
};

/** What may be kept inside a writing call, in the same transaction. */
export type KeptWriter = Kept;

/** SHA-256 of bytes, in lower-case hex. */
export function hashOfBytes(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}

/** The kept tables of a book. Writing through a connection that only reads is refused by the database. */
export function keptTables(db: Db, clock: Clock): Kept {
  const prepare = statements(db);
  const parsed = (text: unknown): unknown => (typeof text === 'string' ? JSON.parse(text) : undefined);
  return {
    attachments: {
      put(bytes) {
        const hash = hashOfBytes(bytes);
        prepare(
          'INSERT INTO kept_attachment (hash, bytes, kept_at) VALUES (?, ?, ?) ON CONFLICT (hash) DO NOTHING',
        ).run(hash, bytes, clock.now());
        return hash;
      },
      get(hash) {
        const bytes = prepare('SELECT bytes FROM kept_attachment WHERE hash = ?').pluck().get(hash);
        return bytes instanceof Uint8Array ? bytes : undefined;
      },
    },
    forms: {
      put(screen, key, value) {
        prepare(
          `INSERT INTO kept_form (screen, key, value, kept_at) VALUES (?, ?, ?, ?)
           ON CONFLICT (screen, key) DO UPDATE SET value = excluded.value, kept_at = excluded.kept_at`,
        ).run(screen, key, canonical(value), clock.now());
      },
      get: (screen, key) =>
        parsed(prepare('SELECT value FROM kept_form WHERE screen = ? AND key = ?').pluck().get(screen, key)),
      list(screen) {
        const rows = prepare(
          'SELECT key, value, kept_at FROM kept_form WHERE screen = ? ORDER BY kept_at DESC, key',
        ).all(screen) as { key: string; value: string; kept_at: string }[];
        return rows.map((row) => ({ key: row.key, keptAt: row.kept_at, value: parsed(row.value) }));
      },
      delete(screen, key) {
        prepare('DELETE FROM kept_form WHERE screen = ? AND key = ?').run(screen, key);
      },
    },
    preferences: {
      put(name, value) {
        prepare(
          `INSERT INTO kept_preference (name, value, kept_at) VALUES (?, ?, ?)
           ON CONFLICT (name) DO UPDATE SET value = excluded.value, kept_at = excluded.kept_at`,
        ).run(name, canonical(value), clock.now());
      },
      get: (name) => parsed(prepare('SELECT value FROM kept_preference WHERE name = ?').pluck().get(name)),
    },
  };
}

/** Replies to writing calls, so that a call sent twice is answered twice and done once. */
export function keptReplies(db: Db, clock: Clock) {
  const prepare = statements(db);
  return {
    get(request: string): { asked: string; reply: string | null } | undefined {
      return prepare('SELECT asked, reply FROM kept_reply WHERE request = ?').get(request) as
        | { asked: string; reply: string | null }
        | undefined;
    },
    put(request: string, asked: string, reply: string | null): void {
      prepare('INSERT INTO kept_reply (request, asked, reply, kept_at) VALUES (?, ?, ?, ?)').run(
        request,
        asked,
        reply,
        clock.now(),
      );
    },
  };
}
