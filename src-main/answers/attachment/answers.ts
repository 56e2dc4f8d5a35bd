import type { Reply } from '../../../src-shared/calls/all.ts';
import type { attachmentCalls } from '../../../src-shared/calls/attachment.ts';
import type { Reader } from '../../store/store.ts';
import { type Answers, write } from '../context.ts';
import { chosenFile, sizeOfChosen } from '../files.ts';
import { bytesOfPaper, type KeptPaper, keptPaperNamed, keptPapersOf } from '../reading/attachments.ts';
import { personName } from '../reading/holding.ts';
import { printLocal } from '../reading/labels.ts';
import { checkSize, keepWithThere, shownName } from './attach.ts';

type Shown = Reply<'attachments'>['attachments'][number];

/** "412 kB", "2.3 MB"; 1000 bytes a kB. */
export function sayBytes(bytes: number): string {
  if (bytes < 1000) return `${bytes} bytes`;
  if (bytes < 1_000_000) return `${Math.round(bytes / 1000)} kB`;
  return `${(bytes / 1_000_000).toFixed(1)} MB`;
}

function shown(tx: Reader, one: KeptPaper): Shown {
  const { attachment, entry, to, hash, mime, bytes, name, paper, why } = one;
  return {
    attachment,
    entry,
    to,
    hash,
    mime,
    bytes,
    sizeText: sayBytes(bytes),
    name,
    paper,
    ...(why === undefined ? {} : { why }),
    by: personName(tx, one.by),
    on: printLocal(one.local),
  };
}

/** Papers and photos kept with what they belong to. */
export const attachmentAnswers: Answers<keyof typeof attachmentCalls> = {
  attach(context, asked) {
    // By size first: a file that is far too large is not even read out of its letters.
    const { name, bytes } = sizeOfChosen(context, asked.file);
    checkSize(shownName(name), bytes);
    const file = chosenFile(context, asked.file);
    return write<'attach'>(context, asked, (act) =>
      keepWithThere(act, asked.to, file, { paper: asked.paper, why: asked.why }),
    );
  },
  attachments({ store }, { of }) {
    return { attachments: keptPapersOf(store.read, of).map((one) => shown(store.read, one)) };
  },
  attachment({ store }, { attachment }) {
    const one = keptPaperNamed(store.read, attachment);
    return { ...shown(store.read, one), base64: Buffer.from(bytesOfPaper(store, one)).toString('base64') };
  },
};
