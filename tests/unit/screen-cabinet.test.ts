import { describe, expect, test } from 'vitest';
import { headOf, shelfRows } from '../../src-renderer/screens/cabinet/shelf-rows.ts';
import {
  backPacks,
  readExpiry,
  readPacks,
  sayContainer,
  sayDifference,
} from '../../src-renderer/screens/cabinet/words.ts';
import { bySupplier, nearEnd, orderLines } from '../../src-renderer/screens/order/lines.ts';
import type { Reply } from '../../src-shared/calls/all.ts';
import { lastDayOfMonth } from '../../src-shared/time/day.ts';
import { refused } from './refused.ts';

type Container = Reply<'cabinet'>['containers'][number];
type Medicine = Reply<'medicines'>['medicines'][number];

const ml = (n: number) => ({ amount: { kind: 'volume' as const, microlitres: n * 1000 }, text: `${n} mL` });
const bottle = (more: Partial<Container> = {}): Container => ({
  container: 'c1',
  label: 'B4-1',
  medicine: 'm1',
  revision: 'r1',
  name: 'Calverol drench',
  batch: 'B4',
  batchId: 'b1',
  expiry: 'Dec 2026',
  received: ml(1000),
  left: ml(740),
  state: 'open',
  useBy: '22 Dec 2026',
  unusableFrom: '2026-12-23',
  supplier: 'Glenside Supplies',
  ...more,
});
const drench = (more: Partial<Medicine> = {}): Medicine => ({
  medicine: 'm1',
  name: 'Calverol drench',
  purpose: 'parasites',
  form: 'drench',
  kind: 'volume',
  state: 'confirmed',
  revision: 'r1',
  routes: ['oral'],
  meat: '28 d',
  milk: 'not stated',
  usable: '740 mL',
  containers: 1,
  prescription: 'general-sale',
  ...more,
});

describe('an expiry as it is printed', () => {
  test.each([
    ['2027-03', '2027-03', '2027-03-31'],
    ['03/2027', '2027-03', '2027-03-31'],
    ['3.2027', '2027-03', '2027-03-31'],
    ['Mar 2027', '2027-03', '2027-03-31'],
    ['February 2028', '2028-02', '2028-02-29'],
    ['2027-03-14', '2027-03-14', '2027-03-14'],
    ['14 Mar 2027', '2027-03-14', '2027-03-14'],
  ])('%s', (typed, printed, lastDay) => {
    expect(readExpiry(typed)).toEqual({ printed, lastDay });
  });
  test.each(['03/04/2027', '04-03-2027'])('%s could be two days and is refused', (typed) => {
    expect(refused(() => readExpiry(typed))).toMatchObject({ code: 'bad-day', field: 'expiry' });
  });
  test.each(['13/2027', '03/27', '31 Feb 2027', 'Mar 27', 'Foo 2027'])('%s is no expiry', (typed) => {
    expect(refused(() => readExpiry(typed)).code).toBe('bad-day');
  });
});

describe('packs as they are written', () => {
  test('a count and a size, several, or one alone', () => {
    expect(readPacks('2 × 500 mL, 1x1 L; 250 mL', {}).map(({ count, size }) => [count, size])).toEqual([
      [2, '500 mL'],
      [1, '1 L'],
      [1, '250 mL'],
    ]);
    expect(backPacks('2 × 500 mL, 1x1 L', {})).toBe('3 containers, 2000 mL in all.');
    expect(backPacks('2 x 10 boluses', { piece: 'bolus' })).toBe('2 containers, 20 boluses in all.');
  });
  test('a size without a unit, none at all and too many are refused', () => {
    expect(refused(() => readPacks('2 × 500', {})).field).toBe('packs');
    expect(refused(() => readPacks(' , ', {})).code).toBe('bad-packs');
    expect(refused(() => readPacks('201 x 5 mL', {})).code).toBe('bad-packs');
    expect(refused(() => readPacks('0 x 5 mL', {})).code).toBe('bad-packs');
  });
  test('mL and g are never added up', () => {
    expect(backPacks('1 × 500 mL, 1 × 500 g', {})).toBeUndefined();
  });
});

