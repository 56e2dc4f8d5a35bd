import { amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import type { BookLine } from '../../../src-shared/record/columns.ts';
import { keptUntil } from '../../../src-shared/record/gaps.ts';
import { type Day, printDay } from '../../../src-shared/time/day.ts';
import { dayOf, type Instant } from '../../../src-shared/time/zone.ts';
import type { BookPart, StockRow } from '../../paper/medicine-book.ts';
import type { Reader } from '../../store/store.ts';
import { pieceWords } from '../declare/lines.ts';
import { holdingOf } from '../reading/holding.ts';
import type { Collected, GivenItem } from './collect.ts';
import { profilesOf } from './find-gaps.ts';
import { type Explain, givenRows, stockRow, totalsOf } from './rows.ts';
import type { VolumesAsk } from './volumes.ts';

type Ask = Pick<VolumesAsk, 'holding' | 'form' | 'from' | 'to' | 'filter' | 'now'>;

/** The parts of the book as they are printed: the whole of it, or a page an animal. */
export function partsOf(tx: Reader, ask: Ask, found: Collected, explained: Explain): BookPart[] {
  const { zone } = holdingOf(tx, ask.holding);
  if (ask.form === 'animals') return animalParts(tx, found.given, zone, explained);
  const rowOf = (line: BookLine, of: 'received' | 'gone' | 'left'): StockRow => {
    const row = stockRow(line, of, zone);
    return { ...row, beneath: [...row.beneath, ...explained(line)] };
  };
  const has = (acts: readonly string[]) => found.stock.filter(({ line }) => acts.includes(line.act));
  const ofStock: BookPart[] = [
    {
      kind: 'received',
      rows: has(['received', 'made up']).map(({ line }) => rowOf(line, 'received')),
    },
  ];
  const after: BookPart[] = [
    {
      kind: 'gone',
      rows: has(['lost', 'disposed', 'returned', 'counted']).map(({ line }) => rowOf(line, 'gone')),
    },
    {
      kind: 'left',
      on: printDay(lastDayOf(ask, zone)),
      rows: found.left.map(({ line }) => rowOf(line, 'left')),
    },
  ];
  const narrowed = ask.filter.subject !== undefined || ask.filter.group !== undefined;
  return [
    ...(narrowed ? [] : ofStock),
    givenPart('What went into whom', [], found.given, zone, explained, false),
    ...(narrowed ? [] : after),
    totalsPart(tx, found),
    keptPart(tx, ask),
  ];
}

/** The last day of the period, or today where the period goes on: nobody knows what will be left after it. */
function lastDayOf({ to, now }: Ask, zone: string): Day {
  const today = dayOf(now as Instant, zone);
  return to < today ? (to as Day) : today;
}

function givenPart(
  title: string,
  lead: string[],
  given: readonly GivenItem[],
  zone: string,
  explained: Explain,
  ownPage: boolean,
): BookPart {
  return {
    kind: 'given',
    title,
    lead,
    ownPage,
    rows: given.flatMap((one) => givenRows(one, zone, explained)),
  };
}

/** A page for each animal or lot that got anything, by its name. */
function animalParts(tx: Reader, given: readonly GivenItem[], zone: string, explained: Explain): BookPart[] {
  const bySubject = new Map<string, GivenItem[]>();
  for (const one of given) {
    const subject = one.item.last?.subject ?? '';
    const list = bySubject.get(subject);
    if (list) list.push(one);
    else bySubject.set(subject, [one]);
  }
  const shownAs = (items: readonly GivenItem[]) => items.at(-1)?.item.rows.at(-1)?.shown ?? '';
  return [...bySubject]
    .map(([subject, items]) => ({ subject, items, shown: shownAs(items) }))
    .sort((a, b) => a.shown.localeCompare(b.shown, 'en', { numeric: true }))
    .map(({ subject, items, shown }) =>
      givenPart(shown, identity(tx, subject), items, zone, explained, true),
    );
}

/** What tells the animal from every other: its numbers, sex and day of birth, and that it has left. */
function identity(tx: Reader, subject: string): string[] {
  if (subject.startsWith('lot:')) return ['A lot: heads without numbers of their own.'];
  const row = tx.get<{
    tag: string | null;
    chip: string | null;
    management: string | null;
    sex: string | null;
    born: string | null;
    left_on: string | null;
    left_how: string | null;
    present: number;
  }>(
    'SELECT tag, chip, management, sex, born, left_on, left_how, present FROM animal WHERE subject = ?',
    subject,
  );
  if (!row) return [];
  const parts = [
    row.tag === null ? '' : `tag ${row.tag}`,
    row.chip === null ? '' : `electronic number ${row.chip}`,
    row.management === null ? '' : `management number ${row.management}`,
    row.sex ?? '',
    row.born === null ? '' : `born ${printDay(row.born as Day)}`,
    row.present === 1 || row.left_on === null
      ? ''
      : `left ${printDay(row.left_on.slice(0, 10) as Day)} (${row.left_how ?? ''})`,
  ].filter((part) => part !== '');
  return parts.length === 0 ? [] : [parts.join(', ')];
}

type Received = { kind: 'volume' | 'mass' | 'pieces'; units: number };

function totalsPart(tx: Reader, found: Collected): BookPart {
  const totals = totalsOf(
    found.given.map(({ item }) => item),
    pieceWords(tx),
  );
  const received = receivedOf(tx, found);
  const names = new Set([...totals.products.map(({ product }) => product), ...received.keys()]);
  const struck =
    totals.struck === 0
      ? ''
      : `; ${totals.struck} struck ${totals.struck === 1 ? 'line is' : 'lines are'} shown and not counted`;
  return {
    kind: 'totals',
    says: `${totals.administrations} ${totals.administrations === 1 ? 'treatment stands' : 'treatments stand'}, ${totals.heads} head treated in all${struck}.`,
    rows: [...names]
      .sort((a, b) => a.localeCompare(b, 'en'))
      .map((medicine) => {
        const own = totals.products.filter(({ product }) => product === medicine);
        const sum = (of: (one: (typeof own)[number]) => number) =>
          String(own.reduce((all, one) => all + of(one), 0));
        return {
          medicine,
          received: received.get(medicine) ?? '',
          treatments: sum((one) => one.administrations),
          heads: sum((one) => one.heads),
          given: own.map(({ quantity }) => quantity).join(', '),
        };
      }),
  };
}

/** How much of each medicine came in, by its name, in whole units. */
function receivedOf(tx: Reader, found: Collected): Map<string, string> {
  const word = pieceWords(tx);
  const sums = new Map<string, Map<string, Received & { revision: string }>>();
  for (const { line, seq } of found.stock) {
    if (line.act !== 'received' || line.state !== 'stands') continue;
    const rows = tx.all<Received & { revision: string }>(
      `SELECT c.kind, c.revision, m.units FROM movement AS m JOIN container AS c ON c.subject = m.subject
       WHERE m.seq = ? AND m.cause = 'received'`,
      seq,
    );
    const own = sums.get(line.medicine) ?? new Map<string, Received & { revision: string }>();
    sums.set(line.medicine, own);
    for (const { kind, units, revision } of rows) {
      const so = own.get(kind) ?? { kind, units: 0, revision };
      own.set(kind, { ...so, units: so.units + units });
    }
  }
  return new Map(
    [...sums].map(([medicine, own]) => [
      medicine,
      [...own.values()]
        .map(({ kind, units, revision }) => printAmount(amountOf(kind, units), word(revision)))
        .join(', '),
    ]),
  );
}

/** By what the book is kept, in its own words; and that it is no claim. */
function keptPart(tx: Reader, ask: Ask): BookPart {
  const holding = holdingOf(tx, ask.holding);
  const profiles = profilesOf(tx, holding);
  return {
    kind: 'about',
    title: 'What this book is kept by',
    lines: [
      ...profiles.flatMap((profile) => [
        `${profile.name}: ${profile.citation} (${profile.confirmed}).`,
        ...profile.notes,
      ]),
      `What happened on the last day of this period is kept until ${printDay(keptUntil(ask.to as Day, profiles))} at least. Nothing is ever deleted from the book.`,
      'The stock is that of the whole business. Times are local to the holding; a late entry says when it was written.',
    ],
  };
}
