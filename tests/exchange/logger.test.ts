import { describe, expect, test } from 'vitest';
import { readDegrees, tenths, unitInCell, unitNamed } from '../../src-main/exchange/degrees.ts';
import { type LoggerOptions, readLogger } from '../../src-main/exchange/logger.ts';
import { guessLoggerColumns } from '../../src-main/exchange/logger-columns.ts';
import { daysOf, excursionsOf, gapsOf, intervalOf } from '../../src-main/exchange/logger-series.ts';
import { readTable } from '../../src-main/exchange/table.ts';
import { parseInstant } from '../../src-shared/time/zone.ts';
import { refused } from '../unit/refused.ts';

const NOW = parseInstant('2026-12-31T12:00:00.000Z', 'now');

function read(text: string, options: Partial<LoggerOptions> = {}) {
  const table = readTable(text);
  const columns = guessLoggerColumns(
    table.header,
    table.rows.map((row) => row.cells),
  );
  return readLogger(table, columns, { zone: 'Europe/London', now: NOW, ...options });
}
const lines = (...rows: string[]) => `${rows.join('\n')}\n`;
const codes = ({ questions }: { questions: { code: string }[] }) => questions.map(({ code }) => code);

describe('degrees', () => {
  test('Celsius and Fahrenheit are exact: a limit is met or not, never nearly', () => {
    expect(readDegrees('8', 'degrees', 'C')).toBe(720_000);
    expect(readDegrees('46.4', 'degrees', 'F')).toBe(720_000);
    expect(readDegrees('46.5', 'degrees', 'F')).toBe(725_000);
    expect(readDegrees('32 °F', 'degrees', 'F')).toBe(0);
    expect(readDegrees('-0,5', 'degrees', 'C')).toBe(-45_000);
    expect(readDegrees('−0.0625', 'degrees', 'C')).toBe(-5_625);
  });

  test('printed to the tenth, a least never higher and a most never lower', () => {
    expect([tenths(725_000, 'down'), tenths(725_000, 'up')]).toEqual(['8', '8.1']);
    expect([tenths(-5_625, 'down'), tenths(-5_625, 'up')]).toEqual(['-0.1', '0']);
  });

  test('what is no reading is refused with its reason', () => {
    const cases = [
      ['', 'no-reading'],
      ['---', 'no-reading'],
      ['NaN', 'no-reading'],
      ['warm', 'degrees-unreadable'],
      ['4.5 °F', 'degrees-unit'],
      ['-127', 'degrees-impossible'],
      ['85', 'degrees-impossible'],
      ['####', 'spreadsheet-narrow'],
    ] as const;
    for (const [cell, code] of cases) {
      expect(refused(() => readDegrees(cell, 'degrees', 'C')).code).toBe(code);
    }
  });

  test('the unit is read where it is named, and nowhere else', () => {
    expect(['Temperature (°C)', 'Temp C', 'CELSIUS', 'temp_c'].map(unitNamed)).toEqual(['C', 'C', 'C', 'C']);
    expect(['Temperature (°F)', 'Temp, F', 'Fahrenheit'].map(unitNamed)).toEqual(['F', 'F', 'F']);
    expect(['Temperature', 'Channel 1', 'C', '°C/°F'].map(unitNamed)).toEqual(Array(4).fill(undefined));
    expect(['4.5 °C', '40F', '4.5'].map(unitInCell)).toEqual(['C', 'F', undefined]);
  });
});

