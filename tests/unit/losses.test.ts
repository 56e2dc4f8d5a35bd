import { describe, expect, it } from 'vitest';
import { amountOf, parseAmount } from '../../src-shared/quantity/amount.ts';
import { fillings } from '../../src-shared/stock/fillings.ts';
import { plannedLosses } from '../../src-shared/stock/losses.ts';
import { wastage, wastageToPlanWith } from '../../src-shared/stock/wastage.ts';
import { printStockWorking } from '../../src-shared/stock/working.ts';
import { refused } from './refused.ts';

const ml = (text: string) => parseAmount(`${text} mL`, 'amount');
const START = wastageToPlanWith([]);
const used = (opened: string, lost: string) => ({ opened: ml(opened), lost: ml(lost) });

describe('wastage', () => {
  it('counts the farm’s own figures once three containers are used up', () => {
    const two = [used('100', '10'), used('100', '30')];
    expect(wastageToPlanWith(two)).toMatchObject({
      from: 'start',
      containers: 2,
      ratePercent: { n: 3n, d: 1n },
    });
    const own = wastageToPlanWith([...two, used('250', '5')]);
    // 45 of 450.
    expect(own).toMatchObject({
      from: 'own',
      containers: 3,
      ratePercent: { n: 10n, d: 1n },
      factor: { n: 10n, d: 9n },
    });
    expect(printStockWorking(own.working).map(({ text }) => text)).toEqual([
      '45 mL lost ÷ 450 mL opened = 10 %',
      '100 ÷ (100 − 10) = 1.11',
    ]);
  });

  it('has no factor when all was lost, and a factor of one when nothing was', () => {
    expect(wastage(ml('10'), ml('10'))).not.toHaveProperty('factor');
    expect(wastage(ml('10'), ml('0')).factor).toEqual({ n: 1n, d: 1n });
  });

  it.each([
    [() => wastage(ml('0'), ml('0')), 'nothing-opened', 'opened'],
    [() => wastage(ml('10'), ml('10.1')), 'lost-over-opened', 'lost'],
    [() => wastage(ml('10'), parseAmount('1 g', 'lost')), 'units-do-not-match', 'lost'],
    [() => wastage(ml('10'), amountOf('volume', -1)), 'bad-amount', 'lost'],
    [
      () =>
        wastageToPlanWith([
          used('1', '0'),
          used('1', '0'),
          { opened: parseAmount('1 g', 'o'), lost: ml('0') },
        ]),
      'units-do-not-match',
      'opened',
    ],
  ])('is refused for what cannot be (%#)', (work, code, field) => {
    expect(refused(work)).toMatchObject({ code, field });
  });
});