describe('a container in words', () => {
  test('how much came, how much is left, until when', () => {
    expect(sayContainer(bottle())).toBe('1 L, 740 mL left, use by 22 Dec 2026');
    expect(sayContainer(bottle({ left: ml(1000), state: 'sealed' }))).toBe('1 L, full, use by 22 Dec 2026');
    expect(sayContainer(bottle({ state: 'disposed', left: ml(0) }))).toBe('1 L, 0 mL left');
  });
  test('a count says the difference, and nothing of another kind', () => {
    expect(sayDifference('725 mL', bottle())).toBe('The book has 740 mL: 15 mL less is there.');
    expect(sayDifference('0.75 L', bottle())).toBe('The book has 740 mL: 10 mL more is there.');
    expect(sayDifference('740 mL', bottle())).toBe('The book has the same: 740 mL.');
    expect(sayDifference('725 g', bottle())).toBeUndefined();
    expect(sayDifference('725', bottle())).toBeUndefined();
  });
});

describe('the shelf', () => {
  const full = (n: number, more: Partial<Container> = {}) =>
    bottle({ container: `f${n}`, label: `B4-${n}`, state: 'sealed', left: ml(1000), ...more });
  const said = (rows: readonly Container[], opened: readonly string[] = []) =>
    shelfRows(rows, new Set(opened)).map(({ all }) => all.map((one) => one.label).join(' '));
  test('three full ones of one batch stand together, two do not, and a begun one never', () => {
    expect(said([bottle(), full(2), full(3), full(4)])).toEqual(['B4-1', 'B4-2 B4-3 B4-4']);
    expect(said([full(2), full(3)])).toEqual(['B4-2', 'B4-3']);
    expect(said([full(2), full(3), full(4, { left: ml(999) })])).toEqual(['B4-2', 'B4-3', 'B4-4']);
  });
  test('another batch, date, size or place is another row', () => {
    for (const more of [
      { batch: 'B5' },
      { unusableFrom: '2027-01-01' },
      { received: ml(500), left: ml(500) },
      { store: 'Shed' },
    ]) {
      expect(said([full(2), full(3), full(4), full(5, more)])).toEqual(['B4-2 B4-3 B4-4', 'B4-5']);
    }
  });
  test('stands under the first work that a container does not last to; what may not be used comes last', () => {
    const ahead = [
      { key: 'session', on: '2027-03-12', title: 'Before the next session (12 Mar 2027)', what: 'Booster' },
      { key: 'lambing', on: '2027-04-01', title: 'Before lambing (from 1 Apr 2027)', what: 'Hill ewes' },
    ] as const;
    const head = (unusableFrom: string, more: Partial<Container> = {}) =>
      headOf(bottle({ unusableFrom, ...more }), [...ahead]);
    // Usable through 11 March, or on the day itself only until ten: of no use for the whole of that day.
    expect(head('2027-03-12').title).toBe('Before the next session (12 Mar 2027): Booster');
    expect(head('2027-03-12T10:00').place).toBe(0);
    expect(head('2027-03-13').title).toBe('Before lambing (from 1 Apr 2027): Hill ewes');
    expect(head('2027-04-02')).toEqual({ place: 2, title: 'Later' });
    expect(head('2030-01-01', { state: 'quarantined' })).toEqual({ place: 3, title: 'Not to be used' });
    expect(head('2027-03-01', { state: 'expired' }).place).toBe(3);
    expect(head('2030-01-01', { state: 'disposed' }).place).toBe(4);
  });
  test('a row that was taken apart stays so', () => {
    expect(said([full(2), full(3), full(4)], ['f2'])).toEqual(['B4-2', 'B4-3', 'B4-4']);
  });
});

