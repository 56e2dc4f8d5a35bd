import type { Reply } from '../../../src-shared/calls/all.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { parseInstant, printInstant } from '../../../src-shared/time/zone.ts';
import type { Answer } from '../context.ts';
import { onlyHolding, recordOf } from '../reading/holding.ts';
import { printLocal } from '../reading/labels.ts';
import { sayLimits } from './excursion.ts';
import { sayGap, sayInterval } from './logger.ts';
import { readingsOf } from './readings.ts';

type Logged = DataOf<'storage-logged'>;

/** One reading of a thermometer, or the whole of a logger's file, as it was decided when it was taken. */
export const storageReading: Answer<'storage-reading'> = ({ store: { read: tx } }, asked) => {
  const found = readingsOf(tx).find(({ reading }) => reading === asked.reading);
  if (!found) {
    throw new Refusal('no-such-reading', 'This reading is not in the book, or was struck out.', {
      field: 'reading',
      next: 'Choose another from the log.',
    });
  }
  const { reading, store, local, leastC, mostC, outside } = found;
  const own = { reading, store, local: printLocal(local), leastC, mostC, outside: outside.length };
  const logged = found.log && recordOf<Logged>(tx, 'storage-read', reading);
  if (!logged) return { ...own, excursions: [] };
  const zone = onlyHolding(tx)?.zone ?? 'UTC';
  return { ...own, series: seriesShown(logged, own.local, zone), excursions: excursionsSaid(logged, zone) };
};

function seriesShown(
  logged: Logged,
  until: string,
  zone: string,
): NonNullable<Reply<'storage-reading'>['series']> {
  const { readings, since, leastC, mostC, interval, unit, days, gaps } = logged;
  return {
    readings,
    since: printLocal(since),
    until,
    leastC,
    mostC,
    ...(interval === undefined ? {} : { interval: sayInterval(interval) }),
    unit,
    days,
    gaps: gaps.map(({ from, until: end, minutes }) =>
      sayGap({ from: parseInstant(from, 'gaps'), until: parseInstant(end, 'gaps'), minutes }, zone),
    ),
  };
}

/** Where it was outside what a label allows, a sentence each. */
function excursionsSaid({ excursions }: Logged, zone: string): string[] {
  const at = (instant: string) => printInstant(parseInstant(instant, 'excursions'), zone);
  return excursions.map(
    ({ limits, first, last, leastC, mostC }) =>
      `From ${at(first)} until ${at(last)} between ${leastC} and ${mostC} °C; a label says ${sayLimits(limits)}.`,
  );
}
