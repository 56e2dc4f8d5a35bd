import { z } from 'zod';
import { type Day, printDay } from '../../../src-shared/time/day.ts';
import { instantOf } from '../../../src-shared/time/zone.ts';
import type { BookPart, MedicineBook } from '../../paper/medicine-book.ts';
import { MOST_ROWS } from '../../paper/parts.ts';
import { renderPaper } from '../../paper/render.ts';
import type { TreatmentRecord } from '../../paper/treatment-record.ts';
import type { Snapshot } from '../../store/reading.ts';
import type { TellProgress } from '../../work/serve.ts';
import { pieceWords } from '../declare/lines.ts';
import { paperHead } from '../declare/paper.ts';
import { holdingOf, personName } from '../reading/holding.ts';
import { medicineName } from '../reading/labels.ts';
import { subjectsOf } from '../reading/subjects.ts';
import { balancePart } from './balance.ts';
import { balances } from './balances.ts';
import { type Collected, collect } from './collect.ts';
import { explainedBeneath, explanationsOf } from './explained.ts';
import { bookFilter } from './filter.ts';
import { partsOf } from './parts-of.ts';
import { type Explain, givenRows, totalsOf } from './rows.ts';

export const BOOK_FORMS = ['treatments', 'whole', 'animals', 'medicines'] as const;

export const volumesAsk = z.strictObject({
  book: z.string(),
  /** The instant the papers state. */
  now: z.string(),
  holding: z.string(),
  from: z.string(),
  to: z.string(),
  size: z.enum(['a4', 'letter']).optional(),
  form: z.enum(BOOK_FORMS),
  filter: bookFilter,
  /** Rows of one volume, where a test wants fewer than a paper holds. */
  most: z.number().int().min(1).max(MOST_ROWS).default(MOST_ROWS),
});
export type VolumesAsk = z.input<typeof volumesAsk>;
type Ask = z.output<typeof volumesAsk>;

export type Volumes = {
  volumes: { bytes: Uint8Array; rows: number; name: string }[];
  rows: number;
  checkCode: string;
};

const TITLES = {
  treatments: 'Treatment record',
  whole: 'Medicine book',
  animals: 'Medicine book by animal',
  medicines: 'Medicine book by medicine',
} as const;

/** What the book of a holding has in a period, as it is asked for; tells how many treatments are read. */
export function collectFor(book: Snapshot, ask: Ask, onProgress: TellProgress): Collected {
  const { zone } = holdingOf(book.read, ask.holding);
  return collect(book.read, ask.holding, rangeOf(ask, zone), ask.filter, (done, total) =>
    onProgress(done, total, 'Reading the treatments'),
  );
}

function rangeOf({ from, to }: Pick<Ask, 'from' | 'to'>, zone: string): { from: string; to: string } {
  return { from: instantOf(from, zone, 'start', 'from'), to: instantOf(to, zone, 'end', 'to') };
}

/**
 * The book of a holding in a period as papers: one, or as many volumes as its rows need.
 * @param found what `collectFor` found, where it was needed for other things too
 */
export async function makeVolumes(
  book: Snapshot,
  ask: Ask,
  onProgress: TellProgress,
  found?: Collected,
): Promise<Volumes> {
  // By itself, so that what was read of the book is let go before the press takes its own memory.
  const papers = papersFor(book, ask, onProgress, found);
  const volumes: Volumes['volumes'] = [];
  for (const [i, { job, rows }] of papers.entries()) {
    const which = papers.length === 1 ? '' : `Volume ${i + 1} of ${papers.length}. `;
    const bytes = await renderPaper(job, undefined, undefined, (done, total, step = '') =>
      onProgress(done, total, `${which}${step}`),
    );
    volumes.push({ bytes, rows, name: papers.length === 1 ? '' : `-volume-${i + 1}-of-${papers.length}` });
  }
  const all = papers.reduce((sum, paper) => sum + paper.rows, 0);
  return { volumes, rows: all, checkCode: book.head.checkCode };
}

