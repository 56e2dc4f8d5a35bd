import type { Reply } from '../../../src-shared/calls/all.ts';
import { addDays, type Day, printDay } from '../../../src-shared/time/day.ts';
import type { OrderLine } from './lines.ts';

export type OutlookRow = Reply<'order-outlook'>['medicines'][number];

/** What the outlook says of each medicine: what to order by when, what to talk about, what will not be used up. */
export function outlookLines(rows: readonly OutlookRow[]): OrderLine[] {
  return rows.flatMap((row) => [...toOrder(row), ...toWaste(row)]);
}

/** What has to be seen to within so many days stands on Today (practice: two weeks of work ahead). */
const SOON_DAYS = 14;

/**
 * The lines that stand on Today, the first to be seen to at the top: what is late, what has its last day to order or
 * runs out within two weeks. Where there is none, the next that will have one.
 */
export function linesForToday(rows: readonly OutlookRow[], today: string): OrderLine[] {
  const dated = rows
    .flatMap((row) => {
      const { state, orderBy, runOut } = row.headline;
      const on = orderBy ?? runOut;
      return state === 'lasts' || state === 'ordered' || on === undefined ? [] : [{ row, on }];
    })
    .toSorted((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0));
  const soon = addDays(today as Day, SOON_DAYS);
  const due = dated.filter(({ on }) => on <= soon);
  return (due.length > 0 ? due : dated.slice(0, 1)).flatMap(({ row }) => toOrder(row));
}

function toOrder(row: OutlookRow): OrderLine[] {
  const { headline, medicine, name } = row;
  if (headline.state === 'lasts') return [];
  // What is ordered already stands under the order lists.
  if (headline.state === 'ordered' && !row.isOfTheVet) return [];
  return [
    {
      key: `outlook ${medicine}`,
      kind: row.isOfTheVet ? 'vet' : 'order',
      medicine,
      name,
      text: headline.says,
      small: [headline.small, row.isOfTheVet ? sayTalk(row) : (row.buy?.says ?? row.noBuy)]
        .filter((part) => part !== undefined)
        .join(' '),
      supplier: row.supplier ?? '',
      margin: marginOf(row),
      isUrgent: headline.state === 'late',
      hasNoDay: headline.state === 'no-day',
      see: 'outlook',
    },
  ];
}

function marginOf({ headline: { state, orderBy }, isOfTheVet }: OutlookRow): string {
  if (state === 'late') return isOfTheVet ? 'Ask now' : 'Order now';
  if (orderBy !== undefined) return `By ${printDay(orderBy as Day)}`;
  return isOfTheVet ? 'Ask' : 'Order';
}

/** What to have at hand at the vet's: how much, what it was last for, the last prescription. */
export function sayTalk({ talk, until }: Pick<OutlookRow, 'talk' | 'until'>): string {
  const { foreseen, given, prescription } = talk;
  const parts = [`${foreseen} is foreseen to ${printDay(until as Day)}.`];
  parts.push(
    given === undefined ? 'It was never given by the book.' : `Last given ${given.on}, for: ${given.reason}.`,
  );
  if (prescription === undefined) parts.push('No prescription for it is on record.');
  else {
    const { number, written, validUntil, diagnosis } = prescription;
    const until = validUntil === undefined ? '' : `, valid until ${validUntil}`;
    const why = diagnosis === undefined ? '' : `, for: ${diagnosis}`;
    parts.push(`Last prescription ${number} of ${written}${until}${why}.`);
  }
  return parts.join(' ');
}

function toWaste({ unused, unusedSays, medicine, name, supplier }: OutlookRow): OrderLine[] {
  if (unusedSays === undefined) return [];
  return [
    {
      key: `unused ${medicine}`,
      kind: 'lost',
      medicine,
      name,
      text: unusedSays,
      small:
        unused.length === 1
          ? ''
          : unused
              .map(({ label, amount, lastDay }) => `${label}: ${amount}, ${printDay(lastDay as Day)}`)
              .join('; '),
      supplier: supplier ?? '',
      see: 'outlook',
    },
  ];
}

/** The plain lines, without those of which the outlook says more. */
export function withoutSaid(
  lines: readonly OrderLine[],
  said: readonly OrderLine[],
  rows: readonly OutlookRow[],
): OrderLine[] {
  const known = new Set(said.filter(({ kind }) => kind !== 'lost').map(({ medicine }) => medicine));
  for (const { medicine, headline } of rows) if (headline.state === 'ordered') known.add(medicine);
  return lines.filter(({ kind, medicine }) => !((kind === 'order' || kind === 'vet') && known.has(medicine)));
}
