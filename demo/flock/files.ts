import { randomOf } from '../random.ts';
import {
  CULLED_2026,
  chipOf,
  GROUPS,
  isThere,
  NAMED,
  type Named,
  SOLD_2025,
  TAGGED,
  tagOf,
  tenthsOfKg,
} from './animals.ts';

/**
 * The files the flock comes in by, as text: each in another shape, as files from other people's programs are. They are
 * kept in demo/files; `node demo/make-files.ts` writes them anew, and a test holds the two together.
 */
export type DemoFile = { name: string; bytes: Buffer };

const utf8 = (text: string) => Buffer.from(text, 'utf8');
/** Every letter used here is at the same place in Windows-1252 as in Latin-1. */
const windows1252 = (text: string) => Buffer.from(text, 'latin1');

const point = (tenths: number) => `${Math.floor(tenths / 10)}.${tenths % 10}`;
const comma = (tenths: number) => point(tenths).replace('.', ',');
const slashed = (day: string) => day.split('-').reverse().join('/');
const dotted = (day: string) => day.split('-').reverse().join('.');
const lines = (rows: readonly string[], end = '\r\n') => `${rows.join(end)}${end}`;
const of = (...groups: string[]) => NAMED.filter((animal) => groups.includes(animal.group));

function flockList(): DemoFile {
  const rows = of(GROUPS.hill, GROUPS.low, GROUPS.dairy).map((animal) =>
    [
      tagOf(animal),
      chipOf(animal),
      animal.class,
      'F',
      slashed(animal.born),
      animal.group,
      point(tenthsOfKg(animal, animal.cameOn)),
      slashed(animal.cameOn),
    ].join(','),
  );
  // What spreadsheets and people do to a list: a chip spoilt into a power of ten, and a row copied twice.
  const spoilt = 'UK 0 999999 00900,8.26E+14,ewe,F,02/04/2021,Hill ewes,55.0,19/11/2024';
  return {
    name: 'flock-2024-11.csv',
    bytes: utf8(
      `\ufeff${lines(['Ear tag,EID,Class,Sex,DOB,Group,Weight (kg),Weighed on', ...rows, spoilt, rows[3] ?? ''])}`,
    ),
  };
}

function eweLambList(): DemoFile {
  const rows = of(GROUPS.young).map((animal) =>
    [
      chipOf(animal),
      'ewe lamb',
      'F',
      dotted(animal.born),
      GROUPS.young,
      comma(tenthsOfKg(animal, animal.cameOn)),
      dotted(animal.cameOn),
    ].join(';'),
  );
  return {
    name: 'ewe-lambs-2024-11.csv',
    bytes: utf8(lines(['EID;Category;Gender;Born;Group;Weight (kg);Weighed on', ...rows], '\n')),
  };
}

function ramList(): DemoFile {
  const rows = of(GROUPS.rams).map((animal) =>
    [
      tagOf(animal),
      animal.name ?? '',
      'ram',
      slashed(animal.born),
      GROUPS.rams,
      point(tenthsOfKg(animal, animal.cameOn)),
      slashed(animal.cameOn),
    ].join(';'),
  );
  return {
    name: 'rams-2024-11.csv',
    bytes: windows1252(lines(['Tag;Nickname;Class;Birth date;Mob;Weight (kg);Weighed on', ...rows])),
  };
}

function boughtInList(): DemoFile {
  const rows = of(GROUPS.bought).map((animal) =>
    [
      tagOf(animal),
      'ewe',
      slashed(animal.born),
      GROUPS.bought,
      'Bergerie du Pré-Démo',
      comma(tenthsOfKg(animal, animal.cameOn)),
      slashed(animal.cameOn),
      animal.number % 9 === 0 ? 'âgée, à surveiller' : '',
    ].join(';'),
  );
  return {
    name: 'bought-in-2025-09.csv',
    bytes: windows1252(
      lines(['Ear tag;Class;DOB;Group;Bought from;Weight (kg);Weighed on;Remarks', ...rows]),
    ),
  };
}

type Crate = { day: string; row: (animal: Named, tenths: number, time: string) => string };

