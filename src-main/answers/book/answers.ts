import type { bookCalls } from '../../../src-shared/calls/book.ts';
import { workOut } from '../../../src-shared/calls/work-out.ts';
import { KINDS_OF_ENTRY } from '../../../src-shared/entries/all.ts';
import type { EntryName } from '../../../src-shared/entries/voided.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import { instantOf } from '../../../src-shared/time/zone.ts';
import type { IssuedPaper } from '../../desk-type.ts';
import type { BookEntry, Reader, Store } from '../../store/store.ts';
import { verifiedLines } from '../../store/verify.ts';
import type { Answer, Answers } from '../context.ts';
import { keptPaperOfHash } from '../reading/attachments.ts';
import { type BookItem, type BookRow, bookItems } from '../reading/book.ts';
import { daysOf } from '../reading/days.ts';
import { holdingOf, onlyHolding, personName } from '../reading/holding.ts';
import { printLocal } from '../reading/labels.ts';
import { filterOf } from './collect.ts';
import { correctTreatment } from './correct-treatment.ts';
import { makePack } from './make-pack.ts';
import { bookPaper } from './paper.ts';
import { recheck } from './recheck.ts';
import { bookTable } from './table.ts';
import { previewCorrection, treatment } from './treatment.ts';
import { voidEntry } from './void.ts';

/** How many administrations are read at once while a search looks for the next ones that fit. */
const AT_ONCE = 1000;

const cursorOf = (item: BookItem) => `${item.at}|${item.seq}`;

function cursorFrom(text: string | undefined): { at: string; seq: number } | undefined {
  if (text === undefined) return undefined;
  const found = /^([\dTZ:.-]+)\|(\d+)$/.exec(text);
  if (!found) {
    throw new Refusal('bad-page', 'The next page of the book was asked for in a way it does not know.', {
      field: 'after',
      next: 'Open the book again from the beginning.',
    });
  }
  return { at: found[1] ?? '', seq: Number(found[2]) };
}

const book: Answer<'book'> = (context, asked) => {
  const tx = context.store.read;
  const holding = asked.holding === undefined ? onlyHolding(tx) : holdingOf(tx, asked.holding);
  const zone = holding?.zone ?? 'UTC';
  const days = daysOf(asked);
  const from = instantOf(days.from, zone, 'start', 'from');
  const to = instantOf(days.to, zone, 'end', 'to');
  const key = searchKey(asked.search);
  const { medicine, subject, group, batch, person } = asked;
  const isAsked = filterOf(tx, { medicine, subject, group, batch, person });
  const isNarrowed = [key || undefined, subject, group, batch, person].some((part) => part !== undefined);
  const wanted = (item: BookItem): BookRow[] =>
    !isAsked(item)
      ? []
      : item.rows.filter((row) => (asked.corrections || row.state === 'stands') && fits(row, key));
  const rows: BookRow[] = [];
  let after = cursorFrom(asked.after);
  for (;;) {
    // One more than is shown, so that a last page is known to be the last.
    const limit = !isNarrowed ? Math.min(AT_ONCE, asked.limit - rows.length + 1) : AT_ONCE;
    const items = bookItems(tx, { from, to, holding: asked.holding, medicine: asked.medicine, after, limit });
    for (const [i, item] of items.entries()) {
      const more = wanted(item);
      // The versions of one treatment stay on one page.
      if (rows.length > 0 && rows.length + more.length > asked.limit) {
        return { rows, ...(after === undefined ? {} : { next: `${after.at}|${after.seq}` }) };
      }
      rows.push(...more);
      after = cursorFrom(cursorOf(item));
      const isLast = i === items.length - 1 && items.length < limit;
      if (rows.length >= asked.limit && !isLast) return { rows, next: cursorOf(item) };
    }
    if (items.length < limit) return { rows };
  }
};

function fits(row: BookRow, key: string): boolean {
  if (key === '') return true;
  return [row.shown, row.product, row.batch, row.reason, row.givenBy, row.class].some((text) =>
    searchKey(text).includes(key),
  );
}