function papersFor(book: Snapshot, ask: Ask, onProgress: TellProgress, found?: Collected): Paper[] {
  const tx = book.read;
  const holding = holdingOf(tx, ask.holding);
  const head = paperHead(tx, holding, {
    now: ask.now,
    checkCode: book.head.checkCode,
    size: ask.size ?? holding.paper,
    doubted: book.isDoubted(ask.now),
  });
  const [from, to] = [printDay(ask.from as Day), printDay(ask.to as Day)];
  const base = { head, from, to, only: onlyWords(book, ask) };
  const named = { ...base, title: TITLES[ask.form] };
  if (ask.form === 'medicines') {
    // Stock has no treatments to read.
    const pages = balances(tx, rangeOf(ask, holding.zone), ask.filter).map(balancePart);
    return bookPapers(pages, named, ask.most);
  }
  const said = explanationsOf(tx);
  const explain: Explain = (line) => explainedBeneath(line, said, holding.zone);
  const read = found ?? collectFor(book, ask, onProgress);
  return ask.form === 'treatments'
    ? treatmentPapers(read, holding.zone, explain, pieceWords(tx), base, ask.most)
    : bookPapers(partsOf(tx, ask, read, explain), named, ask.most);
}

type Paper = { job: { paper: string; data: unknown }; rows: number };

/** The treatment record; a treatment keeps its versions together in one volume. The totals are of all volumes. */
function treatmentPapers(
  { given }: Collected,
  zone: string,
  explained: Explain,
  piece: ReturnType<typeof pieceWords>,
  base: Pick<TreatmentRecord, 'head' | 'from' | 'to' | 'only'>,
  most: number,
): Paper[] {
  const groups = given.map((one) => givenRows(one, zone, explained));
  const totals = totalsOf(
    given.map(({ item }) => item),
    piece,
  );
  const parts = cut(groups, most);
  return parts.map((rows, i) => ({
    job: {
      paper: 'treatment-record',
      data: {
        ...base,
        rows,
        totals,
        ...(parts.length === 1 ? {} : { volume: { n: i + 1, of: parts.length } }),
      },
    },
    rows: rows.length,
  }));
}

/** Rows in volumes of at most so many; a group stays together unless it alone is more. There is always one volume. */
export function cut<T>(groups: readonly (readonly T[])[], most: number): T[][] {
  const volumes: T[][] = [[]];
  for (const group of groups) {
    const last = volumes.at(-1) ?? [];
    if (last.length > 0 && last.length + group.length > most) volumes.push([...group]);
    else last.push(...group);
  }
  return volumes;
}

function bookPapers(
  parts: readonly BookPart[],
  base: Omit<MedicineBook, 'parts' | 'volume'>,
  most: number,
): Paper[] {
  const volumes = cutParts(parts, most);
  return volumes.map((own, i) => ({
    job: {
      paper: 'medicine-book',
      data: { ...base, parts: own, volume: { n: i + 1, of: volumes.length } } satisfies MedicineBook,
    },
    rows: own.reduce((sum, part) => sum + (part.kind === 'about' ? 0 : part.rows.length), 0),
  }));
}

/** Parts in volumes of at most so many rows; a part that is too long goes on in the next volume. */
export function cutParts(parts: readonly BookPart[], most: number): BookPart[][] {
  const volumes: BookPart[][] = [[]];
  let room = most;
  const next = () => {
    volumes.push([]);
    room = most;
  };
  for (const part of parts) {
    if (part.kind === 'about') {
      volumes.at(-1)?.push(part);
      continue;
    }
    let rows: readonly unknown[] = part.rows;
    // A short part is not torn in two for the sake of a full volume.
    if (rows.length > room && rows.length <= most) next();
    do {
      if (room === 0) next();
      const here = rows.slice(0, room);
      volumes.at(-1)?.push({ ...part, rows: here } as BookPart);
      rows = rows.slice(here.length);
      room -= here.length;
    } while (rows.length > 0);
  }
  return volumes;
}

/** What the paper was narrowed to, in words. */
function onlyWords({ read: tx }: Snapshot, { filter, form }: Ask): string[] {
  const { medicine, subject, group, batch, person } = filter;
  const name = (what: string, id: string) =>
    tx.get<{ name: string }>(`SELECT name FROM ${what} WHERE id = ?`, id)?.name ?? id;
  return [
    ...(medicine === undefined ? [] : [`only ${medicineName(tx, medicine)}`]),
    ...(subject === undefined ? [] : [`only ${subjectsOf(tx, [subject])[0]?.shown ?? subject}`]),
    ...(group === undefined ? [] : [`only those in ${name('flock_group', group)} then`]),
    ...(batch === undefined ? [] : [`only batches with ${batch}`]),
    ...(person === undefined || form === 'medicines' ? [] : [`only by ${personName(tx, person)}`]),
  ];
}
