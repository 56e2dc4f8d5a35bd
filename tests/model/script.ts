import fc from 'fast-check';

/** A made-up history of a farm as fast-check makes and shrinks it: steps in the order in which they are written down. */
/** Where, the first of the fourteen days, and a time among them that the clocks skip or repeat. */
export const PLACES = [
  { zone: 'Europe/London', firstDay: '2026-03-23', odd: '2026-03-29T01:30' },
  { zone: 'Europe/London', firstDay: '2025-10-20', odd: '2025-10-26T01:30' },
  { zone: 'America/Santiago', firstDay: '2026-03-30', odd: '2026-04-04T23:30' },
  { zone: 'Pacific/Auckland', firstDay: '2026-03-30', odd: '2026-04-05T02:30' },
  { zone: 'Africa/Cairo', firstDay: '2026-04-19', odd: '2026-04-24T00:30' },
] as const;
const TIMES = ['00:00', '00:30', '01:30', '02:30', '08:00', '17:00', '23:30'] as const;

/** Often, or not so often, something; else nothing. */
const maybe = <T>(some: fc.Arbitrary<T>, weight: number, none: number): fc.Arbitrary<T | undefined> =>
  fc.oneof({ weight, arbitrary: some }, { weight: none, arbitrary: fc.constant(undefined) });

const when = fc.record({
  // Much happens on two days, so that things meet at one moment; the clocks change on one of them.
  day: fc.oneof(fc.constantFrom(5, 6), fc.integer({ min: 0, max: 13 })),
  /** Absent: only the day is known. */
  time: maybe(fc.constantFrom(...TIMES), 3, 2),
  /** At the time of the place that the clocks skip or repeat. */
  odd: fc.oneof({ weight: 9, arbitrary: fc.constant(false) }, fc.constant(true)),
});
export type When = typeof when extends fc.Arbitrary<infer T> ? T : never;

const list = (...one: string[]) => fc.oneof({ weight: 3, arbitrary: fc.constant([]) }, fc.constant(one));
const PERIODS = ['0 d', '1 d', '2 d', '3 d', '7 d', '1 week', '12 h', '36 h', '2 d + 12 h'] as const;
const row = fc.record({
  produce: fc.constantFrom('meat', 'meat', 'meat', 'milk', 'milk', 'wool-harvest', 'wool-handling'),
  classes: list('ewe'),
  routes: list('oral'),
  doseLines: list('first'),
  says: fc.oneof(
    { weight: 12, arbitrary: fc.constant('value') },
    { weight: 2, arbitrary: fc.constant('zero') },
    fc.constant('not-stated'),
    fc.constant('for-life'),
    fc.constant('not-for-this-produce'),
  ),
  value: fc.constantFrom(...PERIODS),
  countedFrom: fc.oneof(
    { weight: 4, arbitrary: fc.constant('last-dose') },
    { weight: 4, arbitrary: fc.constantFrom('lambing', 'later-of-two') },
    fc.constantFrom('removal', 'end-of-release'),
  ),
  /** For the later of two: the period from the dose. */
  valueFromDose: fc.constantFrom(...PERIODS),
  market: fc.oneof({ weight: 5, arbitrary: fc.constant('domestic') }, fc.constant('export')),
});
/** Mostly a plain label with a meat and a milk period, and now and then more rows. */
const label = fc.record({
  purpose: fc.constantFrom('parasites', 'parasites', 'vaccine'),
  meat: maybe(fc.constantFrom(...PERIODS), 9, 1),
  milk: maybe(fc.constantFrom(...PERIODS), 5, 1),
  /** What the plain milk period is counted from; of the later of two with that period from the dose. */
  milkFrom: fc.constantFrom('last-dose' as const, 'lambing' as const, 'later-of-two' as const),
  milkFromDose: fc.constantFrom('3 d', '7 d', '2 d + 12 h'),
  rows: fc.array(row, { maxLength: 2 }),
});
export type LabelScript = typeof label extends fc.Arbitrary<infer T> ? T : never;

const pick = fc.nat({ max: 999 });
const units = fc.integer({ min: 1, max: 40 });
const heads = fc.integer({ min: 1, max: 12 });

