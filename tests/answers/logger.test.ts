import { createHash } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { DRENCH, type FarmDesk, farmDesk, one } from './farm-desk.ts';

/** A reading every half hour of 1 to 3 May; warm from 10:00 until 11:30 on the 2nd, and nothing for two hours on the 3rd. */
function series(): string[] {
  const rows: string[] = [];
  for (let n = 0; n < 3 * 48; n += 1) {
    const day = 1 + Math.floor(n / 48);
    const half = n % 48;
    const time = `${String(Math.floor(half / 2)).padStart(2, '0')}:${half % 2 === 0 ? '00' : '30'}`;
    if (day === 3 && half >= 20 && half < 24) continue;
    const degrees = day === 2 && half >= 20 && half <= 23 ? '12.5' : '4.5';
    rows.push(`0${day}/05/2026;${time};${degrees}`);
  }
  return rows;
}
const HEAD = 'Date;Time;Temperature °C';
const buffer = (...rows: string[]) => Buffer.from(`${rows.join('\r\n')}\r\n`, 'utf-8');
const file = (bytes: Buffer, name = 'fridge.csv') => ({ name, base64: bytes.toString('base64') });
const WHOLE = buffer(HEAD, ...series());
const options = { dateOrder: 'dmy' as const };

describe('a logger’s file', () => {
  let farm: FarmDesk;
  let holding: string;
  let medicine: string;
  let fridge: string;

  beforeAll(async () => {
    farm = farmDesk('2026-05-01T00:10:00.000Z');
    ({ holding } = await farm.started());
    const terms = { ...structuredClone(DRENCH), storage: { leastC: 2, mostC: 8 } };
    medicine = (await farm.ask('set-label', { act: 'first', terms })).medicine;
    // Carried in half way through the warm hours of the 2nd at the latest, and one that came only afterwards.
    fridge = await bottle('B1', 'Fridge', '2026-05-01T00:00');
    farm.at('2026-05-02T09:20:00.000Z');
    await dose('Early', '2026-05-02T08:00');
    await dose('Late', '2026-05-02T10:15');
    farm.at('2026-05-03T23:50:00.000Z');
    await bottle('B2', 'Fridge', '2026-05-03T12:00');
    await bottle('B3', 'Cupboard', '2026-05-01T00:00');
  });
  afterAll(() => farm.close());

  async function bottle(number: string, store: string, happened: string): Promise<string> {
    const { containers } = await farm.ask('receive-batch', {
      medicine,
      number,
      expiry: '2027-03',
      packs: [{ count: 1, size: '500 mL' }],
      store,
      happened,
    });
    return one(containers).container;
  }
  async function dose(management: string, happened: string): Promise<void> {
    const { animal } = await farm.ask('set-animal', { holding, class: 'ewe', management });
    await farm.ask('treat', {
      subject: `animal:${animal}`,
      weight: '60 kg',
      containers: [fridge],
      single: { medicine, reason: 'worms' },
      happened,
    });
  }
  const stateOf = async (label: string) =>
    one((await farm.ask('cabinet', { show: 'all' })).containers.filter((row) => row.label === label)).state;

  test('is looked at first: how many, least and most by day, the gap, and what would follow', async () => {
    const before = await farm.head();
    const looked = await farm.ask('preview-logger', { file: file(WHOLE), store: 'fridge', options });
    expect(looked.questions).toEqual([]);
    expect(looked.totals).toEqual({ in: 140, taken: 140, refused: 0, alreadyThere: 0 });
    expect(looked.series).toEqual({
      readings: 140,
      since: '1 May 2026, 00:00',
      until: '3 May 2026, 23:30',
      leastC: '4.5',
      mostC: '12.5',
      interval: 'every 30 min',
      unit: 'C',
      days: [
        { day: '2026-05-01', leastC: '4.5', mostC: '4.5', readings: 48 },
        { day: '2026-05-02', leastC: '4.5', mostC: '12.5', readings: 48 },
        { day: '2026-05-03', leastC: '4.5', mostC: '4.5', readings: 44 },
      ],
      gaps: ['No reading from 3 May 2026, 09:30 until 3 May 2026, 12:00 (2 h 30 min).'],
    });
    expect(looked.follows?.setAside.map(({ label }) => label)).toEqual(['B1-1']);
    expect(looked.follows?.given.map(({ shown }) => shown)).toEqual(['Late']);
    expect(looked.follows?.says[0]).toContain('1 will be set aside');
    expect(await farm.head()).toBe(before);
    expect(await stateOf('B1-1')).toBe('open');
  });

  test('with an open question nothing is taken: the order of days is asked', async () => {
    const ask = { file: file(WHOLE), store: 'Fridge' };
    const looked = await farm.ask('preview-logger', ask);
    expect(looked.questions.map(({ code }) => code)).toEqual(['ask:date-order']);
    expect(looked.series).toBeUndefined();
    expect(looked.totals).toMatchObject({ in: 140, taken: 0, refused: 140 });
    expect(await farm.refused('take-logger', ask)).toMatchObject({ code: 'ask:date-order' });
  });

  test('columns nobody can guess are a question, and can be named', async () => {
    const bare = buffer('A;B;C', '2026-05-01;10:00;4.5', '2026-05-01;10:30;4.6');
    const looked = await farm.ask('preview-logger', { file: file(bare) });
    expect(looked.questions).toMatchObject([{ code: 'ask:columns', field: 'columns.degrees' }]);
    const named = await farm.ask('preview-logger', {
      file: file(bare),
      columns: { at: 0, time: 1, degrees: 2 },
      options: { degrees: 'C' },
    });
    expect(named.series).toMatchObject({ readings: 2, leastC: '4.5', mostC: '4.6' });
    expect(named.follows).toBeUndefined();
  });

  test('taken, it sets aside what stood there since the last good reading and names who got it', async () => {
    const taken = await farm.ask('take-logger', { file: file(WHOLE), store: 'fridge', options });
    expect(taken.setAside.map(({ label }) => label)).toEqual(['B1-1']);
    expect(taken.given).toMatchObject([{ shown: 'Late', on: '2 May 2026, 10:15' }]);
    expect(taken.says.join(' ')).toContain('Where there is no reading nothing is known');
    expect(await stateOf('B1-1')).toBe('quarantined');
    expect(await stateOf('B2-1')).toBe('sealed');
    expect(await stateOf('B3-1')).toBe('sealed');
    const log = await farm.ask('storage-log', {});
    expect(one(log.readings)).toMatchObject({
      store: 'Fridge',
      leastC: '4.5',
      mostC: '12.5',
      outside: 1,
      log: { since: '1 May 2026, 00:00', readings: 140, gaps: 1 },
    });
    expect(await farm.ask('storage-reading', { reading: taken.reading })).toMatchObject({
      store: 'Fridge',
      outside: 1,
      series: taken.series,
      excursions: [
        'From 2 May 2026, 10:00 until 2 May 2026, 11:30 between 12.5 and 12.5 °C; a label says 2 to 8 °C.',
      ],
    });
    const { attachments } = await farm.ask('attachments', { of: [{ what: 'storage', id: taken.reading }] });
    const kept = await farm.ask('attachment', { attachment: one(attachments).attachment });
    expect(kept).toMatchObject({ name: 'fridge.csv', mime: 'text/csv', paper: 'readings' });
    expect(createHash('sha256').update(Buffer.from(kept.base64, 'base64')).digest('hex')).toBe(
      createHash('sha256').update(WHOLE).digest('hex'),
    );
    const written = await farm.peek((store) =>
      store.read.get<{ n: number }>(
        "SELECT count(*) AS n FROM journal WHERE line ->> '$.kind' = 'storage-logged'",
      ),
    );
    expect(written?.n).toBe(1);
  });

  test('the same file again is refused by its content; for another store it is asked about', async () => {
    const again = { file: file(WHOLE, 'other name.csv'), options };
    expect(await farm.refused('take-logger', { ...again, store: 'Fridge' })).toMatchObject({
      code: 'already-logged',
      field: 'file',
      message: 'File: this one is in the book already as what Fridge was like until 3 May 2026, 23:30.',
    });
    expect(await farm.refused('take-logger', { ...again, store: 'Cupboard' })).toMatchObject({
      code: 'ask:other-store',
      field: 'store',
    });
    expect(await farm.refused('take-logger', { ...again, store: 'Shed' })).toMatchObject({
      code: 'no-such-store',
    });
  });

  test('of a file that begins badly, the last good reading of the store before it counts', async () => {
    farm.at('2026-05-05T12:00:00.000Z');
    const cold = buffer(
      'Timestamp,°F',
      '2026-05-05 09:00,35.5',
      '2026-05-05 09:30,35.6',
      '2026-06-31 10:00,36',
    );
    const taken = await farm.ask('take-logger', { file: file(cold), store: 'Fridge' });
    expect(taken.series).toMatchObject({ unit: 'F', leastC: '1.9', mostC: '2' });
    expect(taken.totals).toMatchObject({ in: 3, taken: 2, refused: 1 });
    expect(taken.refused).toMatchObject([{ line: 4, message: 'There is no day “2026-06-31”; correct it.' }]);
    // The log before it was too warm as a whole, so it is no good reading: B2 counts from when it came.
    expect(taken.setAside.map(({ label }) => label)).toEqual(['B2-1']);
  });

  test('a file with no reading at all, or none that is a table, is refused in one sentence', async () => {
    const empty = buffer('Date,Temp °C', '2026-05-05 09:00,---');
    expect(await farm.refused('take-logger', { file: file(empty), store: 'Fridge' })).toMatchObject({
      code: 'no-readings',
      field: 'file',
    });
    expect((await farm.refused('preview-logger', { file: file(Buffer.alloc(0)) })).field).toBe('file');
  });
});
