import { describe, expect, it } from 'vitest';
import { amountOf, parseAmount } from '../../src-shared/quantity/amount.ts';
import { lookAhead } from '../../src-shared/stock/outlook.ts';
import { sayOutlook } from '../../src-shared/stock/outlook-said.ts';
import type { OutlookAsk, OutlookContainer, OutlookDay } from '../../src-shared/stock/outlook-types.ts';
import { parsePrice } from '../../src-shared/stock/price.ts';
import { unusableAfter } from '../../src-shared/stock/use-by.ts';
import { printStockWorking } from '../../src-shared/stock/working.ts';
import { addDays, type Day, parseDay } from '../../src-shared/time/day.ts';
import { refused } from './refused.ts';

const day = (text: string) => parseDay(text, 'day');
const ml = (text: string) => parseAmount(`${text} mL`, 'amount');

/** A sealed pack of 100 mL that may be used through a day. */
function pack(label: string, lastDay: string, more: Partial<OutlookContainer> = {}): OutlookContainer {
  const until = unusableAfter(day(lastDay));
  return {
    id: label,
    label,
    medicine: 'm',
    revision: 'r',
    batch: 'b',
    number: 'B1',
    kind: 'volume',
    received: 100_000,
    left_units: 100_000,
    state: 'sealed',
    opened: null,
    unusable_from: until,
    unopened_until: until,
    store: null,
    strength: null,
    counted: null,
    since_at: null,
    since_local: null,
    ...more,
  };
}

/**
 * Three packs of 100 mL, two expiries: A and B on 31 May, C on 31 December. Opened they last 28 days. Two sessions:
 * 30 head at 2 mL on 1 May, 60 head at 2 mL on 10 June; between them an expiry.
 */
const PRICE = parsePrice('50.00 GBP', 'price');
const ASK: OutlookAsk = {
  kind: 'volume',
  today: day('2026-05-01'),
  days: 45,
  zone: 'Europe/London',
  inUse: '28 d',
  containers: [
    pack('C', '2026-12-31', { price: PRICE }),
    pack('B', '2026-05-31', { price: PRICE }),
    pack('A', '2026-05-31', { price: PRICE }),
  ],
  planned: [
    { on: day('2026-06-10'), what: 'Booster', need: ml('120') },
    { on: day('2026-05-01'), what: 'First dose', need: ml('60') },
  ],
  pastUse: { used: ml('0'), days: 365 },
  leadDays: 5,
};
const look = (more: Partial<OutlookAsk> = {}) => lookAhead({ ...ASK, ...more });

type Row = [start: number, drawn: number, short: number, opened: string, gone: string, end: number];
const plain = (row: OutlookDay): Row => [
  row.start / 1000,
  row.drawn / 1000,
  row.short / 1000,
  row.opened.join(' '),
  row.gone.map(({ label, amount, why }) => `${label} ${amount / 1000} ${why}`).join(', '),
  row.end / 1000,
];

describe('an outlook worked by hand', () => {
  const outlook = look();

  it('is this table of days', () => {
    // The days on which something happens; on all others what is there stays as it is.
    const happens: Record<string, Row> = {
      // A and B expire first; of the same day the label that comes first. A: 100 − 60 = 40.
      '2026-05-01': [300, 60, 0, 'A', '', 240],
      // Opened on 1 May with 28 days: not from 29 May on (practice), so 28 May is the last day of A.
      '2026-05-28': [240, 0, 0, '', 'A 40 past-in-use', 200],
      // B was never opened and expires.
      '2026-05-31': [200, 0, 0, '', 'B 100 expired', 100],
      // 120 needed, C holds 100.
      '2026-06-10': [100, 100, 20, 'C', '', 0],
    };
    let there = 300;
    const expected = Array.from({ length: 45 }, (_, n) => {
      const on = addDays(day('2026-05-01'), n);
      const row = happens[on] ?? [there, 0, 0, '', '', there];
      there = row[5];
      return [on, row];
    });
    expect(outlook.days.map((row) => [row.day, plain(row)])).toEqual(expected);
  });

  it('runs out at the booster, and says what to have by then', () => {
    expect(outlook.runOut).toEqual({ day: '2026-06-10', short: 20_000, what: ['Booster'] });
    expect(outlook.missing).toEqual([{ on: '2026-06-10', amount: ml('20') }]);
    expect(outlook.mayEndSooner).toBe(false);
    expect(outlook.warnings).toEqual([]);
  });

  it('names what is not used up, and its cost: 40 of 100 mL at 50.00 are 20.00, and 50.00', () => {
    expect(
      outlook.unused.map(({ label, lastDay, why, cost }) => [label, lastDay, why, cost?.minorUnits]),
    ).toEqual([
      ['A', '2026-05-28', 'past-in-use', 2000],
      ['B', '2026-05-31', 'expired', 5000],
    ]);
    expect(outlook.unusedCost).toEqual([{ minorUnits: 7000, currency: 'GBP' }]);
  });

  it('says by when to order: here on 9 June, five days after 4 June', () => {
    expect(outlook.orderBy).toEqual({ day: '2026-06-04', late: false });
    expect(printStockWorking(outlook.working).at(-1)?.text).toBe(
      'First short on 10 Jun 2026; it has to stand here the day before, 5 days after the order: order by 4 Jun 2026',
    );
    expect(look({ leadDays: 39 }).orderBy).toEqual({ day: '2026-05-01', late: false });
    expect(look({ leadDays: 40 }).orderBy).toEqual({ day: '2026-04-30', late: true });
  });
});