const treat = fc.record({
  do: fc.constant('treat' as const),
  subject: pick,
  container: pick,
  second: maybe(pick, 1, 2),
  line: fc.constantFrom('first' as const, 'second' as const),
  units,
  lost: maybe(units, 1, 2),
  heads,
  when,
  vets: fc.boolean(),
  course: maybe(fc.integer({ min: 1, max: 4 }), 1, 2),
  beyond: fc.oneof({ weight: 9, arbitrary: fc.constant(false) }, fc.constant(true)),
});
const move = fc.record({
  do: fc.constant('move' as const),
  from: pick,
  to: fc.constantFrom('lot' as const, 'new' as const, 'tag' as const),
  which: pick,
  heads,
  when,
  /** Out of the lot treated last, at that very moment. */
  meets: fc.oneof({ weight: 3, arbitrary: fc.constant(false) }, fc.constant(true)),
});
const stock = fc.record({
  do: fc.constant('stock' as const),
  container: pick,
  cause: fc.constantFrom(
    'lost',
    'disposed',
    'returned',
    'counted',
    'counted',
    'quarantined',
    'released',
    'carried',
  ),
  units,
  when,
});
const step = fc.oneof(
  { weight: 10, arbitrary: treat },
  { weight: 7, arbitrary: move },
  { weight: 5, arbitrary: stock },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('receive' as const), revision: pick, units, when }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('make' as const), container: pick, units, when }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('open' as const), container: pick, when }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('count-lot' as const), lot: pick, heads, when }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('depart' as const), subject: pick, heads, when }) },
  {
    weight: 2,
    arbitrary: fc.record({
      do: fc.constant('hold' as const),
      subject: pick,
      cause: fc.constantFrom('bought-in' as const, 'broken-needle' as const, 'other' as const),
      when,
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({
      do: fc.constant('needle' as const),
      subjects: fc.array(pick, { minLength: 1, maxLength: 3 }),
      found: fc.oneof({ weight: 4, arbitrary: fc.constant(false) }, fc.constant(true)),
      when,
    }),
  },
  {
    weight: 9,
    arbitrary: fc.record({
      do: fc.constant('event' as const),
      subject: pick,
      what: fc.constantFrom('lambing', 'lambing', 'lambing', 'removal', 'end-of-release', 'dry'),
      /** To whoever was treated last. */
      meets: fc.boolean(),
      when,
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({
      do: fc.constant('foot' as const),
      lamb: pick,
      dam: pick,
      from: when,
      until: maybe(when, 1, 1),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      do: fc.constant('certify' as const),
      day: fc.integer({ min: 0, max: 8 }),
      days: maybe(fc.integer({ min: 0, max: 8 }), 1, 2),
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({
      do: fc.constant('date-hold' as const),
      pick,
      days: maybe(fc.integer({ min: 1, max: 9 }), 1, 1),
      when,
    }),
  },
  { weight: 3, arbitrary: fc.record({ do: fc.constant('end-hold' as const), pick, when }) },
  {
    weight: 2,
    arbitrary: fc.record({
      do: fc.constant('unread' as const),
      subjects: fc.array(pick, { minLength: 1, maxLength: 2 }),
      lines: fc.array(
        fc.record({ revision: pick, line: fc.constantFrom('first' as const, 'second' as const) }),
        {
          minLength: 1,
          maxLength: 2,
        },
      ),
      opens: when,
      closes: when,
    }),
  },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('close-course' as const), pick }) },
  { weight: 4, arbitrary: fc.record({ do: fc.constant('void' as const), pick }) },
  {
    weight: 4,
    arbitrary: fc.record({ do: fc.constant('replace' as const), pick, units, heads, subject: pick, when }),
  },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('label' as const), pick, label }) },
  {
    weight: 1,
    arbitrary: fc.record({
      do: fc.constant('house' as const),
      counting: fc.constantFrom('24-hour' as const, 'whole-days' as const, 'later' as const),
      marginDays: fc.integer({ min: 0, max: 2 }),
    }),
  },
);
export type StepScript = typeof step extends fc.Arbitrary<infer T> ? T : never;

export const scripts = fc.record({
  place: fc.constantFrom(...PLACES),
  counting: fc.constantFrom('24-hour' as const, 'whole-days' as const, 'later' as const),
  marginDays: fc.constantFrom(0, 0, 0, 1),
  labels: fc.tuple(label, label, label),
  steps: fc.array(step, { minLength: 3, maxLength: 22, size: 'max' }),
});
export type Script = typeof scripts extends fc.Arbitrary<infer T> ? T : never;
