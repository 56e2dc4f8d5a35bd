import fc from 'fast-check';

/** A made-up history as calls to the desk, in the order in which they are made. */
const TIMES = ['00:00', '01:30', '08:00', '17:00', '23:30'] as const;
const maybe = <T>(some: fc.Arbitrary<T>, weight: number, none: number): fc.Arbitrary<T | undefined> =>
  fc.oneof({ weight, arbitrary: some }, { weight: none, arbitrary: fc.constant(undefined) });

/** Days of spring 2026 about the night on which the clocks of London go forward; absent: now. */
const when = maybe(
  fc
    .record({ day: fc.integer({ min: 24, max: 31 }), time: maybe(fc.constantFrom(...TIMES), 3, 2) })
    .map(({ day, time }) => `2026-03-${day}${time === undefined ? '' : `T${time}`}`),
  6,
  1,
);
const pick = fc.nat({ max: 999 });
const heads = fc.integer({ min: 1, max: 8 });
const millilitres = fc.integer({ min: 1, max: 60 }).map((ml) => `${ml} mL`);
const period = fc.constantFrom('1 d', '3 d', '7 d', '28 d', '36 h', '72 h', undefined);
export const periods = fc.record({ meat: period, milk: period });

const call = <N extends string, T>(
  name: N,
  weight: number,
  fields: { [K in keyof T]: fc.Arbitrary<T[K]> },
) => ({
  weight,
  arbitrary: fc.record({ do: fc.constant(name), ...fields }) as fc.Arbitrary<{ do: N } & T>,
});

const step = fc.oneof(
  call('treat', 8, {
    when,
    subject: pick,
    medicine: pick,
    heads,
    given: maybe(
      fc.integer({ min: 1, max: 9 }).map((ml) => `${ml} mL`),
      1,
      1,
    ),
    vets: fc.boolean(),
    lost: maybe(fc.constant('1 mL'), 1, 3),
    course: maybe(fc.integer({ min: 1, max: 3 }), 1, 1),
  }),
  call('session', 3, {
    opens: when,
    when,
    closes: when,
    medicines: fc.uniqueArray(fc.constantFrom(0, 1), { minLength: 1, maxLength: 2 }),
    mass: fc.boolean(),
    first: pick,
    tally: heads,
    marked: fc.boolean(),
    missed: fc.integer({ min: 0, max: 3 }),
  }),
  call('move', 5, {
    when,
    from: pick,
    heads,
    to: fc.constantFrom('lot' as const, 'new' as const, 'tag' as const),
    which: pick,
  }),
  call('resolve', 2, { when, pick }),
  call('close-course', 2, { pick }),
  call('stock', 4, {
    when,
    container: pick,
    cause: fc.constantFrom('lost', 'disposed', 'returned', 'counted', 'counted', 'carried'),
    amount: millilitres,
  }),
  call('receive', 2, { when, medicine: pick, insert: maybe(periods, 1, 2), size: millilitres }),
  call('depart', 1, { when, subject: pick, heads }),
  call('void', 3, { pick }),
  call('correct', 3, { pick, subject: maybe(pick, 1, 2), local: when, given: maybe(millilitres, 1, 2) }),
  call('label', 2, { medicine: pick, periods }),
);
export type DeskStep = typeof step extends fc.Arbitrary<infer T> ? T : never;

export const deskScripts = fc.record({
  counting: fc.constantFrom('24-hour' as const, 'whole-days' as const, 'later' as const),
  marginDays: fc.constantFrom(0, 0, 1),
  labels: fc.tuple(periods, periods),
  steps: fc.array(step, { minLength: 8, maxLength: 20, size: 'max' }),
});
export type DeskScript = typeof deskScripts extends fc.Arbitrary<infer T> ? T : never;
