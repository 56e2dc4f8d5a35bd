import type { Reply } from '../../../src-shared/calls/all.ts';
import type { Column } from '../../parts/list-rows.ts';
import { localInWords } from '../book/when.ts';

export type ClearRow = Reply<'clear-list'>['clear'][number];
export type HeldRow = Reply<'clear-list'>['held'][number];

/** Heads of all rows together. */
export function headsOf(rows: readonly { heads: number }[]): number {
  return rows.reduce((sum, row) => sum + row.heads, 0);
}

/**
 * The earliest local time of departure at which a clear instant with offset ("2026-03-30T00:00:00+01:00") is
 * reached: minutes are all a form can say, so seconds go up to the next one. Midnight is the day alone.
 */
export function departureAt(clear: string): string {
  const minute = clear.slice(0, 16);
  const isWhole = /^00(\.0+)?$/.test(clear.slice(17).replace(/(?:[+-]\d{2}:\d{2}|Z)$/, ''));
  const at = new Date(`${minute}Z`);
  if (!isWhole) at.setUTCMinutes(at.getUTCMinutes() + 1);
  const local = at.toISOString().slice(0, 16);
  return local.endsWith('T00:00') ? local.slice(0, 10) : local;
}

/** When a held row clears, in words: a date and time, or that waiting alone does not clear it. */
export function clearWords(row: Pick<HeldRow, 'clear'>): string {
  return row.clear === undefined ? 'no date: waiting does not clear it' : localInWords(row.clear);
}

/**
 * What holds it, without the date that stands beside it: "Marlexan 2.5 % drench, 28 d". Where no date does, the whole
 * sentence says why not.
 */
export function whyWords(row: Pick<HeldRow, 'clear' | 'why' | 'holds'>): string {
  if (row.clear === undefined) return row.why;
  const causes = row.holds.map((hold) => /\((.+)\)$/.exec(hold.text)?.[1] ?? hold.text);
  return [...new Set(causes)].join('; ');
}

const who: readonly Column<{ shown: string; class: string; heads: number }>[] = [
  { key: 'who', head: 'Animal or lot', isName: true, text: (row) => row.shown, share: 1.5 },
  { key: 'class', head: 'Class', text: (row) => row.class.replaceAll('-', ' '), share: 0.9 },
  {
    key: 'heads',
    head: 'Head',
    text: (row) => String(row.heads),
    order: (row) => row.heads,
    isNumber: true,
    share: 0.5,
  },
];

export const heldColumns: readonly Column<HeldRow>[] = [
  ...who,
  {
    key: 'until',
    head: 'Withdrawal until',
    text: (row) => (row.clear === undefined ? 'no date' : clearWords(row)),
    // Those that no waiting clears come last.
    order: (row) => row.clear ?? '9999',
    share: 2.1,
  },
  { key: 'why', head: 'Why', text: whyWords, share: 2.5 },
];

export const clearColumns: readonly Column<ClearRow>[] = [
  ...who,
  {
    key: 'since',
    head: 'Clear since',
    text: (row) => (row.since === undefined ? 'nothing ever held it' : localInWords(row.since)),
    order: (row) => row.since ?? '',
    share: 2,
  },
];

/** For export: also whose label says nothing of it. */
export const abroadColumns: readonly Column<ClearRow>[] = [
  ...clearColumns,
  {
    key: 'silent',
    head: 'Label silent on export',
    text: (row) => (row.silent ?? []).join(', '),
    share: 2,
  },
];

/** One of a consignment as a form keeps it: "animal:7", or a lot with the heads that go, "lot:3 20". */
export type Going = { readonly subject: string; readonly heads?: number };

/** Reads one kept text. */
export function readGoing(text: string): Going {
  const [subject = '', heads] = text.split(' ');
  return heads === undefined ? { subject } : { subject, heads: Number(heads) };
}

/** The text that keeps one. */
export function keepGoing({ subject, heads }: Going): string {
  return heads === undefined ? subject : `${subject} ${heads}`;
}

/** The list with more on it; who is on it already stays as they were. */
export function withMore(list: readonly string[], subjects: readonly string[]): string[] {
  const there = new Set(list.map((text) => readGoing(text).subject));
  return [...list, ...[...new Set(subjects)].filter((subject) => !there.has(subject))];
}

/** The list without some. */
export function without(list: readonly string[], subjects: readonly string[]): string[] {
  const gone = new Set(subjects);
  return list.filter((text) => !gone.has(readGoing(text).subject));
}
