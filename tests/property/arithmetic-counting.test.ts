import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CLASSES, type LabelTerms, labelTermsSchema, PRODUCE } from '../../src-shared/label/terms.ts';
import { fraction } from '../../src-shared/quantity/fraction.ts';
import {
  addDays,
  compareDays,
  type Day,
  daysBetween,
  lastDayOfMonth,
  parseDay,
} from '../../src-shared/time/day.ts';
import { addHours, dayOf, instantOf, isoWithOffset, localOf } from '../../src-shared/time/zone.ts';
import { clearAt } from '../../src-shared/withdrawal/clearance.ts';
import { compareDecisions } from '../../src-shared/withdrawal/compare.ts';
import { decideHolds, longestOf } from '../../src-shared/withdrawal/holds.ts';
import { seeded } from './seed.ts';

const options = seeded('arithmetic-counting');
const check = (property: fc.IRawProperty<unknown>) => fc.assert(property, options);

const day = fc.integer({ min: 0, max: 365 * 8 }).map((n) => addDays('2020-01-01' as Day, n));
const time = fc
  .tuple(fc.nat(23), fc.nat(59))
  .map(([h, m]) => `${String(h).padStart(2, '0')}:${String(m).padStart(2, '0')}`);
const local = fc.oneof(
  day,
  fc.tuple(day, time).map(([d, t]) => `${d}T${t}`),
);
const zone = fc.constantFrom(
  'Europe/London',
  'Europe/Helsinki',
  'Africa/Cairo',
  'America/Santiago',
  'America/St_Johns',
  'Pacific/Auckland',
  'Australia/Lord_Howe',
  'America/Havana',
  'Asia/Kathmandu',
  'UTC',
);
const period = fc.oneof(
  fc.record({ value: fc.nat(120), unit: fc.constant('d' as const) }),
  fc.record({ value: fc.nat(400), unit: fc.constant('h' as const) }),
);

describe('days', () => {
  it('added and counted agree, and the last of a month is before the first of the next', () => {
    check(
      fc.property(day, fc.integer({ min: -2000, max: 2000 }), (d, n) => {
        expect(daysBetween(d, addDays(d, n))).toBe(n);
        expect(Math.sign(compareDays(addDays(d, n), d))).toBe(Math.sign(n));
        expect(parseDay(d, 'day')).toBe(d);
        expect(addDays(lastDayOfMonth(d.slice(0, 7)), 1).slice(8)).toBe('01');
      }),
    );
  });
});

describe('zones', () => {
  it('an instant of a local day falls on that day, and its end is the start of the next', () => {
    check(
      fc.property(day, zone, (d, z) => {
        expect(dayOf(instantOf(d, z, 'start'), z)).toBe(d);
        expect(instantOf(d, z, 'end')).toBe(instantOf(addDays(d, 1), z, 'start'));
        expect(dayOf(addHours(instantOf(d, z, 'start'), -1), z) < d).toBe(true);
      }),
    );
  });

  it('a local time is itself again, unless the clocks skip it, and is then later', () => {
    check(
      fc.property(day, time, zone, (d, t, z) => {
        const back = localOf(instantOf(`${d}T${t}`, z, 'end'), z);
        expect(back >= `${d}T${t}`).toBe(true);
        expect(back <= `${d}T${t}` || back.slice(0, 10) >= d).toBe(true);
        // An hour later the clock shows that time no more: of two it was the later.
        expect(localOf(addHours(instantOf(`${d}T${t}`, z, 'end'), 1), z)).not.toBe(`${d}T${t}`);
      }),
    );
  });
});

