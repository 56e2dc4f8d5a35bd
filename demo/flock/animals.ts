import { type Random, randomOf } from '../random.ts';

/** The named animals of the demo: who they are, when they came and what became of them. The files are made from this. */

export type Fate = { on: string; how: 'died' | 'sold' | 'slaughter' | 'killed-on-farm'; to?: string };
export type Named = {
  /** The last digits of the tag. */
  number: number;
  /** The flock on the tag: the farm's own, or the one that the bought-in ewes came from. */
  flock: 'own' | 'bought';
  class: 'ewe' | 'ewe lamb' | 'ram';
  group: string;
  born: string;
  cameOn: string;
  name?: string;
  fate?: Fate;
};

const FLOCK_DIGITS = { own: '999999', bought: '999998' } as const;

/** As on the ear: "UK 0 999999 00012". Nobody has these flock numbers. */
export function tagOf({ flock, number }: Pick<Named, 'flock' | 'number'>): string {
  return `UK 0 ${FLOCK_DIGITS[flock]} ${String(number).padStart(5, '0')}`;
}

/** The same number as its chip sends it: 15 digits. */
export function chipOf({ flock, number }: Pick<Named, 'flock' | 'number'>): string {
  return `8260${FLOCK_DIGITS[flock]}${String(number).padStart(5, '0')}`;
}

export const GROUPS = {
  hill: 'Hill ewes',
  low: 'Low field ewes',
  dairy: 'Milking ewes',
  young: 'Ewe lambs',
  rams: 'Rams',
  bought: 'Bought-in ewes',
} as const;

/** Deaths and losses by tag of the own flock; sales and declared animals are in the chapters that tell of them. */
const FATES: ReadonlyMap<number, Fate> = new Map([
  [17, { on: '2025-03-29', how: 'died' }],
  [63, { on: '2025-04-11', how: 'died' }],
  [128, { on: '2025-04-02', how: 'died' }],
  [145, { on: '2026-02-20', how: 'killed-on-farm' }],
  [88, { on: '2026-04-05', how: 'died' }],
  [171, { on: '2026-04-09', how: 'died' }],
  [239, { on: '2025-12-02', how: 'died' }],
]);

const RAM_NAMES = [
  'Dieudonné',
  'Zoltán',
  'Åke',
  'Müsli',
  'Señor',
  'Bjørnulf',
  'Étiole',
  'Günt',
  'Façade',
  'Brúnó',
  'Père Noir',
  'Ødd',
];

function range(from: number, to: number): number[] {
  return Array.from({ length: to - from + 1 }, (_, i) => from + i);
}

function bornIn(year: number, random: Random): string {
  return `${year}-04-${String(random.whole(1, 28)).padStart(2, '0')}`;
}

function named(): Named[] {
  const random = randomOf(2024);
  const own = (numbers: number[], more: (number: number) => Omit<Named, 'number' | 'flock' | 'fate'>) =>
    numbers.map((number): Named => {
      const fate = FATES.get(number);
      return { number, flock: 'own', ...more(number), ...(fate ? { fate } : {}) };
    });
  const ewes = (from: number, to: number, group: string) =>
    own(range(from, to), () => ({
      class: 'ewe',
      group,
      born: bornIn(random.whole(2019, 2022), random),
      cameOn: '2024-11-19',
    }));
  return [
    ...ewes(1, 100, GROUPS.hill),
    ...ewes(101, 190, GROUPS.low),
    ...ewes(191, 220, GROUPS.dairy),
    ...own(range(221, 300), () => ({
      class: 'ewe lamb',
      group: GROUPS.young,
      born: bornIn(2024, random),
      cameOn: '2024-11-19',
    })),
    ...own(range(601, 612), (number) => ({
      class: 'ram',
      group: GROUPS.rams,
      born: bornIn(random.whole(2020, 2023), random),
      cameOn: '2024-11-19',
      name: RAM_NAMES[number - 601] ?? '',
    })),
    ...range(1, 40).map(
      (number): Named => ({
        number,
        flock: 'bought',
        class: 'ewe',
        group: GROUPS.bought,
        born: bornIn(random.whole(2021, 2023), random),
        cameOn: '2025-09-16',
      }),
    ),
  ];
}

/** Everyone who comes in by a file. */
export const NAMED: readonly Named[] = named();

/** Lambs that get a tag on the farm, out of a lot: they come in by calls, and from then on stand in the crate files. */
export const TAGGED = {
  2025: range(401, 430).map((number) => ({ number, flock: 'own' as const, tagged: '2025-10-02' })),
  2026: range(501, 536).map((number) => ({ number, flock: 'own' as const, tagged: '2026-10-01' })),
};

/** Culled and gone by the demo's last day, told of in the chapters. */
export const SOLD_2025 = [5, 22, 41, 77, 109, 133];
export const CULLED_2026 = [9, 36, 58, 112, 151];

function yearsOld(born: string, day: string): number {
  return (Date.parse(day) - Date.parse(born)) / (365.25 * 86_400_000);
}

/** Weight by month of the year, against the autumn: heavy in lamb, light at weaning. */
const SEASON: Readonly<Record<string, number>> = { '03': 1.05, '07': 0.95, '10': 1.01, '11': 1 };

/** What an animal weighs on a day, in tenths of a kilogram: the same for the same animal and day. */
export function tenthsOfKg(animal: Pick<Named, 'number' | 'flock' | 'born' | 'group'>, day: string): number {
  const own = randomOf(animal.number * 31 + (animal.flock === 'own' ? 7 : 11)).around();
  const then = randomOf(animal.number * 97 + Number(day.replaceAll('-', ''))).around();
  const grown =
    { [GROUPS.hill]: 560, [GROUPS.low]: 720, [GROUPS.dairy]: 680, [GROUPS.rams]: 930 }[animal.group] ?? 640;
  const share = Math.min(1, 0.36 + 0.4 * yearsOld(animal.born, day));
  const season = share < 1 ? 1 : (SEASON[day.slice(5, 7)] ?? 1);
  return Math.round(grown * (1 + own * 0.1) * share * season * (1 + then * 0.02));
}

/** Whether an animal is on the farm on a day. */
export function isThere(animal: Named, day: string): boolean {
  return animal.cameOn <= day && (animal.fate === undefined || animal.fate.on > day);
}
