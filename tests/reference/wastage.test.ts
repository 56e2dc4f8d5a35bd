import { expect, it } from 'vitest';
import { workOut } from '../../src-shared/calls/work-out.ts';
import { amountOf } from '../../src-shared/quantity/amount.ts';
import { toPlaces, ZERO } from '../../src-shared/quantity/fraction.ts';
import { START_PERCENT, tubeHoldsMl, wastage } from '../../src-shared/stock/wastage.ts';

const doses = (count: number) => amountOf('pieces', count);

it.each([
  [30, '1.43'],
  [10, '1.11'],
])('%i %% of doses lost is a wastage factor of %s (WHO, Open University, read)', (lost, factor) => {
  const found = wastage(doses(100), doses(lost));
  expect(toPlaces(found.ratePercent, 2)).toBe(String(lost));
  expect(toPlaces(found.factor ?? ZERO, 2)).toBe(factor);
});

it('a farm starts from 3 % and its measured priming (practice)', () => {
  expect(START_PERCENT).toEqual({ n: 3n, d: 1n });
});

it('a draw-off tube of 5 mm × 1.2 m holds 23.6 mL (derived)', () => {
  expect(tubeHoldsMl(5, 1200)).toBeCloseTo(23.6, 1);
});

// Derived: packs of 250 mL at 110 and 500 mL at 200 that last 10 hours, 300 head today and 130 in a week at 2 mL.
it('packs that die when opened are bought as 250 + 500 + 500 for 510, not 2 × 500', () => {
  const needs = [
    { on: '2026-05-01', amount: '600 mL' },
    { on: '2026-05-08', amount: '260 mL' },
  ];
  const packs = [
    { size: '250 mL', price: '110' },
    { size: '500 mL', price: '200' },
  ];
  expect(workOut('packs', { needs, packs, inUse: '10 h' })).toMatchObject({
    buy: [
      { size: '250 mL', count: 1 },
      { size: '500 mL', count: 2 },
    ],
    cost: '510',
  });
  expect(workOut('packs', { needs, packs })).toMatchObject({ cost: '400' });
});