const entries: Answer<'entries'> = (context, asked) => {
  const { store } = context;
  const last = (asked.before ?? store.head().seq + 1) - 1;
  const first = Math.max(1, last - asked.limit + 1);
  const found = last < 1 ? [] : store.entriesBetween(first, last, asked.limit).reverse();
  return {
    entries: found.map((entry) => ({
      seq: entry.seq,
      entry: { request: entry.request, n: entry.n },
      kind: entry.kind,
      text: lineOf(store, entry),
      happened: printLocal(entry.happened.local),
      recorded: entry.recorded,
      by: personName(store.read, entry.by),
      state: entry.state,
      clock: entry.clock,
    })),
    ...(first > 1 && found.length > 0 ? { next: first } : {}),
  };
};

/** The entry in one line; a correction names what it corrects. */
function lineOf(store: Store, entry: BookEntry): string {
  const own = ownLine(entry);
  if (entry.kind !== 'voided' && entry.kind !== 'replaced') return own;
  const { target } = entry.data as { target: EntryName };
  const found = store.entryNamed(target.request, target.n);
  return found ? `${own} (entry ${found.seq}: ${ownLine(found)})` : own;
}

function ownLine(entry: BookEntry): string {
  for (const [name, kind] of Object.entries(KINDS_OF_ENTRY)) {
    if (name === entry.kind) return kind.line(entry.data as never);
  }
  return entry.kind;
}

/** What an issued paper is called when it is saved: by what it is, or by its hash when nothing names it. */
export function paperName(tx: Reader, hash: string): string {
  const declared = tx.get<{ number: number }>('SELECT number FROM declaration WHERE paper = ?', hash);
  return declared ? `declaration-${declared.number}.pdf` : `paper-${hash.slice(0, 8)}.pdf`;
}

/** A paper that was issued, or came and was kept, by its hash; nothing when the book has none of it. */
export function issuedPaper(store: Store, hash: string): IssuedPaper | undefined {
  const bytes = store.kept.attachments.get(hash);
  if (!bytes) return undefined;
  const attached = keptPaperOfHash(store.read, hash);
  if (attached) return { name: attached.name, mime: attached.mime, bytes };
  const isPdf = Buffer.from(bytes.subarray(0, 5)).toString('latin1') === '%PDF-';
  const mime = isPdf ? 'application/pdf' : 'application/octet-stream';
  return { name: paperName(store.read, hash), mime, bytes };
}

const paper: Answer<'paper'> = (context, asked) => {
  const found = issuedPaper(context.store, asked.paper);
  if (!found) {
    throw new Refusal('no-such-paper', 'This paper is not in the book.', {
      field: 'paper',
      next: 'Make it again.',
    });
  }
  const { name, mime, bytes } = found;
  return { name, mime, base64: Buffer.from(bytes).toString('base64') };
};

const verify: Answer<'verify'> = async (context, asked) => {
  const input = { book: context.store.path, ...(asked.head === undefined ? {} : { head: asked.head }) };
  const found = await context.board.run(asked.work, (tools) => context.work('verify', input, tools));
  return {
    ok: found.ok,
    entries: found.entries,
    checkCode: found.head.checkCode,
    problems: found.problems.map((problem) => problem.message),
    says: verifiedLines(found).join('\n'),
  };
};

/** The book as it is, copied and proved, to be fetched like a paper. */
const makeBackup: Answer<'make-backup'> = (context, asked) =>
  context.board.run(asked.work, (tools) => context.backups.make(context.work, tools));

/** Forms are kept under one name; which screen they belong to is part of it. */
const FORMS = 'form';

/** The treatment record, the journal, corrections, papers and checks. */
export const bookAnswers: Answers<keyof typeof bookCalls> = {
  book,
  treatment,
  'preview-correction': previewCorrection,
  'book-paper': bookPaper,
  entries,
  void: voidEntry,
  'correct-treatment': correctTreatment,
  recheck,
  paper,
  verify,
  'make-backup': makeBackup,
  'book-table': bookTable,
  'make-pack': makePack,
  draft: (context, asked) => ({ value: context.store.kept.forms.get(FORMS, asked.form) ?? null }),
  'keep-draft': (context, asked) => {
    if (asked.value === null || asked.value === undefined) context.store.kept.forms.delete(FORMS, asked.form);
    else context.store.kept.forms.put(FORMS, asked.form, asked.value);
    return { done: true };
  },
  'work-out': (_context, asked) => workOut(asked.topic, asked.ask),
};
