import type { DataOf } from '../../../src-shared/entries/all.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import type { Reader, Store } from '../../store/store.ts';

/** A paper or a photo that stands in the book, with the entry that put it there. */
export type KeptPaper = DataOf<'attached'> & {
  entry: { request: string; n: number };
  seq: number;
  by: string;
  /** When it was put there, local to the holding. */
  local: string;
};

type Row = { data: string; seq: number; request: string; n: number; by: string; local: string };

const SELECT = `SELECT r.data, r.seq, j.request, j.n, j.line ->> '$.by' AS by, j.line ->> '$.happened.local' AS local
  FROM record AS r JOIN journal AS j ON j.seq = r.seq WHERE r.what = 'attachment'`;

const keptPaper = ({ data, request, n, ...rest }: Row): KeptPaper => ({
  ...(JSON.parse(data) as DataOf<'attached'>),
  entry: { request, n },
  ...rest,
});

/** Every paper and photo that stands, in the order they were put there. What was taken off is not among them. */
export function keptPapers(tx: Reader): KeptPaper[] {
  return tx.all<Row>(`${SELECT} ORDER BY r.seq`).map(keptPaper);
}

/** Those kept with any of these things, in the order they were put there. */
export function keptPapersOf(tx: Reader, things: readonly DataOf<'attached'>['to'][]): KeptPaper[] {
  const names = JSON.stringify(things.map(({ what, id }) => `${what}:${id}`));
  return tx
    .all<Row>(`${SELECT} AND r.name IN (SELECT value FROM json_each(?)) ORDER BY r.seq`, names)
    .map(keptPaper);
}

/** The one with this id. Refuses (`no-such-attachment`), also when it was taken off. */
export function keptPaperNamed(tx: Reader, attachment: string): KeptPaper {
  const row = tx.get<Row>(`${SELECT} AND r.id = ?`, attachment);
  if (!row) {
    throw new Refusal('no-such-attachment', 'This paper or photo is not in the book, or was taken off.', {
      field: 'attachment',
      next: 'Open the page it belongs to again.',
    });
  }
  return keptPaper(row);
}

/** The first that has these bytes: what they are called and what they are. */
export function keptPaperOfHash(tx: Reader, hash: string): KeptPaper | undefined {
  const row = tx.get<Row>(`${SELECT} AND r.data ->> '$.hash' = ? ORDER BY r.seq LIMIT 1`, hash);
  return row && keptPaper(row);
}

/**
 * The bytes of a kept paper, exactly as they came. Refuses (`attachment-missing`) when the book has lost them, which
 * checking the book finds too.
 */
export function bytesOfPaper(store: Store, { hash, name }: Pick<KeptPaper, 'hash' | 'name'>): Uint8Array {
  const bytes = store.kept.attachments.get(hash);
  if (!bytes) {
    throw new Refusal('attachment-missing', `The file ${name} is no longer in the book.`, {
      field: 'attachment',
      next: 'Check the book under Farm, and bring it back from a backup.',
    });
  }
  return bytes;
}
