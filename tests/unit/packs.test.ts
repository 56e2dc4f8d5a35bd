import { describe, expect, it } from 'vitest';
import { workOut } from '../../src-shared/calls/work-out.ts';
import { refused } from './refused.ts';

const PACKS = [
  { size: '250 mL', price: '110' },
  { size: '500 mL', price: '200' },
];
const need = (on: string, amount: string) => ({ on, amount });
const NEEDS = [need('2026-05-01', '600 mL'), need('2026-05-08', '260 mL')];
const ask = (more: Record<string, unknown> = {}) =>
  workOut('packs', { needs: NEEDS, packs: PACKS, inUse: '10 h', ...more });
const lines = (reply: Record<string, unknown>) =>
  (reply.working as { text: string }[]).map(({ text }) => text);

describe('the cheapest packs', () => {
  it('says which pack serves which day, and what a plain sum would have bought', () => {
    const reply = ask();
    expect(reply).toMatchObject({
      buy: [
        { size: '250 mL', count: 1 },
        { size: '500 mL', count: 2 },
      ],
      cost: '510',
      leftOverMl: '390',
      warnings: [],
    });
    expect(lines(reply)).toEqual([
      '1 May 2026: 600 mL needed, opens 1 × 250 mL + 1 × 500 mL; 150 mL is left open, usable for 10 h, and serves no later day',
      '8 May 2026: 260 mL needed, opens 1 × 500 mL; 240 mL is left open, usable for 10 h',
      '1 × 250 mL at 110 + 2 × 500 mL at 200 = 510',
      '390 mL is bought and not needed',
      'If opened packs kept, 2 × 500 mL at 400 would do; they last 10 h once opened',
    ]);
  });

  it('goes by the sum where opened packs keep, or last long enough', () => {
    for (const inUse of [undefined, 'none', '8 d', '28 d']) {
      expect(ask({ inUse })).toMatchObject({
        buy: [{ size: '500 mL', count: 2 }],
        cost: '400',
        leftOverMl: '140',
      });
    }
    // Opened on the 1st, 7 days: unusable from the 8th at 00:00 (practice).
    expect(ask({ inUse: '7 d' })).toMatchObject({ cost: '510' });
    expect(lines(ask({ inUse: '8 d' }))[0]).toContain('usable to 8 May 2026');
  });

  it('adds what is needed on the same day, whatever the order', () => {
    const needs = [need('2026-05-08', '260 mL'), need('2026-05-01', '200 mL'), need('2026-05-01', '400 mL')];
    expect(ask({ needs })).toMatchObject({ cost: '510' });
  });

  it('tells morning from afternoon where the hours are given', () => {
    const two = (later: string) => [need('2026-05-01T08:00', '200 mL'), need(later, '200 mL')];
    expect(ask({ needs: two('2026-05-01T17:59'), zone: 'Europe/London' })).toMatchObject({ cost: '200' });
    expect(ask({ needs: two('2026-05-01T18:00'), zone: 'Europe/London' })).toMatchObject({ cost: '220' });
    expect(ask({ needs: two('2026-05-01T18:00') }).warnings).toMatchObject([{ code: 'clock-change' }]);
    // The clocks go back at 02:00 that night, so ten hours end at 07:00 by the wall.
    const night = [need('2026-10-24T22:00', '200 mL'), need('2026-10-25T07:30', '200 mL')];
    expect(ask({ needs: night })).toMatchObject({ cost: '200' });
    expect(ask({ needs: night, zone: 'Europe/London' })).toMatchObject({ cost: '220' });
  });

  it('of mixes that cost the same takes the one with least left over, then the fewest packs', () => {
    const packs = [
      { size: '100 mL', price: '10' },
      { size: '200 mL', price: '20' },
      { size: '500 mL', price: '40' },
    ];
    const one = (amount: string) => workOut('packs', { needs: [need('2026-05-01', amount)], packs });
    expect(one('350 mL')).toMatchObject({
      buy: [{ size: '200 mL', count: 2 }],
      cost: '40',
      leftOverMl: '50',
    });
    expect(one('450 mL')).toMatchObject({ buy: [{ size: '500 mL', count: 1 }], cost: '40' });
  });

  it('keeps a dearer beginning in mind when what is left of it lasts longer', () => {
    // By hand: 20 mL on the first day covers three days for 25, but is dead on the fourth, which costs 10 more. Small
    // packs cost 30 by the second day, and their last mL, opened on that day, serves the fourth.
    const needs = ['2 mL', '5 mL', '1 mL', '1 mL'].map((amount, i) => need(`2026-05-0${i + 1}`, amount));
    const packs = [
      { size: '3 mL', price: '10' },
      { size: '20 mL', price: '25' },
    ];
    expect(workOut('packs', { needs, packs, inUse: '3 d' })).toMatchObject({
      buy: [{ size: '3 mL', count: 3 }],
      cost: '30',
      leftOverMl: '0',
    });
  });

  it('keeps money exact, in its own currency', () => {
    const packs = [{ size: '1 mL', price: '0.1 GBP' }];
    const reply = workOut('packs', { needs: [need('2026-05-01', '3 mL')], packs });
    expect(reply).toMatchObject({ cost: '0.30 GBP', leftOverMl: '0' });
    expect(lines(reply)).toContain('Nothing is left over');
    expect(
      workOut('packs', { needs: [need('2026-05-01', '3 mL')], packs: [{ size: '1 mL', price: 0.1 }] }),
    ).toMatchObject({
      cost: '0.3',
    });
  });

  it('counts pieces and powder too', () => {
    const packs = [{ size: '24 boluses', price: '55.5' }];
    expect(workOut('packs', { needs: [need('2026-05-01', '30 boluses')], packs })).toMatchObject({
      cost: '111',
      leftOverPieces: '18',
    });
    const sacks = [{ size: '1 kg', price: '8' }];
    expect(workOut('packs', { needs: [need('2026-05-01', '1.5 kg')], packs: sacks })).toMatchObject({
      leftOverMg: '500000',
    });
  });
});

