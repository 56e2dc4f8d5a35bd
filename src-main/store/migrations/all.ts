import { journal001 } from './001-journal.ts';

/**
 * One step in the shape of the journal and kept tables. Steps are only ever added: a file that is out in the
 * world cannot be edited. Projections have no steps, they are rebuilt.
 */
export type Migration = { to: number; sql: string };

export const MIGRATIONS: readonly Migration[] = [journal001];

/** The version a new book has. */
export const BOOK_VERSION = MIGRATIONS.length;

/** Tables that a rebuild carries over as they are, besides the journal. */
export const KEPT_TABLES = ['kept_reply', 'kept_attachment', 'kept_form', 'kept_preference'] as const;
