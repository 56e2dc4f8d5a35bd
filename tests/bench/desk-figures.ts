import { openReading, readerOf } from '../../src-main/store/sqlite.ts';
import { addDays } from '../../src-shared/time/day.ts';
import { benchFarm, flockFile, tagOf, today } from './farm.ts';
import { type Farms, LARGE_HEADS, SMALL_HEADS, type TreatedFarm } from './farms.ts';
import { byTurns, type Line, type Spread, timed } from './measure.ts';

const thousands = (n: number) => n.toLocaleString('en-GB');
const LARGE = `${thousands(LARGE_HEADS)} animals`;
const SMALL = `the same on a book of ${SMALL_HEADS} animals`;
/** A page from the middle of the list on. */
const farDown = (farm: TreatedFarm) =>
  farm.ask('animals', { limit: SMALL_HEADS, after: `${tagOf(farm.heads / 2).toLowerCase()}\tz` });
const ms = (values: number[]): Spread => ({ values, unit: 'ms' });

function both(times: readonly Spread[]): readonly [Spread, Spread] {
  const [was, beside] = times;
  if (was === undefined || beside === undefined) throw new Error('nothing was measured');
  return [was, beside];
}

/** A flock list with weights taken into a fresh book, three times; then taken back as a whole, once. */
export async function flockImport(): Promise<Line[]> {
  const [taken, seen, back]: [number[], number[], number[]] = [[], [], []];
  for (let run = 0; run < 3; run += 1) {
    const farm = await benchFarm();
    try {
      const file = farm.desk.file('flock.csv', Buffer.from(flockFile(LARGE_HEADS)));
      seen.push(await timed(() => farm.ask('preview-animals', { file })));
      taken.push(await timed(() => farm.take(LARGE_HEADS)));
      if (run > 0) continue;
      const { imports } = await farm.ask('imports', {});
      const [only] = imports;
      if (only === undefined) throw new Error('the import is not in the list of imports');
      back.push(await timed(() => farm.ask('withdraw-import', { import: only.import, reason: 'Measuring' })));
    } finally {
      await farm.close();
    }
  }
  return [
    {
      what: `Import of ${LARGE} with their weights, from the file to the disk`,
      was: ms(taken),
      beside: { what: 'looking at the same file without taking it', was: ms(seen) },
    },
    { what: `The same ${LARGE} with their weights taken back as a whole`, was: ms(back) },
  ];
}

/** Who is held, of everybody, beside reading the very rows it is made from. */
export async function clearList(farms: Farms): Promise<Line[]> {
  const farm = await farms.large();
  // Asked about tomorrow: everybody was treated today.
  const at = addDays(today(), 1);
  const db = openReading(farm.book);
  try {
    const reader = readerOf(db);
    const times = await byTurns(
      7,
      async () => {
        const { held } = await farm.ask('clear-list', { at });
        if (held.length !== farm.heads) throw new Error(`only ${held.length} are held`);
      },
      () => {
        const rows = reader.all(
          `SELECT hold.*, animal.tag, animal.chip, animal.management FROM hold
           JOIN animal ON hold.subject = 'animal:' || animal.id ORDER BY hold.from_at, hold.seq`,
        );
        if (rows.length < farm.heads) throw new Error(`only ${rows.length} holds were read`);
      },
    );
    const [was, beside] = both(times);
    return [
      {
        what: `Who is held and until when, of ${LARGE}, all of them held`,
        was,
        beside: { what: "reading the same hold rows joined to the animals' numbers", was: beside },
      },
    ];
  } finally {
    db.close();
  }
}

/** The working-out and the recording of one animal in an open session of the whole flock. */
export async function doseAndTreat(farms: Farms): Promise<Line[]> {
  const [large, small] = [await farms.large(), await farms.small()];
  const spent = { dose: { large: [], small: [] }, treat: { large: [], small: [] } } as Record<
    'dose' | 'treat',
    Record<'large' | 'small', number[]>
  >;
  const books = [
    ['large', large, (await farDown(large)).animals],
    ['small', small, (await farDown(small)).animals],
  ] as const;
  for (let n = 0; n < SMALL_HEADS / 2; n += 1) {
    for (const [name, farm, animals] of books) {
      const subject = animals[n]?.subject ?? '';
      const { session } = farm;
      spent.dose[name].push(await timed(() => farm.ask('dose-for', { session, subject })));
      spent.treat[name].push(await timed(() => farm.ask('treat', { session, subject })));
    }
  }
  return [
    {
      what: `The dose of one animal in a session of ${LARGE} (dose-for)`,
      was: ms(spent.dose.large),
      beside: { what: SMALL, was: ms(spent.dose.small) },
    },
    {
      what: `Its treatment written (treat), flushed to the disk, in a session of ${LARGE}`,
      was: ms(spent.treat.large),
      beside: { what: SMALL, was: ms(spent.treat.small) },
    },
  ];
}

/** The reading calls behind the flock's screens. */
export async function flockReading(farms: Farms): Promise<Line[]> {
  const [large, small] = [await farms.large(), await farms.small()];
  const calls = {
    'A page of animals': (farm: TreatedFarm) => farm.ask('animals', { limit: SMALL_HEADS }),
    'A page of animals far down the list': (farm: TreatedFarm) => farDown(farm),
    'Animals searched by a part of their number': (farm: TreatedFarm) =>
      farm.ask('animals', { search: '0 123456 0001' }),
    'An animal found by its chip': (farm: TreatedFarm) =>
      farm.ask('find-subject', { read: '826012345600007' }),
    'An animal found by the end of its tag': (farm: TreatedFarm) =>
      farm.ask('find-subject', { read: '00007' }),
    'The groups with their heads': (farm: TreatedFarm) => farm.ask('groups', {}),
  };
  const lines: Line[] = [];
  for (const [what, call] of Object.entries(calls)) {
    const [was, beside] = both(
      await byTurns(
        9,
        () => call(large),
        () => call(small),
      ),
    );
    lines.push({ what: `${what}, of ${LARGE}`, was, beside: { what: SMALL, was: beside } });
  }
  return lines;
}
