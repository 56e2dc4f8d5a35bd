import type { DataOf } from '../../../src-shared/entries/all.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { CONTENT_WORDS, type ContentMime, contentOf, promisedBy } from '../../exchange/file-content.ts';
import { hashOfBytes } from '../../store/kept.ts';
import type { Reader } from '../../store/store.ts';
import type { Act } from '../context.ts';
import type { ChosenFile } from '../files.ts';
import { optional } from '../optional.ts';
import { keptPapersOf } from '../reading/attachments.ts';

export type AttachedTo = DataOf<'attached'>['to'];

/** The largest file that is kept, and how many one thing may have: a leaflet with its photos, not an archive (ours). */
export const ATTACHED_MOST = { bytes: 10 * 1024 * 1024, ofOne: 50 } as const;

/** Where each sort of thing is looked up. A subject is an animal or a lot, by its whole name. */
const THERE: Readonly<Record<AttachedTo['what'], string>> = {
  medicine: 'SELECT 1 FROM medicine WHERE id = ?',
  revision: 'SELECT 1 FROM revision WHERE id = ?',
  batch: 'SELECT 1 FROM batch WHERE id = ?',
  container: 'SELECT 1 FROM container WHERE id = ?',
  prescription: "SELECT 1 FROM record WHERE what = 'prescription' AND id = ?",
  instruction: "SELECT 1 FROM record WHERE what = 'instruction' AND id = ?",
  subject: `SELECT 1 FROM (SELECT 'animal:' || id AS name FROM animal UNION ALL SELECT 'lot:' || id FROM lot)
    WHERE name = ?`,
  declaration: 'SELECT 1 FROM declaration WHERE id = ?',
  treatment: 'SELECT 1 FROM administration WHERE id = ?',
  storage: "SELECT 1 FROM record WHERE what = 'storage-read' AND id = ?",
};

function checkThere(tx: Reader, { what, id }: AttachedTo): void {
  if (tx.get(THERE[what], id)) return;
  throw new Refusal('no-such-thing', `There is no such ${what} in the book to keep a paper with.`, {
    field: 'to',
    next: 'Open its page and add the paper there.',
  });
}

/** A name only ever to be shown: no folder, no sign that turns the writing round or does not show, at most 120 long. */
export function shownName(name: string): string {
  const shown = name
    .replace(/^.*[/\\]/su, '')
    .replace(/[\p{Cc}\p{Cf}]/gu, '')
    .trim();
  if (shown.length <= 120) return shown === '' ? 'file' : shown;
  const ending = /\.[A-Za-z0-9]{1,8}$/.exec(shown)?.[0] ?? '';
  return `${shown.slice(0, 120 - ending.length)}${ending}`;
}

/** Refuses (`file-too-big`, `file-empty`) by size alone. */
export function checkSize(name: string, bytes: number): void {
  if (bytes > ATTACHED_MOST.bytes) {
    throw new Refusal('file-too-big', `File: ${name} is larger than 10 MB.`, {
      field: 'file',
      next: 'Take a smaller photo or scan, or split the paper into parts.',
    });
  }
  if (bytes === 0) {
    throw new Refusal('file-empty', `File: there is nothing in ${name}.`, {
      field: 'file',
      next: 'Choose the file again.',
    });
  }
}

/**
 * What a chosen file is. Refuses (`file-kind`, `file-not-its-name`, `file-cut-off`): the content decides, and a name
 * that says something else is a mistake somebody should look at.
 */
function mimeOf(name: string, bytes: Uint8Array): ContentMime {
  const found = contentOf(bytes);
  const promised = promisedBy(name);
  if (!found) {
    const isPromised = promised !== 'none' && promised !== 'other';
    throw new Refusal(
      isPromised ? 'file-not-its-name' : 'file-kind',
      isPromised
        ? `File: ${name} is not ${CONTENT_WORDS[promised]}, though its name says so.`
        : `File: ${name} is no PDF and no JPEG, PNG or WebP picture.`,
      { field: 'file', next: 'Save it as a PDF or as a JPEG picture, and choose that one.' },
    );
  }
  if (promised !== 'none' && promised !== found.mime) {
    throw new Refusal(
      'file-not-its-name',
      `File: ${name} is ${CONTENT_WORDS[found.mime]}, and its name says something else.`,
      { field: 'file', next: 'Look whether it is the right file, and give it its right ending.' },
    );
  }
  if (!found.isWhole) {
    throw new Refusal('file-cut-off', `File: the end of ${name} is missing.`, {
      field: 'file',
      next: 'Fetch or take it again, and choose the new one.',
    });
  }
  return found.mime;
}

/**
 * Adds the entry that keeps a file with a thing, and keeps its bytes in the same transaction.
 * @param mime what it is, where the caller has read it already; else its content decides
 * @throws Refusal `no-such-thing`, `file-too-big`, `file-empty`, `file-kind`, `file-not-its-name`, `file-cut-off`,
 *   `already-attached`, `too-many-attached`
 */
export function keepWith(
  act: Act,
  to: AttachedTo,
  file: ChosenFile,
  said: { paper: DataOf<'attached'>['paper']; why?: string | undefined; mime?: 'text/csv' },
): { attachment: string; hash: string } {
  const name = shownName(file.name);
  checkSize(name, file.bytes.byteLength);
  const mime = said.mime ?? mimeOf(name, file.bytes);
  const hash = hashOfBytes(file.bytes);
  const there = keptPapersOf(act.tx, [to]);
  const same = there.find((one) => one.hash === hash);
  if (same) {
    throw new Refusal('already-attached', `File: this one is kept here already, as ${same.name}.`, {
      field: 'file',
      next: 'Nothing has to be done.',
    });
  }
  if (there.length >= ATTACHED_MOST.ofOne) {
    throw new Refusal('too-many-attached', `File: ${ATTACHED_MOST.ofOne} papers are kept here already.`, {
      field: 'file',
      next: 'Take one off that is not needed.',
    });
  }
  const attachment = act.id();
  act.add('attached', {
    attachment,
    to,
    hash,
    mime,
    bytes: file.bytes.byteLength,
    name,
    paper: said.paper,
    ...optional('why', said.why),
  });
  act.keep((kept) => void kept.attachments.put(file.bytes));
  return { attachment, hash };
}

/** The same for a thing that was in the book before this call. */
export function keepWithThere(...args: Parameters<typeof keepWith>): ReturnType<typeof keepWith> {
  const [act, to] = args;
  checkThere(act.tx, to);
  return keepWith(...args);
}
