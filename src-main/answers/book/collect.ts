import type { BookLine } from '../../../src-shared/record/columns.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import type { Reader } from '../../store/store.ts';
import { type BookItem, bookItems } from '../reading/book.ts';
import { lineMaker } from '../reading/book-lines.ts';
import { leftLines, type PlacedLine, stockLines } from '../reading/stock-lines.ts';
import { explainedBeneath, explanationsOf } from './explained.ts';
import type { BookFilter } from './filter.ts';

/** A treatment with its lines, one for each version. */
export type GivenItem = { item: BookItem; lines: BookLine[] };

export type Collected = {
  /** What came in, was lost, disposed of, returned or counted, in the order it happened. */
  stock: PlacedLine[];
  given: GivenItem[];
  left: PlacedLine[];
};

const AT_ONCE = 1000;

/** Whether a treatment is one of those that are asked for. */
export function filterOf(tx: Reader, filter: BookFilter): (item: BookItem) => boolean {
  const { group, batch, person } = filter;
  const key = searchKey(batch ?? '');
  const members = group === undefined ? undefined : membershipOf(tx, group);
  return (item) => {
    const data = item.last;
    if (data === undefined) return false;
    if (filter.medicine !== undefined && data.medicine !== filter.medicine) return false;
    if (filter.subject !== undefined && data.subject !== filter.subject) return false;
    if (key !== '' && !item.rows.some((row) => searchKey(row.batch).includes(key))) return false;
    if (person !== undefined && !item.versions.some((one) => isOf(one, person))) return false;
    const was = members?.get(data.subject);
    return (
      members === undefined || was?.some(({ from, until }) => from <= item.at && item.at < until) === true
    );
  };
}

function isOf({ data, writtenBy }: BookItem['versions'][number], person: string): boolean {
  return data.givenBy === person || writtenBy === person;
}

/** Who was in a group, from when to when. */
function membershipOf(tx: Reader, group: string): Map<string, { from: string; until: string }[]> {
  const found = new Map<string, { from: string; until: string }[]>();
  for (const { member, from, until } of tx.all<{ member: string; from: string; until: string }>(
    'SELECT member, from_at AS "from", until_at AS until FROM membership WHERE subject = ?',
    `group:${group}`,
  )) {
    found.set(member, [...(found.get(member) ?? []), { from, until }]);
  }
  return found;
}

/**
 * Everything the book has of a holding in a period, every version of it. What is asked of one animal or group has no
 * stock: that belongs to no animal.
 * @param range instants, the first included and the last not
 */
export function collect(
  tx: Reader,
  holding: string,
  range: { from: string; to: string },
  filter: BookFilter,
  onProgress: (done: number, total: number) => void = () => {},
): Collected {
  const make = lineMaker(tx);
  const fits = filterOf(tx, filter);
  const total =
    tx.get<{ n: number }>(
      'SELECT count(*) AS n FROM administration WHERE holding = ? AND at >= ? AND at < ?',
      holding,
      range.from,
      range.to,
    )?.n ?? 0;
  const given: GivenItem[] = [];
  let after: { at: string; seq: number } | undefined;
  let read = 0;
  for (;;) {
    const items = bookItems(tx, { ...range, holding, medicine: filter.medicine, after, limit: AT_ONCE });
    for (const item of items) if (fits(item)) given.push({ item, lines: make.given(item) });
    read += items.length;
    onProgress(Math.min(read, total), total);
    const last = items.at(-1);
    if (!last || items.length < AT_ONCE) break;
    after = { at: last.at, seq: last.seq };
  }
  if (filter.subject !== undefined || filter.group !== undefined) return { stock: [], given, left: [] };
  const key = searchKey(filter.batch ?? '');
  const name = filter.person === undefined ? undefined : make.person(filter.person);
  const isAsked = ({ medicine, line }: PlacedLine) =>
    (filter.medicine === undefined || medicine === filter.medicine) &&
    (key === '' || searchKey(line.batch).includes(key)) &&
    (name === undefined || line.writtenBy === name);
  return {
    stock: stockLines(tx, make, range).filter(isAsked),
    given,
    // What is left is of nobody in particular.
    left: name === undefined ? leftLines(tx, make, range.to).filter(isAsked) : [],
  };
}

/** Every line of what was found, in the order it happened, with what was said of its gaps; what is left comes last. */
export function linesOf(tx: Reader, found: Collected): BookLine[] {
  const placed = [
    ...found.stock.map(({ at, seq, line }) => ({ at, seq, lines: [line] })),
    ...found.given.map(({ item, lines }) => ({ at: item.at, seq: item.seq, lines })),
  ].sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : a.seq - b.seq));
  const said = explanationsOf(tx);
  return [...placed.flatMap(({ lines }) => lines), ...found.left.map(({ line }) => line)].map((line) => ({
    ...line,
    explained: explainedBeneath(line, said, line.zone).join('; '),
  }));
}