describe('an outlook', () => {
  it('draws other use day by day, never less than the rate', () => {
    // 10 mL in 30 days: 333.33… µL a day, so 334, 333, 333 …
    const outlook = look({ pastUse: { used: ml('10'), days: 30 }, planned: [], inUse: 'none' });
    expect(outlook.days.slice(0, 4).map(({ otherUse }) => otherUse)).toEqual([334, 333, 333, 334]);
    expect(outlook.days.slice(0, 30).reduce((sum, row) => sum + row.otherUse, 0)).toBe(10_000);
    expect(printStockWorking(outlook.working)[0]?.text).toBe(
      '10 mL used in 30 days besides planned work: 0.333 mL a day',
    );
  });

  it('says what of a day is not met, the earlier planned first and other use last', () => {
    const planned = ['One', 'Two'].map((what) => ({ on: ASK.today, what, need: ml('200') }));
    const what = (used: string) => look({ planned, pastUse: { used: ml(used), days: 1 } }).runOut?.what;
    expect(what('0')).toEqual(['Two']);
    expect(what('50')).toEqual(['Two', 'other use']);
    expect(what('50')).not.toContain('One');
  });

  it('lets an opened pack of hours die on its day', () => {
    const rows = look({ inUse: '10 h', containers: [pack('A', '2026-12-31')] }).days;
    expect(rows[0] && plain(rows[0])).toEqual([100, 60, 0, 'A', 'A 40 past-in-use', 0]);
  });

  it('counts on nothing that is expired, past its life or quarantined, and names it', () => {
    const outlook = look({
      containers: [
        pack('old', '2026-04-30'),
        pack('open', '2026-12-31', { state: 'open', opened: '2026-04-01', unusable_from: '2026-04-29' }),
        pack('away', '2026-12-31', { state: 'quarantined' }),
        pack('none', '2026-12-31', { left_units: 0 }),
        pack('gone', '2026-12-31', { state: 'disposed', left_units: 0 }),
        pack('back', '2026-12-31', { state: 'returned', left_units: 0 }),
      ],
    });
    expect(outlook.notCounted.map(({ label, state }) => [label, state])).toEqual([
      ['old', 'expired'],
      ['open', 'past-in-use'],
      ['away', 'quarantined'],
    ]);
    expect(outlook.runOut).toMatchObject({ day: '2026-05-01', short: 60_000 });
  });

  it('goes on with what is open before it opens another', () => {
    const open = { state: 'open', opened: '2026-04-20', unusable_from: '2026-05-18', left_units: 30_000 };
    const outlook = look({ containers: [pack('A', '2026-05-31'), pack('O', '2026-12-31', open)] });
    expect(outlook.days[0]).toMatchObject({ opened: ['A'], end: 70_000 });
  });

  it('says what is not known, and that stock may end sooner', () => {
    const { pastUse, leadDays, ...less } = ASK;
    expect([pastUse?.days, leadDays]).toEqual([365, 5]);
    const outlook = lookAhead({
      ...less,
      inUse: undefined,
      containers: [pack('A', '2026-05-31')],
      planned: [
        { on: day('2026-05-02'), what: 'Rams' },
        { on: day('2026-04-30'), what: 'Yesterday', need: ml('1') },
        { on: day('2026-08-01'), what: 'Summer', need: ml('1') },
      ],
    });
    expect(outlook.warnings.map(({ code }) => code)).toEqual([
      'use-unknown',
      'need-unknown',
      'overdue',
      'beyond',
      'in-use-unknown',
      'lead-unknown',
      'cost-unknown',
    ]);
    expect(outlook.mayEndSooner).toBe(true);
    expect(outlook).not.toHaveProperty('runOut');
    expect(outlook).not.toHaveProperty('orderBy');
    expect(outlook.unusedCost).toEqual([]);
    for (const { text } of outlook.warnings) expect(text).toMatch(/^[A-Z0-9].*\.$/);
  });

  it('points out that use by the day and packs of hours do not go together', () => {
    const codes = (inUse: string, used = '1') =>
      look({ inUse, pastUse: { used: ml(used), days: 1 } }).warnings.map(({ code }) => code);
    expect(codes('10 h')).toContain('use-spread');
    expect(codes('at once')).toContain('use-spread');
    expect(codes('10 h', '0')).not.toContain('use-spread');
    expect(codes('28 d')).not.toContain('use-spread');
    expect(codes('none')).not.toContain('use-spread');
  });

  it('is the same for the same question, in whatever order the containers stand', () => {
    expect(look({ containers: ASK.containers.toReversed() }).days).toEqual(look().days);
  });

  it.each([
    [{ days: 0 }, 'bad-days', 'days'],
    [{ days: 732 }, 'bad-days', 'days'],
    [{ days: 1.5 }, 'bad-days', 'days'],
    [{ leadDays: -1 }, 'bad-lead', 'leadDays'],
    [{ leadDays: 366 }, 'bad-lead', 'leadDays'],
    [{ pastUse: { used: ml('1'), days: 0 } }, 'bad-use', 'pastUse.days'],
    [{ pastUse: { used: amountOf('mass', 1), days: 1 } }, 'units-do-not-match', 'pastUse.used'],
    [{ pastUse: { used: amountOf('volume', -1), days: 1 } }, 'bad-amount', 'pastUse.used'],
    [
      { planned: [{ on: ASK.today, what: 'x', need: amountOf('pieces', 1) }] },
      'units-do-not-match',
      'planned.0.need',
    ],
    [
      { planned: [{ on: ASK.today, what: 'x', need: amountOf('volume', -1) }] },
      'bad-amount',
      'planned.0.need',
    ],
    [{ containers: [pack('A', '2026-05-31', { kind: 'mass' })] }, 'units-do-not-match', 'containers.0'],
    [{ inUse: '28' }, 'bad-period', 'inUse'],
    [{ zone: 'Nowhere' }, 'bad-zone', 'zone'],
  ] as [Partial<OutlookAsk>, string, string][])('refuses %#', (more, code, field) => {
    expect(refused(() => look(more))).toMatchObject({ code, field });
  });
});

