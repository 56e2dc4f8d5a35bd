import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { storageCalls } from '../../../src-shared/calls/storage.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import { localOf, parseInstant } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import { type Answers, type Context, write } from '../context.ts';
import { printLocal } from '../reading/labels.ts';
import { everyStore, staysIn, stoodBetween } from '../reading/places.ts';
import { revisionOf } from '../reading/revision.ts';
import { type StockRow, stockRows } from '../reading/stock.ts';
import { subjectsOf } from '../reading/subjects.ts';
import { isWithin, type Limits, parseDegrees, readingsOf, type StoredReading } from './readings.ts';

type Given = Reply<'record-storage'>['given'];

/**
 * Answers `record-storage`. What stood there and must not have been so cold or so warm is set aside, from now on; a
 * container that came after the reading was not there. Refuses `no-such-store`, `bad-degrees`, `least-over-most`.
 */
function recordStorage(context: Context, asked: Asked<'record-storage'>): Reply<'record-storage'> {
  return write<'record-storage'>(context, asked, (act) => {
    const rows = stockRows(act.tx);
    const stores = everyStore(act.tx);
    const store = stores.find((one) => searchKey(one) === searchKey(asked.store));
    if (store === undefined) {
      throw new Refusal('no-such-store', `Store: nothing in the cabinet is kept in ${asked.store}.`, {
        field: 'store',
        next:
          stores.length === 0 ? 'Write first where containers are kept.' : `Choose ${stores.join(' or ')}.`,
      });
    }
    const shown = { leastC: parseDegrees(asked.least, 'least'), mostC: parseDegrees(asked.most, 'most') };
    if (Number(shown.leastC) > Number(shown.mostC)) {
      throw new Refusal('least-over-most', 'Least: it is above the most.', {
        field: 'least',
        next: 'Change the two round, or read the thermometer again.',
      });
    }
    const happened = act.happened(undefined, asked.happened, 'end');
    const earlier = readingsOf(act.tx, store).filter(({ at }) => at < happened.at);
    const stays = staysIn(act.tx, store);
    const isHereThen = (row: StockRow, since: string) =>
      stoodBetween(stays.get(row.id) ?? [], since, happened.at) !== undefined;
    const stood = rows.filter((row) => isHereThen(row, earlier[0]?.at ?? ''));
    // What was carried elsewhere since the last good reading stood here when it happened, or may have.
    const affected = rows.flatMap((row) => {
      const { terms } = revisionOf(act.tx, row.revision);
      const limits = terms.storage;
      if (isWithin(shown, limits)) return [];
      const from = stoodBetween(stays.get(row.id) ?? [], lastGood(earlier, limits) ?? '', happened.at);
      return from === undefined ? [] : [{ row, name: terms.name, limits, from }];
    });
    act.add(
      'storage-read',
      { reading: act.id(), store, ...shown, outside: affected.map(({ row }) => row.id) },
      happened,
    );
    // Set aside from now, not from the reading: what was done in between must not take it back into use.
    const { zone } = happened;
    const now = { local: localOf(parseInstant(act.now, 'clock'), zone), zone, at: act.now };
    const setAside = affected.filter(({ row }) => !NOT_HERE.has(row.state) && row.left_units !== 0);
    for (const { row, limits } of setAside) {
      const why = `${store} was between ${shown.leastC} and ${shown.mostC} °C; the label says ${sayLimits(limits)}`;
      act.add('stock-moved', { container: row.id, cause: 'quarantined', why }, now);
    }
    const given = affected.flatMap((one) => givenSince(act.tx, one, one.from));
    const silent = new Set(
      stood.flatMap((row) => {
        const { terms } = revisionOf(act.tx, row.revision);
        const { leastC, mostC } = terms.storage;
        return leastC === undefined && mostC === undefined && !NOT_HERE.has(row.state) ? [terms.name] : [];
      }),
    );
    return {
      setAside: setAside.map(({ row, name }) => ({ container: row.id, label: row.label, name })),
      given,
      says: sayReading(shown, { affected: affected.length, setAside: setAside.length, given, silent }),
    };
  });
}

const NOT_HERE: ReadonlySet<string> = new Set(['disposed', 'returned', 'quarantined']);

function sayLimits({ leastC, mostC }: Limits): string {
  if (leastC === undefined) return `not over ${mostC} °C`;
  return mostC === undefined ? `not under ${leastC} °C` : `${leastC} to ${mostC} °C`;
}

/** The last reading by which it still stood as its label wants: until then nothing can have happened to it. */
function lastGood(earlier: readonly StoredReading[], limits: Limits): string | undefined {
  return earlier.find((one) => isWithin(one, limits))?.at;
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

function sayReading(
  shown: { leastC: string },
  found: { affected: number; setAside: number; given: Given; silent: ReadonlySet<string> },
): string[] {
  const { affected, setAside, given, silent } = found;
  const many = (n: number) => `${n} ${n === 1 ? 'container' : 'containers'}`;
  return [
    affected === 0
      ? 'Nothing that stood there was outside what its label says.'
      : `${many(affected)} stood outside what the label says; ${setAside === 0 ? 'none is' : `${setAside} ${setAside === 1 ? 'is' : 'are'}`} set aside now. Ask the vet or the maker before any is used again.`,
    ...(affected > 0 && Number(shown.leastC) < 0
      ? ['It may have frozen: what was frozen is thrown away.']
      : []),
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

/** What the thermometers of the stores showed, and what that means for what stands there. */
export const storageAnswers: Answers<keyof typeof storageCalls> = {
  'record-storage': recordStorage,
  'storage-log'({ store }) {
    return {
      stores: everyStore(store.read),
      readings: readingsOf(store.read).map(({ reading, store: name, local, leastC, mostC, outside }) => ({
        reading,
        store: name,
        local: printLocal(local),
        leastC,
        mostC,
        outside: outside.length,
      })),
    };
  },
};
