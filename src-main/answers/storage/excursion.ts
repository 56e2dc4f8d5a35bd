import type { Reply } from '../../../src-shared/calls/all.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import { localOf, parseInstant } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import type { Act } from '../context.ts';
import { printLocal } from '../reading/labels.ts';
import { everyStore, staysIn, stoodBetween } from '../reading/places.ts';
import { revisionOf } from '../reading/revision.ts';
import { type StockRow, stockRows } from '../reading/stock.ts';
import { subjectsOf } from '../reading/subjects.ts';
import { isWithin, type Limits, type StoredReading } from './readings.ts';

type Given = Reply<'record-storage'>['given'];

/** A span in which a store was not as a label wants it, both ends taken with it. */
export type BadSpan = { since: string; until: string };
/** A container that stood there then. `from` is since when what was drawn from it may not be as it should. */
type Affected = { row: StockRow; name: string; limits: Limits; from: string };

/** What a reading or a series of them means for what stands in its store. */
export type Excursion = {
  affected: Affected[];
  /** Those that are still here and not set aside yet. */
  toSetAside: Affected[];
  given: Given;
  /** Medicines that stood there whose label states no temperature. */
  silent: ReadonlySet<string>;
};

/** A store by its name, as the book writes it. Refuses (`no-such-store`). */
export function storeNamed(tx: Reader, name: string): string {
  const stores = everyStore(tx);
  const store = stores.find((one) => searchKey(one) === searchKey(name));
  if (store !== undefined) return store;
  throw new Refusal('no-such-store', `Store: nothing in the cabinet is kept in ${name}.`, {
    field: 'store',
    next: stores.length === 0 ? 'Write first where containers are kept.' : `Choose ${stores.join(' or ')}.`,
  });
}

/** The last reading by which it still stood as its label wants: until then nothing can have happened to it. */
export function lastGood(earlier: readonly StoredReading[], limits: Limits): string | undefined {
  return earlier.find((one) => isWithin(one, limits))?.at;
}

/**
 * Who and what is touched by a store that was too cold or too warm. What was carried elsewhere since the last good
 * reading stood there when it happened, or may have.
 * @param span the time that was read, for what stood there with a label that states no temperature
 * @param badSpans when the store was not as these limits want it
 */
export function excursionIn(
  tx: Reader,
  store: string,
  span: BadSpan,
  badSpans: (limits: Limits) => readonly BadSpan[],
): Excursion {
  const rows = stockRows(tx);
  const stays = staysIn(tx, store);
  const known = new Map<string, { name: string; limits: Limits; spans: readonly BadSpan[] }>();
  const labelOf = (revision: string) => {
    const found = known.get(revision);
    if (found !== undefined) return found;
    const { terms } = revisionOf(tx, revision);
    const label = { name: terms.name, limits: terms.storage, spans: badSpans(terms.storage) };
    known.set(revision, label);
    return label;
  };
  const affected = rows.flatMap((row) => {
    const { name, limits, spans } = labelOf(row.revision);
    const own = stays.get(row.id) ?? [];
    const [from] = spans
      .map(({ since, until }) => stoodBetween(own, since, until))
      .filter((at) => at !== undefined)
      .sort();
    return from === undefined ? [] : [{ row, name, limits, from }];
  });
  const silent = rows.flatMap((row) => {
    const { name, limits } = labelOf(row.revision);
    if (limits.leastC !== undefined || limits.mostC !== undefined || NOT_HERE.has(row.state)) return [];
    return stoodBetween(stays.get(row.id) ?? [], span.since, span.until) === undefined ? [] : [name];
  });
  return {
    affected,
    toSetAside: affected.filter(({ row }) => !NOT_HERE.has(row.state) && row.left_units !== 0),
    given: affected.flatMap((one) => givenSince(tx, one, one.from)),
    silent: new Set(silent),
  };
}

const NOT_HERE: ReadonlySet<string> = new Set(['disposed', 'returned', 'quarantined']);

/** Sets them aside from now, not from the reading: what was done in between must not take them back into use. */
export function setAside(
  act: Act,
  zone: string,
  toSetAside: readonly Affected[],
  was: string,
): Reply<'record-storage'>['setAside'] {
  const now = { local: localOf(parseInstant(act.now, 'clock'), zone), zone, at: act.now };
  return toSetAside.map(({ row, name, limits }) => {
    const why = `${was}; the label says ${sayLimits(limits)}`;
    act.add('stock-moved', { container: row.id, cause: 'quarantined', why }, now);
    return { container: row.id, label: row.label, name };
  });
}

/** What a label allows: "2 to 8 °C", "not over 25 °C". */
export function sayLimits({ leastC, mostC }: Limits): string {
  if (leastC === undefined) return `not over ${mostC} °C`;
  return mostC === undefined ? `not under ${leastC} °C` : `${leastC} to ${mostC} °C`;
}

/**
 * Who was given something out of a container since then; since ever, where it was never read before. What was given
 * after the reading came out of it too: it had stood so by then.
 */
function givenSince(tx: Reader, { row, name }: { row: StockRow; name: string }, since: string): Given {
  const doses = tx.all<{ subject: string; local: string }>(
    `SELECT DISTINCT a.subject, a.local FROM movement AS m JOIN administration AS a ON a.id = m.administration
     WHERE m.subject = ? AND m.cause = 'drawn' AND m.at >= ? ORDER BY a.at, a.seq`,
    `container:${row.id}`,
    since,
  );
  const names = new Map(
    subjectsOf(tx, [...new Set(doses.map(({ subject }) => subject))]).map((one) => [one.subject, one.shown]),
  );
  return doses.map(({ subject, local }) => ({
    subject,
    shown: names.get(subject) ?? subject,
    name,
    on: printLocal(local),
  }));
}

/** What it comes to, in sentences; `leastC` is the coldest it was. */
export function sayExcursion(
  leastC: string,
  found: Excursion,
  /** "are set aside now", or before it is written "would be set aside". */
  isWritten = true,
): string[] {
  const { given, silent } = found;
  const affected = found.affected.length;
  const aside = found.toSetAside.length;
  const many = (n: number) => `${n} ${n === 1 ? 'container' : 'containers'}`;
  return [
    affected === 0
      ? 'Nothing that stood there was outside what its label says.'
      : `${many(affected)} stood outside what the label says; ${sayAside(aside, isWritten)}. Ask the vet or the maker before any is used again.`,
    ...(affected > 0 && Number(leastC) < 0 ? ['It may have frozen: what was frozen is thrown away.'] : []),
    ...(given.length === 0
      ? []
      : [
          `${given.length} ${given.length === 1 ? 'treatment' : 'treatments'} since the last good reading came out of them: ask the vet whether they count.`,
        ]),
    ...(silent.size === 0
      ? []
      : [`No temperature is typed from the label of ${[...silent].join(', ')}: read it yourself.`]),
  ];
}

function sayAside(n: number, isWritten: boolean): string {
  if (!isWritten) return n === 0 ? 'none is left to be set aside' : `${n} will be set aside`;
  return n === 0 ? 'none is set aside now' : `${n} ${n === 1 ? 'is' : 'are'} set aside now`;
}