describe('two years of many packs', () => {
  it('take a moment', () => {
    const containers = Array.from({ length: 200 }, (_, i) =>
      pack(`P${i}`, addDays(day('2026-06-01') as Day, i * 3)),
    );
    const before = performance.now();
    const outlook = look({ days: 731, containers, pastUse: { used: ml('20'), days: 1 } });
    expect(outlook.days).toHaveLength(731);
    expect(performance.now() - before).toBeLessThan(5000);
  });
});

describe('an outlook in words', () => {
  const said = (containers: OutlookContainer[]) => {
    const outlook = look({ containers, pastUse: undefined });
    return sayOutlook({
      name: 'Calverol drench',
      outlook,
      today: ASK.today,
      until: addDays(ASK.today, ASK.days - 1),
      works: [],
      shortText: '60 mL',
      isCovered: false,
      isOfTheVet: false,
    });
  };

  it('does not say that what is gone today may end sooner', () => {
    expect(said([])).toEqual({
      says: 'Nothing of Calverol drench that may be used is left. How long an order takes is not written down.',
      state: 'no-day',
      runOut: '2026-05-01',
    });
  });

  it('says so of what lasts, where not all that is used is known', () => {
    expect(said([pack('A', '2026-12-31')]).small).toBe('It may end sooner: not all that is used is known.');
  });
});
