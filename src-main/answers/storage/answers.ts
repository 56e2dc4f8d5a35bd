import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { storageCalls } from '../../../src-shared/calls/storage.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { type Answers, type Context, write } from '../context.ts';
import { printLocal } from '../reading/labels.ts';
import { everyStore } from '../reading/places.ts';
import { excursionIn, lastGood, sayExcursion, setAside, storeNamed } from './excursion.ts';
import { previewLogger, takeLogger } from './logger.ts';
import { storageReading } from './one-reading.ts';
import { isWithin, parseDegrees, readingsOf } from './readings.ts';

/**
 * Answers `record-storage`. What stood there and must not have been so cold or so warm is set aside, from now on; a
 * container that came after the reading was not there. Refuses `no-such-store`, `bad-degrees`, `least-over-most`.
 */
function recordStorage(context: Context, asked: Asked<'record-storage'>): Reply<'record-storage'> {
  return write<'record-storage'>(context, asked, (act) => {
    const store = storeNamed(act.tx, asked.store);
    const shown = { leastC: parseDegrees(asked.least, 'least'), mostC: parseDegrees(asked.most, 'most') };
    if (Number(shown.leastC) > Number(shown.mostC)) {
      throw new Refusal('least-over-most', 'Least: it is above the most.', {
        field: 'least',
        next: 'Change the two round, or read the thermometer again.',
      });
    }
    const happened = act.happened(undefined, asked.happened, 'end');
    const earlier = readingsOf(act.tx, store).filter(({ at }) => at < happened.at);
    const span = { since: earlier[0]?.at ?? '', until: happened.at };
    const found = excursionIn(act.tx, store, span, (limits) =>
      isWithin(shown, limits) ? [] : [{ since: lastGood(earlier, limits) ?? '', until: happened.at }],
    );
    act.add(
      'storage-read',
      { reading: act.id(), store, ...shown, outside: found.affected.map(({ row }) => row.id) },
      happened,
    );
    const was = `${store} was between ${shown.leastC} and ${shown.mostC} °C`;
    return {
      setAside: setAside(act, happened.zone, found.toSetAside, was),
      given: found.given,
      says: sayExcursion(shown.leastC, found),
    };
  });
}

/** What the thermometers of the stores showed, and what that means for what stands there. */
export const storageAnswers: Answers<keyof typeof storageCalls> = {
  'record-storage': recordStorage,
  'preview-logger': previewLogger,
  'take-logger': takeLogger,
  'storage-reading': storageReading,
  'storage-log'({ store }) {
    return {
      stores: everyStore(store.read),
      readings: readingsOf(store.read).map(
        ({ reading, store: name, local, leastC, mostC, outside, log }) => ({
          reading,
          store: name,
          local: printLocal(local),
          leastC,
          mostC,
          outside: outside.length,
          ...(log === undefined
            ? {}
            : { log: { since: printLocal(log.since), readings: log.readings, gaps: log.gaps.length } }),
        }),
      ),
    };
  },
};