describe('a file of a logger', () => {
  test.each([
    ['comma', 'Date,Time,Temperature (°C)', '2026-05-04,10:15,4.5', '2026-05-04,10:30,4.6'],
    [
      'semicolon and decimal comma',
      'Datum;Uhrzeit;Temperatur °C',
      '04.05.2026;10:15;4,5',
      '14.05.2026;10:30;4,6',
    ],
    ['tab, both in one cell', 'Timestamp\tCelsius', '04/05/2026 10:15:07\t4.5', '13/05/2026 10:30:07\t4.6'],
    ['bar, twelve hours', 'Date Time|Temp (C)', '4 May 2026 10:15 AM|4.5', '4 May 2026 10:30 PM|4.6'],
    ['with a title', 'Fridge in the shed', 'Date,Temp °C\n2026-05-04 10:15,4.5', '2026-05-04 10:30,4.6'],
  ])('with %s', (_, ...rows) => {
    const found = read(lines(...rows));
    expect(found.questions).toEqual([]);
    expect(found.readings.map(({ units }) => units)).toEqual([405_000, 414_000]);
    expect(found.readings[0]?.at).toBe('2026-05-04T09:15:00.000Z');
  });

  test('day or month first is asked when the file does not show it, and nothing is read meanwhile', () => {
    const text = lines('Date,Time,Temp °C', '04/05/2026,10:15,4.5', '05/05/2026,10:15,4.5');
    const open = read(text);
    expect(codes(open)).toEqual(['date-order']);
    expect(open.readings).toEqual([]);
    expect(open.waiting).toEqual([2, 3]);
    expect(read(text, { dateOrder: 'mdy' }).readings.map(({ at }) => at)).toEqual([
      // In winter time and in summer time.
      '2026-04-05T09:15:00.000Z',
      '2026-05-05T09:15:00.000Z',
    ]);
  });

  test('the unit is asked when neither the heading nor the cells say it', () => {
    const text = lines('Date,Temperature', '2026-05-04 10:15,40.5', '2026-05-04 10:30,41');
    expect(codes(read(text))).toEqual(['degrees-unit']);
    expect(read(text, { degrees: 'F' }).readings[1]?.units).toBe(450_000);
  });

  test('two probes: which hung in the store is for the farm to say', () => {
    const table = readTable(lines('Date,Probe 1 °C,Probe 2 °C', '2026-05-04 10:15,4,5'));
    expect(guessLoggerColumns(table.header, [table.rows[0]?.cells ?? []])).toEqual({ at: 0 });
    expect(refused(() => readLogger(table, { at: 0 }, { zone: 'Europe/London', now: NOW }))).toMatchObject({
      code: 'no-degrees-column',
      field: 'columns.degrees',
    });
    expect(
      readLogger(table, { at: 0, degrees: 2 }, { zone: 'Europe/London', now: NOW }).readings[0]?.units,
    ).toBe(450_000);
  });

  test('each line that cannot be read is refused by its number; the others are read', () => {
    const found = read(
      lines(
        'Date,Temp °C',
        '2026-05-04 10:00,4.5',
        '2026-06-31 10:15,4.5',
        '2026-05-04 10:30,Err',
        '2026-05-04,4.5',
        '2027-05-04 10:45,4.5',
        '2026-05-04 11:00,4,5',
        '2026-05-04 10:00,4.5',
        '2026-05-04 11:15,4.5',
      ),
    );
    expect(found.refused.map(({ line, code }) => [line, code])).toEqual([
      [3, 'date-impossible'],
      [4, 'no-reading'],
      [5, 'time-missing'],
      [6, 'date-in-future'],
      [7, 'ragged'],
    ]);
    expect(found.already).toEqual([{ line: 8, sameAs: 2 }]);
    expect(found.readings.map(({ line }) => line)).toEqual([2, 9]);
  });

  test('newest first is turned round', () => {
    const found = read(
      lines('Date,Temp °C', '2026-05-04 10:30,5', '2026-05-04 10:15,4', '2026-05-04 10:00,3'),
    );
    expect(found.readings.map(({ units }) => units / 90_000)).toEqual([3, 4, 5]);
  });
});