describe('clearance', () => {
  it('the later way ends no earlier than the others, and is one of them', () => {
    check(
      fc.property(local, zone, period, (lastDose, z, p) => {
        const end = (counting: '24-hour' | 'whole-days' | 'later') =>
          clearAt({ lastDose, zone: z, period: p, counting }).clearAt;
        const [elapsed, whole, later] = [end('24-hour'), end('whole-days'), end('later')];
        expect(later >= elapsed && later >= whole).toBe(true);
        expect([elapsed, whole]).toContain(later);
      }),
    );
  });

  it('never ends before the dose, and a longer period or a later dose never ends earlier', () => {
    check(
      fc.property(local, zone, period, fc.integer({ min: 1, max: 30 }), (lastDose, z, p, more) => {
        const ask = { lastDose, zone: z, period: p, counting: 'later' } as const;
        const clear = clearAt(ask).clearAt;
        expect(clear >= instantOf(lastDose, z, 'start')).toBe(true);
        expect(clearAt({ ...ask, period: { ...p, value: p.value + more } }).clearAt > clear).toBe(true);
        const next = addDays(lastDose.slice(0, 10) as Day, more) + lastDose.slice(10);
        expect(clearAt({ ...ask, lastDose: next }).clearAt > clear).toBe(true);
      }),
    );
  });

  it('only the date known ends no earlier than any time of that day', () => {
    check(
      fc.property(day, time, zone, period, (d, t, z, p) => {
        const known = clearAt({ lastDose: `${d}T${t}`, zone: z, period: p, counting: 'later' }).clearAt;
        const date = clearAt({ lastDose: d, zone: z, period: p, counting: 'later' }).clearAt;
        expect(date >= known).toBe(true);
      }),
    );
  });

  it('the milking kept is the first at or after the end', () => {
    check(
      fc.property(fc.integer({ min: 1, max: 500 }), fc.integer({ min: 6, max: 24 }), (hours, between) => {
        const { firstMilkingKept = 0 } = clearAt({
          lastDose: '2026-01-05T06:00',
          zone: 'Europe/London',
          period: { value: hours, unit: 'h' },
          counting: 'later',
          milkingHours: fraction(between),
        });
        expect(firstMilkingKept * between).toBeGreaterThanOrEqual(hours);
        expect((firstMilkingKept - 1) * between).toBeLessThan(hours);
      }),
    );
  });

  it('prints as an offset time that is the same instant', () => {
    check(
      fc.property(local, zone, (l, z) => {
        const at = instantOf(l, z, 'end');
        expect(new Date(isoWithOffset(at, z)).toISOString()).toBe(at);
      }),
    );
  });
});

describe('holds', () => {
  const row = fc.record({
    produce: fc.constantFrom(...PRODUCE),
    classes: fc.subarray([...CLASSES], { maxLength: 2 }),
    market: fc.constantFrom('domestic' as const, 'export' as const),
    word: fc.oneof(
      fc.constantFrom('zero', 'not-for-this-produce', 'for-life', 'not-stated').map((says) => ({ says })),
      fc.record({
        says: fc.constant('value'),
        value: fc.nat(90).map((n) => `${n} d`),
        countedFrom: fc.constantFrom('last-dose', 'removal', 'lambing'),
      }),
    ),
  });
  const terms = fc.array(row, { maxLength: 6 }).map(
    (rows): LabelTerms =>
      labelTermsSchema.parse({
        name: 'Any',
        form: 'injection',
        kind: 'volume',
        purpose: 'other',
        doseLines: [{ id: 'a', route: 'subcutaneous', rate: { style: 'rate', text: '1 mL per head' } }],
        periods: rows.map(({ word, ...rest }) => ({ ...rest, ...word })),
      }),
  );
  const given = fc.record({
    class: fc.constantFrom(...CLASSES),
    route: fc.constant('subcutaneous' as const),
    doseLine: fc.constant('a'),
    milking: fc.boolean(),
    happened: local,
    zone,
    counting: fc.constant('later' as const),
  });

  it('meat and milk always have one, another row never shortens it, and nothing not stated ends by time', () => {
    check(
      fc.property(terms, terms, given, (a, b, g) => {
        const holds = decideHolds(a, g);
        const at = (list: typeof holds, produce: string) =>
          list.filter((one) => one.produce === produce && one.market === 'domestic');
        expect(at(holds, 'meat').length).toBe(1);
        expect(at(holds, 'milk').length).toBe(1);
        for (const hold of holds) {
          if (hold.says === 'no-row' || hold.says === 'not-stated') expect(hold.until).toBeUndefined();
          expect(hold.state === 'until' ? hold.until !== undefined : true).toBe(true);
          expect(hold.state === 'dormant').toBe(hold.produce === 'milk' && !g.milking);
        }
        const both = decideHolds({ ...a, periods: [...a.periods, ...b.periods] }, g);
        for (const hold of holds) {
          const now = both.find((one) => one.produce === hold.produce && one.market === hold.market);
          expect(now).toBeDefined();
          // A row where there was none states what was not stated; otherwise more rows only hold harder.
          if (now !== undefined && hold.says !== 'no-row') {
            expect(compareDecisions(now, hold)).toBeGreaterThanOrEqual(0);
          }
        }
        // Drawn from two boxes: no shorter than either.
        const merged = longestOf([holds, decideHolds(b, g)]);
        for (const list of [holds, decideHolds(b, g)]) {
          for (const hold of list) {
            const now = merged.find((one) => one.produce === hold.produce && one.market === hold.market);
            expect(now !== undefined && compareDecisions(now, hold) >= 0).toBe(true);
          }
        }
      }),
    );
  });
});
