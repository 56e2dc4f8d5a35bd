import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import { type Instant, localOf, parseInstant, printInstant } from '../../../src-shared/time/zone.ts';
import { tenths } from '../../exchange/degrees.ts';
import { type LoggerRead, type LoggerReading, readLogger } from '../../exchange/logger.ts';
import { guessLoggerColumns, type LoggerColumns } from '../../exchange/logger-columns.ts';
import { daysOf, excursionsOf, gapsOf, intervalOf, type SeriesGap } from '../../exchange/logger-series.ts';
import { hashOfBytes } from '../../store/kept.ts';
import type { Reader } from '../../store/store.ts';
import { keepWith } from '../attachment/attach.ts';
import { type Answer, type Context, write } from '../context.ts';
import { chosenFile } from '../files.ts';
import {
  calledRow,
  type OpenFile,
  openFile,
  type PreviewRow,
  previewOf,
  refuseOpenQuestions,
  rowsShown,
  sampleOf,
  settledColumns,
  totalsOf,
  waitingRow,
} from '../flock/file.ts';
import { optional } from '../optional.ts';
import { onlyHolding } from '../reading/holding.ts';
import { printLocal } from '../reading/labels.ts';
import { type Excursion, excursionIn, lastGood, sayExcursion, setAside, storeNamed } from './excursion.ts';
import { type Limits, readingsOf } from './readings.ts';

type LoggerAsk = Pick<Asked<'preview-logger'>, 'columns' | 'options'>;
type Read = LoggerRead & { zone: string; columns: LoggerColumns; rows: PreviewRow[] };

/** Reads a file as it was asked to be read. Refuses columns that cannot be read. */
function readFile(tx: Reader, now: string, file: OpenFile, asked: LoggerAsk): Read {
  const zone = onlyHolding(tx)?.zone ?? 'UTC';
  const columns = columnsOf(file, asked);
  const read = readLogger(file.table, columns, { ...asked.options, zone, now: parseInstant(now, 'clock') });
  const cellsOf = new Map(file.table.rows.map((row) => [row.line, row.cells]));
  const called = (line: number) => calledRow(cellsOf.get(line) ?? [], [columns.at]);
  const rows: PreviewRow[] = [
    ...read.refused.map(({ line, field, message }) => ({
      line,
      state: 'refused' as const,
      shown: called(line),
      field,
      message,
    })),
    ...read.waiting.map((line) => waitingRow(line, called(line), read.questions)),
    ...read.already.map(({ line, sameAs }) => ({
      line,
      state: 'already-there' as const,
      shown: called(line),
      message: `The same as line ${sameAs}.`,
    })),
    ...read.readings.map(({ line }) => ({ line, state: 'taken' as const, shown: called(line) })),
  ];
  return { ...read, zone, columns, rows };
}

function columnsOf(file: OpenFile, asked: LoggerAsk): LoggerColumns {
  return settledColumns(guessLoggerColumns(file.table.header, sampleOf(file.table)), asked.columns);
}

/** "3 h 45 min". */
function sayMinutes(minutes: number): string {
  const hours = Math.floor(minutes / 60);
  const rest = minutes % 60;
  if (hours === 0) return `${rest} min`;
  return rest === 0 ? `${hours} h` : `${hours} h ${rest} min`;
}

/** "every 30 min". */
export const sayInterval = (minutes: number): string => `every ${sayMinutes(minutes)}`;

/** A time without a reading, in a sentence. */
export function sayGap({ from, until, minutes }: SeriesGap, zone: string): string {
  return `No reading from ${printInstant(from, zone)} until ${printInstant(until, zone)} (${sayMinutes(minutes)}).`;
}

type Series = {
  shown: Reply<'take-logger'>['series'];
  gaps: SeriesGap[];
  interval: number | undefined;
  first: Instant;
  last: Instant;
};

/** What the readings say as a whole; nothing without any. */
function seriesOf({ readings, zone, unit }: Read): Series | undefined {
  const first = readings[0]?.at;
  const last = readings.at(-1)?.at;
  if (first === undefined || last === undefined || unit === undefined) return undefined;
  const days = daysOf(readings, zone);
  const interval = intervalOf(readings);
  const gaps = gapsOf(readings, interval);
  const degrees = (least: number, most: number) => ({
    leastC: tenths(least, 'down'),
    mostC: tenths(most, 'up'),
  });
  const shown = {
    readings: readings.length,
    since: printInstant(first, zone),
    until: printInstant(last, zone),
    ...degrees(
      days.reduce((least, day) => Math.min(least, day.least), Number.POSITIVE_INFINITY),
      days.reduce((most, day) => Math.max(most, day.most), Number.NEGATIVE_INFINITY),
    ),
    ...(interval === undefined ? {} : { interval: sayInterval(interval) }),
    unit,
    days: days.map(({ day, least, most, count }) => ({ day, ...degrees(least, most), readings: count })),
    gaps: gaps.map((gap) => sayGap(gap, zone)),
  };
  return { shown, gaps, interval, first, last };
}