describe('what Order says', () => {
  const today = '2026-05-04';
  const lines = (medicine: Medicine, containers: readonly Container[]) =>
    orderLines([medicine], containers, today).map(({ kind, text }) => `${kind}: ${text}`);

  test('near is the end of the next month, also across the year', () => {
    expect(nearEnd('2026-05-04')).toBe('2026-06-30');
    expect(nearEnd('2026-12-31')).toBe(lastDayOfMonth('2027-01'));
  });
  test('stock in order says nothing', () => {
    expect(lines(drench(), [bottle()])).toEqual([]);
  });
  test('expired and open too long must go; what is set aside is left to whoever set it aside', () => {
    expect(
      lines(drench(), [
        bottle({ state: 'expired' }),
        bottle({ container: 'c2', state: 'past-in-use' }),
        bottle({ container: 'c3', state: 'quarantined' }),
        bottle({ container: 'c4', state: 'sealed', left: ml(1000) }),
      ]),
    ).toEqual([
      'dispose: 740 mL of Calverol drench is past its expiry and must go.',
      'dispose: 740 mL of Calverol drench has been open too long and must go.',
    ]);
  });
  test('usable through the last day of the next month is near; a day longer is not', () => {
    const until = (unusableFrom: string) => lines(drench(), [bottle({ unusableFrom, useBy: 'its day' })]);
    expect(until('2026-07-01')).toEqual([
      'use: 740 mL of Calverol drench must be used by its day: use it first.',
    ]);
    expect(until('2026-07-01T10:00')).toEqual([]);
    expect(until('2026-07-02')).toEqual([]);
  });
  test('of several the earliest real date is said, never the end of the time looked ahead', () => {
    const near = (more: Partial<Container>) => bottle({ state: 'sealed', left: ml(100), ...more });
    const two = [
      near({ container: 'c2', label: 'B5-1', unusableFrom: '2026-06-20', useBy: '19 Jun 2026' }),
      near({ unusableFrom: '2026-05-09', useBy: '8 May 2026' }),
    ];
    const [line] = orderLines([drench()], two, today);
    expect(line?.text).toBe('2 containers of Calverol drench must be used soon, the first by 8 May 2026.');
    expect(line?.small).toBe('B4-1: 100 mL, use by 8 May 2026; B5-1: 100 mL, use by 19 Jun 2026.');
    const same = two.map((one) => ({ ...one, unusableFrom: '2026-05-09', useBy: '8 May 2026' }));
    expect(lines(drench(), same)[0]).toBe(
      'use: 2 containers of Calverol drench must be used soon, all by 8 May 2026.',
    );
  });
  test('what to order says what came last time, by the day it came and not by its expiry', () => {
    const low = [
      bottle({
        left: ml(10),
        came: '2026-02-01T10:00',
        batchId: 'b2',
        received: ml(500),
        supplier: 'Moor Stores',
      }),
      bottle({ container: 'c2', left: ml(10), came: '2026-02-01T10:00', batchId: 'b2', received: ml(500) }),
      bottle({ container: 'c3', left: ml(0), state: 'empty', came: '2026-01-04', batchId: 'b1' }),
    ];
    const [line] = orderLines([drench({ prescription: 'general-sale' })], low.toReversed(), today);
    expect(line?.small).toBe('Last time 2 × 500 mL came, on 1 Feb 2026. On general sale.');
    expect(line?.supplier).toBe('Moor Stores');
  });
  test('a quarter of a pack is low, a microlitre more is not', () => {
    const left = (microlitres: number) =>
      lines(drench({ usable: 'that' }), [
        bottle({ left: { amount: { kind: 'volume', microlitres }, text: 'that' } }),
      ]);
    expect(left(250_000)).toEqual(['order: Only that of Calverol drench is left.']);
    expect(left(250_001)).toEqual([]);
  });
  test('nothing left is said of what was given within a year, and of nothing else', () => {
    const gone = [bottle({ state: 'empty', left: ml(0) })];
    const given = (lastGiven?: string) =>
      lines(drench(lastGiven === undefined ? {} : { lastGiven }), gone).length;
    expect(given('2025-05-04T08:00')).toBe(1);
    expect(given('2025-05-03')).toBe(0);
    expect(given()).toBe(0);
  });
  test('what needs a vet, or nobody wrote down who may supply, is never under what is ordered', () => {
    const low = [bottle({ left: ml(10) })];
    const kindOf = (prescription: Medicine['prescription']) =>
      orderLines([drench({ prescription })], low, today)[0]?.kind;
    expect(kindOf('vet-only')).toBe('vet');
    expect(kindOf('vet-prescription')).toBe('vet');
    expect(kindOf('not-stated')).toBe('vet');
    expect(kindOf('qualified-person')).toBe('order');
    expect(kindOf('general-sale')).toBe('order');
  });
  test('by supplier, by name, the unknown last', () => {
    const of = (supplier: string) => ({
      key: supplier,
      kind: 'order' as const,
      medicine: 'm',
      name: 'n',
      text: 't',
      small: '',
      supplier,
    });
    expect(
      bySupplier([of(''), of('Moor Stores'), of('Glenside'), of('')]).map(([name, all]) => [
        name,
        all.length,
      ]),
    ).toEqual([
      ['Glenside', 1],
      ['Moor Stores', 1],
      ['', 2],
    ]);
  });
});