/** Everyone named who goes through the crate on a day, in the order in which sheep come. */
function through(day: string): Named[] {
  const gone = new Set([
    ...(day > '2025-10-20' ? SOLD_2025 : []),
    ...(day > '2026-10-28' ? CULLED_2026 : []),
  ]);
  const tagged = Object.entries(TAGGED).flatMap(([year, all]) =>
    all.map(
      ({ number, flock, tagged: cameOn }): Named => ({
        number,
        flock,
        class: 'ewe lamb',
        group: GROUPS.young,
        born: `${year}-04-12`,
        cameOn,
      }),
    ),
  );
  const random = randomOf(Number(day.replaceAll('-', '')));
  return [...NAMED, ...tagged]
    .filter((animal) => isThere(animal, day) && !(animal.flock === 'own' && gone.has(animal.number)))
    .map((animal) => ({ animal, place: random.next() }))
    .sort((a, b) => a.place - b.place)
    .map(({ animal }) => animal);
}

function crateRows({ day, row }: Crate): string[] {
  return through(day).map((animal, i) => {
    const minute = 8 * 60 + Math.floor(i / 2);
    const time = `${String(Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`;
    return row(animal, tenthsOfKg(animal, day), time);
  });
}

function crate(day: string, header: string, row: Crate['row'], more: readonly string[] = []): string[] {
  return [header, ...crateRows({ day, row }), ...more];
}

/** The days of the crate files, and what each file has to be told that it does not say itself. */
export const CRATE_DAYS = [
  '2025-03-05',
  '2025-07-22',
  '2025-10-08',
  '2026-03-04',
  '2026-07-21',
  '2026-10-07',
] as const;

function crateFiles(): DemoFile[] {
  const name = (day: string) => `crate-${day}.csv`;
  const [spring, summer, autumn, spring2, summer2, autumn2] = CRATE_DAYS;
  const stamped: Crate['row'] = (animal, tenths, time) =>
    `${chipOf(animal)},${point(tenths)},${spring},${time}`;
  return [
    // The crate read an animal and no weight.
    {
      name: name(spring),
      bytes: utf8(
        lines(crate(spring, 'EID,Weight (kg),Date,Time', stamped, [`826099999900001,0.0,${spring},12:41`])),
      ),
    },
    // One animal went through twice and weighed the same.
    {
      name: name(summer),
      bytes: utf8(
        lines(
          crate(summer, 'Ear tag;Weight (kg);Weighed on', (animal, tenths) =>
            [tagOf(animal), comma(tenths), dotted(summer)].join(';'),
          ).flatMap((row, i) => (i === 40 ? [row, row] : [row])),
          '\n',
        ),
      ),
    },
    // A neighbour's ewe was in the race, and the column does not say that it is in kilograms.
    {
      name: name(autumn),
      bytes: utf8(
        lines(
          crate(
            autumn,
            'EID\tWeight\tDate',
            (animal, tenths) => [chipOf(animal), point(tenths), slashed(autumn)].join('\t'),
            [['826099999700044', '61.5', slashed(autumn)].join('\t')],
          ),
        ),
      ),
    },
    {
      name: name(spring2),
      bytes: windows1252(
        lines(
          crate(spring2, 'Boucle;Poids (kg);Date;Remarque', (animal, tenths) =>
            [
              tagOf(animal),
              comma(tenths),
              slashed(spring2),
              animal.number % 41 === 0 ? 'légère boiterie' : '',
            ].join(';'),
          ),
        ),
      ),
    },
    {
      name: name(summer2),
      bytes: utf8(
        lines(
          crate(summer2, '"ID","Live weight (kg)","Date and time"', (animal, tenths, time) =>
            [chipOf(animal), point(tenths), `${summer2} ${time}`].map((cell) => `"${cell}"`).join(','),
          ),
        ),
      ),
    },
    {
      name: name(autumn2),
      bytes: utf8(
        lines(
          crate(autumn2, 'EID,Weight (kg),Date,Time', (animal, tenths, time) =>
            [chipOf(animal), point(tenths), autumn2, time].join(','),
          ),
        ),
      ),
    },
  ];
}

/** Every file of the demo, made anew. */
export function demoFiles(): DemoFile[] {
  return [flockList(), eweLambList(), ramList(), boughtInList(), ...crateFiles()];
}