describe('bad input about packs', () => {
  it.each([
    [{ needs: [] }, 'no-needs', 'needs'],
    [{ packs: [] }, 'no-packs', 'packs'],
    [{ needs: [need('2026-06-31', '1 mL')] }, 'bad-day', 'needs.0.on'],
    [{ needs: [need('2026-06-30T25:00', '1 mL')] }, 'bad-time', 'needs.0.on'],
    [{ needs: [need('today', '1 mL')] }, 'bad-day', 'needs.0.on'],
    [{ needs: [need('2026-06-30', '-5 mL')] }, 'bad-number', 'needs.0.amount'],
    [{ needs: [need('2026-06-30', '0 mL')] }, 'bad-amount', 'needs.0.amount'],
    [{ needs: [need('2026-06-30', '600')] }, 'bad-amount', 'needs.0.amount'],
    [{ needs: [need('2026-06-30', '60 g')] }, 'units-do-not-match', 'needs.0.amount'],
    [{ needs: [need('2026-06-30', '999999999 L')] }, 'too-many-sums', 'packs'],
    [{ needs: Array.from({ length: 732 }, () => need('2026-06-30', '1 mL')) }, 'too-many-needs', 'needs'],
    [{ packs: [{ size: '0 mL', price: '1' }] }, 'bad-amount', 'packs.0.size'],
    [{ packs: [...PACKS, { size: '5 g', price: '1' }] }, 'units-do-not-match', 'packs.2.size'],
    [{ packs: [{ size: '5 mL', price: '1,50' }] }, 'bad-number', 'packs.0.price'],
    [{ packs: [{ size: '5 mL', price: -1 }] }, 'bad-number', 'packs.0.price'],
    [{ packs: [{ size: '5 mL', price: '1.2345' }] }, 'bad-price', 'packs.0.price'],
    [{ packs: [{ size: '5 mL', price: '1 XXQ' }] }, 'bad-price', 'packs.0.price'],
    [{ packs: [{ size: '5 mL', price: '999999999999' }] }, 'bad-price', 'packs.0.price'],
    [
      {
        packs: [
          { size: '5 mL', price: '1 GBP' },
          { size: '9 mL', price: '2 EUR' },
        ],
      },
      'bad-price',
      'packs.1.price',
    ],
    [
      {
        packs: [
          { size: '5 mL', price: '1 GBP' },
          { size: '9 mL', price: '2' },
        ],
      },
      'bad-price',
      'packs.1.price',
    ],
    [{ packs: Array.from({ length: 13 }, () => PACKS[0]) }, 'too-many-packs', 'packs'],
    [{ inUse: '28' }, 'bad-period', 'inUse'],
    [{ inUse: '2 months' }, 'bad-period', 'inUse'],
    [{ zone: 'Nowhere', needs: [need('2026-06-30T08:00', '1 mL')] }, 'bad-zone', 'zone'],
    [{ head: 300 }, 'bad-input', 'head'],
  ])('question %#', (more, code, field) => {
    const found = refused(() => ask(more));
    expect({ code: found.code, field: found.field }).toEqual({ code, field });
    expect(found.message).toMatch(/^[A-Z“].*\.$/);
  });

  it('refuses sizes without a common measure beside a large need, and says what to do', () => {
    const packs = [
      { size: '33.333 mL', price: '1' },
      { size: '100 mL', price: '4' },
    ];
    expect(ask({ packs, needs: [need('2026-06-30', '133 mL')] })).toMatchObject({ cost: '4' });
    expect(refused(() => ask({ packs }))).toMatchObject({ code: 'too-many-sums', field: 'packs' });
    expect(refused(() => ask({ packs })).next).toContain('rounder');
  });

  it('refuses what would take too long, within a moment', () => {
    const needs = Array.from({ length: 200 }, (_, i) =>
      need(
        `2026-${String(1 + (i % 12)).padStart(2, '0')}-${String(1 + Math.floor(i / 12)).padStart(2, '0')}`,
        `${1000 + i * 7} mL`,
      ),
    );
    const packs = [997, 991, 983, 977, 971, 967].map((ml, i) => ({
      size: `${ml} mL`,
      price: `${ml + i}.01`,
    }));
    const before = performance.now();
    expect(refused(() => ask({ needs, packs, inUse: '300 d' })).code).toBe('too-many-ways');
    expect(performance.now() - before).toBeLessThan(5000);
  });
});