/** What the series means for a store, and where it was outside what which label allows. */
function followsFor(
  tx: Reader,
  store: string,
  readings: readonly LoggerReading[],
  { first, last }: Series,
): { found: Excursion; excursions: DataOf<'storage-logged'>['excursions'] } {
  const earlier = readingsOf(tx, store).filter(({ at }) => at < first);
  const excursions = new Map<string, DataOf<'storage-logged'>['excursions']>();
  const found = excursionIn(tx, store, { since: first, until: last }, (limits) => {
    const bad = excursionsOf(readings, limits);
    excursions.set(
      keyOf(limits),
      bad.map((one) => ({
        limits: { ...optional('leastC', limits.leastC), ...optional('mostC', limits.mostC) },
        first: one.first,
        last: one.last,
        leastC: tenths(one.least, 'down'),
        mostC: tenths(one.most, 'up'),
      })),
    );
    return bad.map(({ from, until }) => ({ since: from ?? lastGood(earlier, limits) ?? '', until }));
  });
  // Only of labels that something was kept to which stood there.
  const kept = new Set(found.affected.map(({ limits }) => keyOf(limits)));
  return { found, excursions: [...kept].flatMap((key) => excursions.get(key) ?? []) };
}

const keyOf = ({ leastC, mostC }: Limits) => `${leastC ?? ''} ${mostC ?? ''}`;

/** The remarks of the readers, in words of a logger. */
function notesOf(read: Pick<LoggerRead, 'notes'>, zone: string): string[] {
  return [
    ...read.notes.map(({ code, text }) =>
      code === 'header-missing' ? 'The first line is a reading: the columns have no names.' : text,
    ),
    `Times without a zone are those of the farm (${zone}).`,
  ];
}

function sayAll(found: Excursion, { shown }: Series, isWritten: boolean): string[] {
  return [
    ...sayExcursion(shown.leastC, found, isWritten),
    ...(shown.gaps.length === 0
      ? []
      : [
          'Where there is no reading nothing is known: look whether the logger was taken out or stood still.',
        ]),
  ];
}

/** Answers `preview-logger`: everything that taking the file would say, and nothing is written. */
export const previewLogger: Answer<'preview-logger'> = (context, asked) => {
  const tx = context.store.read;
  const file = openFile(context, asked.file);
  let read: Read | undefined;
  const whole = previewOf(file, columnsOf(file, asked), () => {
    read = readFile(tx, context.now(), file, asked);
    const { columns, questions, rows, zone } = read;
    return { columns, questions, rows, notes: notesOf(read, zone) };
  });
  // A reading like thousands of others is not looked at line by line; what is wrong with one is.
  const preview = { ...whole, rows: whole.rows.filter(({ state }) => state !== 'taken') };
  const series = read === undefined ? undefined : seriesOf(read);
  if (read === undefined || series === undefined) return preview;
  if (asked.store === undefined) return { ...preview, series: series.shown };
  const store = storeNamed(tx, asked.store);
  const { found } = followsFor(tx, store, read.readings, series);
  return {
    ...preview,
    series: series.shown,
    follows: {
      says: sayAll(found, series, false),
      setAside: found.toSetAside.map(({ row, name }) => ({ container: row.id, label: row.label, name })),
      given: found.given,
    },
  };
};

/** Refuses (`already-logged`) a file that is in the book; asks where it is that of another store. */
function checkNew(tx: Reader, store: string, hash: string, ask: (code: string, text: string) => void): void {
  const known = readingsOf(tx).filter(({ log }) => log?.file === hash);
  const here = known.find((one) => searchKey(one.store) === searchKey(store));
  if (here !== undefined) {
    throw new Refusal(
      'already-logged',
      `File: this one is in the book already as what ${here.store} was like until ${printLocal(here.local)}.`,
      { field: 'file', next: 'Nothing has to be done.' },
    );
  }
  const [other] = known;
  if (other !== undefined) {
    ask(
      'other-store',
      `This file is in the book as what ${other.store} was like. Is it that of ${store} too?`,
    );
  }
}

/** Answers `take-logger`. Refuses `already-logged`, `no-readings`, an open question, and what the reader refuses. */
export const takeLogger: Answer<'take-logger'> = (context: Context, asked) => {
  const file = openFile(context, asked.file);
  const chosen = chosenFile(context, asked.file);
  return write<'take-logger'>(context, asked, (act) => {
    const store = storeNamed(act.tx, asked.store);
    const hash = hashOfBytes(chosen.bytes);
    checkNew(act.tx, store, hash, (code, text) => act.ask(code, text, 'store'));
    const read = readFile(act.tx, act.now, file, asked);
    refuseOpenQuestions(read.questions);
    const series = seriesOf(read);
    if (series === undefined) {
      throw new Refusal('no-readings', 'File: no line of it can be read as a temperature.', {
        field: 'file',
        next: 'Look at the columns, or choose another file.',
      });
    }
    const { zone } = read;
    const { shown, gaps, interval, first, last } = series;
    const { found, excursions } = followsFor(act.tx, store, read.readings, series);
    const reading = act.id();
    act.add(
      'storage-logged',
      {
        reading,
        store,
        leastC: shown.leastC,
        mostC: shown.mostC,
        outside: found.affected.map(({ row }) => row.id),
        since: localOf(first, zone),
        readings: shown.readings,
        refused: read.refused.length,
        ...optional('interval', interval),
        unit: shown.unit,
        days: shown.days,
        gaps: gaps.slice(0, 2000),
        excursions: excursions.slice(0, 2000),
        file: hash,
      },
      { local: localOf(last, zone), zone, at: last },
    );
    keepWith(act, { what: 'storage', id: reading }, chosen, { paper: 'readings', mime: 'text/csv' });
    const was = `${store} was between ${shown.leastC} and ${shown.mostC} °C by its logger`;
    return {
      reading,
      series: shown,
      totals: totalsOf(read.rows),
      refused: rowsShown(read.rows.filter((row) => row.state === 'refused')),
      setAside: setAside(act, zone, found.toSetAside, was),
      given: found.given,
      says: sayAll(found, series, true),
    };
  });
};