describe('the clock of the logger', () => {
  // In Britain the clocks went back at 02:00 on 25 October 2026 and forward at 01:00 on 29 March.
  const head = 'Date,Temp °C';
  const at = (found: ReturnType<typeof read>) => found.readings.map((one) => one.at.slice(11, 16));

  test('the hour that comes twice is told apart by the file itself', () => {
    const times = ['00:30', '01:00', '01:30', '01:00', '01:30', '02:00'];
    const found = read(lines(head, ...times.map((time) => `2026-10-25 ${time},4`)));
    expect(found.questions).toEqual([]);
    expect(at(found)).toEqual(['23:30', '00:00', '00:30', '01:00', '01:30', '02:00']);
  });

  test('an hour that came once is asked about: its clock stood still or ran in UTC', () => {
    const text = lines(head, ...['00:30', '01:00', '01:30', '02:00'].map((time) => `2026-10-25 ${time},4`));
    expect(codes(read(text))).toEqual(['clock']);
    expect(read(text).readings).toEqual([]);
    expect(at(read(text, { clock: 'kept' }))).toEqual(['23:30', '00:00', '00:30', '01:00']);
    expect(at(read(text, { clock: 'utc' }))).toEqual(['00:30', '01:00', '01:30', '02:00']);
    expect(at(read(text, { clock: 'farm' }))).toEqual(['23:30', '00:00', '00:30', '02:00']);
  });

  test('a time the farm never had shows that its clock did not change', () => {
    const text = lines(head, ...['00:30', '01:30', '02:30'].map((time) => `2026-03-29 ${time},4`));
    const [question] = read(text).questions;
    expect(question).toMatchObject({ code: 'clock', choices: ['farm', 'kept', 'utc'] });
    expect(question?.message).toContain('“01:30” on line 3');
    expect(at(read(text, { clock: 'kept' }))).toEqual(['00:30', '01:30', '02:30']);
  });

  test('a zone in the file says it: in the heading, or behind each time', () => {
    expect(at(read(lines('Time (UTC),Temp °C', '2026-07-01 10:00,4')))).toEqual(['10:00']);
    expect(at(read(lines(head, '2026-07-01T10:00:00Z,4', '2026-07-01T12:30:00+02:00,4')))).toEqual([
      '10:00',
      '10:30',
    ]);
    expect(at(read(lines(head, '2026-07-01 10:00,4')))).toEqual(['09:00']);
  });
});

describe('what a series says', () => {
  const series = (...rows: (readonly [string, number])[]) =>
    rows.map(([time, celsius], i) => ({
      line: i + 2,
      at: parseInstant(`2026-05-${time}:00.000Z`, 'at'),
      units: celsius * 90_000,
    }));

  test('least and most by the day of the farm', () => {
    const found = daysOf(series(['04T22:45', 4], ['04T23:15', 9], ['05T10:00', 3]), 'Europe/London');
    expect(found).toEqual([
      { day: '2026-05-04', least: 360_000, most: 360_000, count: 1 },
      // A quarter past midnight at the farm.
      { day: '2026-05-05', least: 270_000, most: 810_000, count: 2 },
    ]);
  });

  test('the interval is the step that occurs most; a longer one is a gap by name', () => {
    const read15 = series(
      ['04T10:00', 4],
      ['04T10:15', 4],
      ['04T10:30', 4],
      ['04T12:30', 4],
      ['04T12:45', 4],
    );
    expect(intervalOf(read15)).toBe(15);
    expect(gapsOf(read15, 15)).toEqual([
      { from: '2026-05-04T10:30:00.000Z', until: '2026-05-04T12:30:00.000Z', minutes: 120 },
    ]);
    expect(gapsOf(series(['04T10:00', 4], ['04T10:22', 4]), 15)).toEqual([]);
    expect(gapsOf(series(['04T10:00', 4], ['04T10:23', 4]), 15)).toHaveLength(1);
    expect(intervalOf(series(['04T10:00', 4], ['04T11:00', 4]))).toBeUndefined();
  });

  test('an excursion runs from the last good reading to the next good one; the very limit is good', () => {
    const rows = series(
      ['04T10:00', 8],
      ['04T10:15', 8.1],
      ['04T10:30', 12],
      ['04T10:45', 8],
      ['04T11:00', 1],
    );
    expect(excursionsOf(rows, { leastC: 2, mostC: 8 })).toEqual([
      {
        from: '2026-05-04T10:00:00.000Z',
        first: '2026-05-04T10:15:00.000Z',
        last: '2026-05-04T10:30:00.000Z',
        until: '2026-05-04T10:45:00.000Z',
        least: 729_000,
        most: 1_080_000,
      },
      {
        from: '2026-05-04T10:45:00.000Z',
        first: '2026-05-04T11:00:00.000Z',
        last: '2026-05-04T11:00:00.000Z',
        until: '2026-05-04T11:00:00.000Z',
        least: 90_000,
        most: 90_000,
      },
    ]);
    expect(excursionsOf(rows, { mostC: 25 })).toEqual([]);
    expect(excursionsOf(rows, {})).toEqual([]);
    expect(excursionsOf(rows.slice(1), { mostC: 8 })[0]?.from).toBeUndefined();
  });
});
