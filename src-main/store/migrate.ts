import { Refusal } from '../../src-shared/refusal.ts';
import { backupFile } from './backup.ts';
import { applyMigration, freeName, refuseFuture } from './book-file.ts';
import { BOOK_VERSION, MIGRATIONS, type Migration } from './migrations/all.ts';
import type { Db } from './sqlite.ts';

function versionOf(db: Db): number {
  return Number(db.pragma('user_version', { simple: true }));
}

/** Refuses a book that this program cannot read as it is. @throws Refusal `book-from-the-future`, `book-needs-opening` */
export function checkBookVersion(db: Db, path: string): void {
  const version = versionOf(db);
  refuseFuture(path, version);
  if (version === BOOK_VERSION) return;
  throw new Refusal(
    'book-needs-opening',
    `This book is of version ${version}; this Foldbook reads version ${BOOK_VERSION}.`,
    {
      next: 'Open it once for writing, which brings it up to date, then read it again.',
    },
  );
}

/**
 * Brings the journal and kept tables to the newest shape, all steps in one transaction. A backup is made
 * first: `<book>.before-version-<n>-1`.
 * @returns the path of the backup, or nothing when there was nothing to do
 * @throws Refusal `book-from-the-future`
 */
export function migrate(
  db: Db,
  path: string,
  migrations: readonly Migration[] = MIGRATIONS,
): string | undefined {
  const from = versionOf(db);
  const newest = newestOf(migrations);
  refuseFuture(path, from, newest);
  if (from === newest) return undefined;
  const backup = freeName(path, `before-version-${newest}`);
  backupFile(path, backup);
  applyPending(db, path, migrations);
  return backup;
}

function newestOf(migrations: readonly Migration[]): number {
  return migrations.at(-1)?.to ?? 0;
}

/** The steps alone, without a backup: for a file that is itself a copy. */
export function applyPending(db: Db, path: string, migrations: readonly Migration[] = MIGRATIONS): void {
  const from = versionOf(db);
  refuseFuture(path, from, newestOf(migrations));
  if (from === newestOf(migrations)) return;
  db.exec('BEGIN EXCLUSIVE');
  try {
    for (const migration of migrations) if (migration.to > from) applyMigration(db, migration);
    db.exec('COMMIT');
  } catch (thrown) {
    if (db.inTransaction) db.exec('ROLLBACK');
    throw thrown;
  }
}