describe('planned losses', () => {
  it('of syringes: 60 fillings of 68 µL and 3 % spill on 120 mL', () => {
    const plan = plannedLosses({ need: ml('120'), syringe: { fills: 60 }, wastage: START });
    // 60 × 0.068 = 4.08; 3 % of 120 = 3.6.
    expect(plan.losses).toEqual([
      { cause: 'dead-space', amount: ml('4.08') },
      { cause: 'spill', amount: ml('3.6') },
    ]);
    expect(plan.withLosses).toEqual(ml('127.68'));
    expect(plan.unknown).toEqual([]);
    expect(printStockWorking(plan.working).map(({ text }) => text)).toEqual([
      'Fewer than 3 containers are used up, so it starts from 3 % and the measured priming',
      '100 ÷ (100 − 3) = 1.03',
      '60 fillings × 0.068 mL left in syringe, hub and needle = 4.08 mL',
      '3 % of 120 mL for spill = 3.6 mL',
      '120 mL + 4.08 mL + 3.6 mL = 127.68 mL',
    ]);
  });

  it('takes what a large syringe may keep when that is more', () => {
    const of = (capacity: string) =>
      plannedLosses({ need: ml('120'), syringe: { fills: 10, capacity: ml(capacity) }, wastage: START })
        .losses[0];
    expect(of('2')).toEqual({ cause: 'dead-space', amount: ml('0.7') });
    expect(of('20')).toEqual({ cause: 'dead-space', amount: ml('1.5') });
  });

  it('of a gun: as often as it is primed, by what was measured', () => {
    const plan = plannedLosses({ need: ml('600'), gun: { primings: 2, each: ml('25') }, wastage: START });
    expect(plan.withLosses).toEqual(ml('668'));
  });

  it('says when priming is not measured, and does not take it as nothing', () => {
    const plan = plannedLosses({ need: ml('600'), gun: { primings: 2 }, wastage: START });
    expect(plan.unknown).toEqual(['priming']);
    expect(plan.warnings).toMatchObject([{ code: 'priming-not-measured' }]);
    expect(plannedLosses({ need: ml('600'), gun: { primings: 0 }, wastage: START }).unknown).toEqual([]);
  });

  it('goes by the farm’s own figures alone once there are some', () => {
    const own = wastageToPlanWith([used('100', '10'), used('100', '10'), used('100', '10')]);
    const plan = plannedLosses({
      need: ml('90'),
      syringe: { fills: 45 },
      gun: { primings: 1 },
      wastage: own,
    });
    expect(plan.losses).toEqual([{ cause: 'own', amount: ml('10') }]);
    expect(plan.withLosses).toEqual(ml('100'));
    expect(plan.unknown).toEqual([]);
  });

  it('rounds up to the microlitre and to the piece', () => {
    expect(plannedLosses({ need: ml('0.001'), wastage: START }).total).toEqual(ml('0.001'));
    const boluses = parseAmount('30 boluses', 'need');
    expect(plannedLosses({ need: boluses, wastage: START }).withLosses).toEqual(amountOf('pieces', 31));
  });

  it.each([
    [{ need: parseAmount('5 g', 'n'), syringe: { fills: 1 } }, 'units-do-not-match', 'need'],
    [{ need: parseAmount('5 g', 'n'), gun: { primings: 1 } }, 'units-do-not-match', 'need'],
    [
      { need: ml('5'), gun: { primings: 1, each: parseAmount('5 g', 'n') } },
      'units-do-not-match',
      'gun.each',
    ],
    [{ need: ml('5'), gun: { primings: -1 } }, 'bad-count', 'gun.primings'],
    [{ need: ml('5'), syringe: { fills: 1.5 } }, 'bad-count', 'syringe.fills'],
    [{ need: amountOf('volume', -5) }, 'bad-amount', 'need'],
  ])('refuses %#', (ask, code, field) => {
    expect(refused(() => plannedLosses({ ...ask, wastage: START }))).toMatchObject({ code, field });
  });

  it('refuses to call any amount enough where all was lost', () => {
    const all = wastageToPlanWith([used('1', '1'), used('1', '1'), used('1', '1')]);
    expect(refused(() => plannedLosses({ need: ml('5'), wastage: all })).code).toBe('all-lost');
  });
});

describe('fillings of a syringe', () => {
  it.each([
    // As many whole doses as it holds: 10 of 2 mL in 5 mL are 5 fillings of two.
    [[{ units: 2000, heads: 10 }], 5000, 5],
    [[{ units: 2000, heads: 11 }], 5000, 6],
    // A dose that is larger than it holds takes several.
    [[{ units: 12_000, heads: 3 }], 5000, 9],
    // Two sizes are two rounds.
    [
      [
        { units: 2000, heads: 1 },
        { units: 3000, heads: 1 },
      ],
      5000,
      2,
    ],
    // Of a size that is not known each dose is one.
    [[{ units: 2000, heads: 10 }], undefined, 10],
    [[{ units: 0, heads: 10 }], 5000, 0],
    [[], 5000, 0],
  ])('%j out of %s µL: %i', (doses, capacity, count) => {
    expect(fillings(doses, capacity)).toBe(count);
  });
});
