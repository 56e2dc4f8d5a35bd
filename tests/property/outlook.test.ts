import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { amountOf } from '../../src-shared/quantity/amount.ts';
import { lookAhead } from '../../src-shared/stock/outlook.ts';
import type { OutlookContainer } from '../../src-shared/stock/outlook-types.ts';
import type { Day } from '../../src-shared/time/day.ts';
import { seeded } from './seed.ts';

// Held against a shelf of its own, with days as whole numbers: no code of the program works out what is expected.

const DAYS = 40;
type Case = {
  /** Day after the last on which it may be used, and of an opened one the day it was opened, 0 or before. */
  packs: { until: number; left: number; opened: number | undefined }[];
  work: { day: number; need: number }[];
  life: number | undefined;
  perDay: number;
};
const cases: fc.Arbitrary<Case> = fc.record({
  packs: fc.array(
    fc.record({
      until: fc.integer({ min: -2, max: 60 }),
      left: fc.integer({ min: 0, max: 30 }),
      opened: fc.option(fc.integer({ min: -12, max: 0 }), { nil: undefined }),
    }),
    { maxLength: 8 },
  ),
  work: fc.array(
    fc.record({ day: fc.integer({ min: 0, max: DAYS - 1 }), need: fc.integer({ min: 0, max: 60 }) }),
    { maxLength: 4 },
  ),
  life: fc.option(fc.integer({ min: 1, max: 20 }), { nil: undefined }),
  perDay: fc.integer({ min: 0, max: 2 }),
});

const START = Date.UTC(2026, 4, 1);
const dayText = (n: number) => new Date(START + n * 86_400_000).toISOString().slice(0, 10) as Day;

type OnShelf = { name: string; dies: number; left: number; opened: number | undefined };
const dies = (until: number, opened: number | undefined, life: number | undefined) =>
  opened === undefined || life === undefined ? until : Math.min(until, opened + life);

/** By day: drawn, short, gone, left at the end. */
function byHand({ packs, work, life, perDay }: Case): number[][] {
  let shelf: OnShelf[] = packs
    .map(({ until, left, opened }, i) => ({ name: `P${i}`, dies: dies(until, opened, life), left, opened }))
    .filter((one) => one.left > 0 && one.dies > 0);
  return Array.from({ length: DAYS }, (_, day) => {
    let need = perDay + work.reduce((sum, one) => sum + (one.day === day ? one.need : 0), 0);
    const asked = need;
    shelf.sort(
      (a, b) =>
        a.dies - b.dies ||
        Number(a.opened === undefined) - Number(b.opened === undefined) ||
        a.left - b.left ||
        (a.name < b.name ? -1 : 1),
    );
    for (const one of shelf) {
      const take = Math.min(need, one.left);
      if (take === 0) continue;
      need -= take;
      one.left -= take;
      if (one.opened !== undefined) continue;
      one.opened = day;
      one.dies = dies(one.dies, day, life);
    }
    const gone = shelf.reduce((sum, one) => sum + (one.dies <= day + 1 ? one.left : 0), 0);
    shelf = shelf.filter((one) => one.left > 0 && one.dies > day + 1);
    return [asked - need, need, gone, shelf.reduce((sum, one) => sum + one.left, 0)];
  });
}

function container({ packs, life }: Case, i: number): OutlookContainer {
  const pack = packs[i];
  if (pack === undefined) throw new Error(`there is no pack ${i}`);
  return {
    id: `P${i}`,
    label: `P${i}`,
    medicine: 'm',
    revision: 'r',
    batch: 'b',
    number: 'B1',
    kind: 'volume',
    received: 30,
    left_units: pack.left,
    state: pack.opened === undefined ? 'sealed' : 'open',
    opened: pack.opened === undefined ? null : dayText(pack.opened),
    unusable_from: dayText(dies(pack.until, pack.opened, life)),
    unopened_until: dayText(pack.until),
    store: null,
    strength: null,
    counted: null,
    since_at: null,
    since_local: null,
  };
}

describe('an outlook', () => {
  it('is what a shelf played by hand comes to, day by day', () => {
    fc.assert(
      fc.property(cases, (one) => {
        const outlook = lookAhead({
          kind: 'volume',
          today: dayText(0),
          days: DAYS,
          zone: 'UTC',
          inUse: one.life === undefined ? 'none' : `${one.life} d`,
          containers: one.packs.map((_, i) => container(one, i)),
          planned: one.work.map(({ day, need }) => ({
            on: dayText(day),
            what: 'work',
            need: amountOf('volume', need),
          })),
          pastUse: { used: amountOf('volume', one.perDay * 7), days: 7 },
        });
        const rows = outlook.days.map(({ drawn, short, gone, end }) => [
          drawn,
          short,
          gone.reduce((sum, { amount }) => sum + amount, 0),
          end,
        ]);
        const expected = byHand(one);
        expect(rows).toEqual(expected);
        const firstShort = expected.findIndex(([, short = 0]) => short > 0);
        expect(outlook.runOut?.day).toBe(firstShort < 0 ? undefined : dayText(firstShort));
      }),
      seeded('outlook'),
    );
  });
});
