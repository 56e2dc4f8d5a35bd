import { Refusal } from '../../../src-shared/refusal.ts';
import { readZip } from '../../exchange/zip.ts';
import { bookFromJournal, type FromJournal } from '../../store/from-journal.ts';
import type { StoreParts } from '../../store/store.ts';
import { JOURNAL } from './pack-page.ts';
import { verifyPack } from './verify-pack.ts';

/**
 * Makes a new book from an inspector's pack: its journal, its declarations and its papers. Only from a pack that is
 * whole. The file must not exist yet.
 * @param head a check code from a paper, which the pack must agree with
 * @throws Refusal `pack-not-whole` with the first thing that is wrong, `not-a-pack`, `file-exists`
 */
export function bookFromPack(
  bytes: Uint8Array,
  book: string,
  parts: StoreParts,
  now: string,
  head?: string,
): FromJournal {
  const checked = verifyPack(bytes, head);
  const [problem] = checked.problems;
  if (problem !== undefined) {
    throw new Refusal('pack-not-whole', `The pack is not whole: ${problem}`, {
      field: 'FILE',
      next: 'Fetch the pack again from where it was made.',
    });
  }
  const files = new Map(readZip(bytes).files.map(({ name, bytes: own }) => [name, own ?? new Uint8Array()]));
  const lines = Buffer.from(files.get(JOURNAL) ?? [])
    .toString('utf8')
    .split('\n')
    .slice(0, -1);
  const kept = [...files].filter(([name]) => /^(attachments|declarations)\//.test(name));
  return bookFromJournal(
    book,
    lines,
    kept.map(([, own]) => own),
    parts,
    now,
  );
}
