import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import OutlookChart from '../../src-renderer/drawings/outlook-chart.tsx';
import { type OutlookPoint, outlookDrawn, pointsOf } from '../../src-renderer/drawings/outlook-points.ts';
import {
  linesForToday,
  type OutlookRow,
  outlookLines,
  sayTalk,
  withoutSaid,
} from '../../src-renderer/screens/order/outlook-lines.ts';
import { packsOf, supplyStart } from '../../src-renderer/screens/order/supply-values.ts';
import {
  firstSupplier,
  orderableOf,
  orderLineIn,
  sayPacks,
} from '../../src-renderer/screens/order/write-values.ts';

const day = (on: string, start: number, end: number, more: Partial<OutlookPoint> = {}): OutlookPoint => ({
  day: on,
  start,
  end,
  plannedText: '',
  shortText: '',
  gone: [],
  ...more,
});

/** 200 mL: 100 are used on the second day, 40 die at the end of the third, 60 are short of 80 on the fourth. */
const DAYS = [
  day('2026-05-01', 200, 200),
  day('2026-05-02', 200, 100, { plannedText: '100 mL' }),
  day('2026-05-03', 100, 60, {
    gone: [
      { label: 'A-1', text: '30 mL', why: 'expired' },
      { label: 'A-2', text: '10 mL', why: 'past-in-use' },
    ],
  }),
  day('2026-05-04', 60, 0, { plannedText: '80 mL', shortText: '20 mL' }),
  day('2026-05-05', 0, 0, { shortText: '1 mL' }),
];

describe('the drawing of an outlook', () => {
  const drawn = outlookDrawn(DAYS);

  it('steps down at the end of each day, to scale', () => {
    expect(drawn.corners).toEqual([
      { days: 0, share: 1 },
      { days: 2, share: 1 },
      { days: 2, share: 0.5 },
      { days: 3, share: 0.5 },
      { days: 3, share: 0.3 },
      { days: 4, share: 0.3 },
      { days: 4, share: 0 },
      { days: 5, share: 0 },
    ]);
    expect([drawn.top, drawn.width]).toEqual([200, 5]);
    expect(pointsOf(drawn, 1000, 100)).toBe('0,0 400,0 400,50 600,50 600,70 800,70 800,100 1000,100');
  });

  it('marks work, what ends unused and the first day that is short, and no day after it', () => {
    expect(drawn.marks).toEqual([
      { n: 1, day: '2026-05-02', kind: 'work', text: '100 mL for planned work' },
      {
        n: 2,
        day: '2026-05-03',
        kind: 'gone',
        text: '30 mL in A-1 expires unused; 10 mL in A-2 has been open too long',
      },
      { n: 3, day: '2026-05-04', kind: 'short', text: '20 mL missing' },
    ]);
  });

  it('of nothing at all is flat, and of no days is nothing', () => {
    expect(outlookDrawn([day('2026-05-01', 0, 0)]).corners).toEqual([
      { days: 0, share: 0 },
      { days: 1, share: 0 },
    ]);
    expect(outlookDrawn([])).toEqual({ corners: [], marks: [], top: 0, width: 0 });
  });

  it('says in words whatever it draws', () => {
    const html = renderToStaticMarkup(<OutlookChart name="Calverol drench" days={DAYS} topText="200 mL" />);
    const seen = html
      .replace(/<(span|div|p|svg)[^>]*aria-hidden="true".*?<\/\1>/gs, '')
      .replace(/<[^>]+>/g, '');
    for (const said of [
      'What may be used of Calverol drench, from 1 May 2026 to 5 May 2026',
      '2 May 2026: 100 mL for planned work',
      '3 May 2026: 30 mL in A-1 expires unused; 10 mL in A-2 has been open too long',
      '4 May 2026: 20 mL missing',
    ]) {
      expect(seen).toContain(said);
    }
  });
});

function row(medicine: string, more: Partial<OutlookRow> = {}): OutlookRow {
  return {
    medicine,
    name: `Medicine ${medicine}`,
    prescription: 'general-sale',
    isOfTheVet: false,
    today: '2026-05-01',
    until: '2026-10-30',
    headline: { says: `${medicine} runs out.`, state: 'by', orderBy: '2026-05-20', runOut: '2026-06-01' },
    works: [],
    unused: [],
    unusedCost: [],
    notCounted: [],
    talk: { foreseen: '100 mL' },
    warnings: [],
    ...more,
  };
}

describe('what Order says of the outlook', () => {
  it('is a line with its day, urgent where it has gone by, and nothing of what is on its way or lasts', () => {
    const late = row('b', {
      headline: { says: 'Order now.', state: 'late', orderBy: '2026-04-20', runOut: '2026-05-02' },
    });
    const lines = outlookLines([
      row('a', { noBuy: 'No pack is known.' }),
      late,
      row('c', { headline: { says: '', state: 'ordered' } }),
      row('d', {
        headline: { says: '', state: 'lasts' },
        unused: [{ container: 'x', label: 'X-1', amount: '5 mL', lastDay: '2026-06-01', says: '' }],
        unusedSays: '5 mL go.',
      }),
    ]);
    expect(
      lines.map(({ kind, margin, isUrgent, text, small }) => [kind, margin, isUrgent, text, small]),
    ).toEqual([
      ['order', 'By 20 May 2026', false, 'a runs out.', 'No pack is known.'],
      ['order', 'Order now', true, 'Order now.', ''],
      ['lost', undefined, undefined, '5 mL go.', ''],
    ]);
  });

  it('stands on Today, the first to be seen to at the top, within two weeks; else the next of all', () => {
    const by = (medicine: string, orderBy: string) =>
      row(medicine, { headline: { says: '', state: 'by', orderBy, runOut: '2026-09-01' } });
    const noDay = row('n', { headline: { says: '', state: 'no-day', runOut: '2026-05-10' } });
    const onItsWay = row('o', { headline: { says: '', state: 'ordered', runOut: '2026-05-02' } });
    const lasts = row('l', { headline: { says: '', state: 'lasts' }, unusedSays: '5 mL go.' });
    const said = (...rows: OutlookRow[]) => linesForToday(rows, '2026-05-01').map(({ key }) => key);
    expect(
      said(by('a', '2026-05-15'), by('b', '2026-04-20'), by('c', '2026-05-16'), noDay, onItsWay),
    ).toEqual(['outlook b', 'outlook n', 'outlook a']);
    expect(said(by('d', '2026-07-01'), by('c', '2026-05-16'), lasts)).toEqual(['outlook c']);
    expect(said(lasts, onItsWay)).toEqual([]);
  });

  it('takes the place of what was said of the same medicine without it', () => {
    const rows = [row('a'), row('c', { headline: { says: '', state: 'ordered' } })];
    const plain = (medicine: string, kind: 'order' | 'use') =>
      ({ key: `${kind} ${medicine}`, kind, medicine, name: '', text: '', small: '', supplier: '' }) as const;
    const left = withoutSaid(
      [plain('a', 'order'), plain('a', 'use'), plain('c', 'order'), plain('e', 'order')],
      outlookLines(rows),
      rows,
    );
    expect(left.map(({ key }) => key)).toEqual(['use a', 'order e']);
  });

  it('tells the vet how much, what for and by which paper', () => {
    const talk = {
      foreseen: '120 mL',
      given: { on: '3 Apr 2026', reason: 'Foot rot' },
      prescription: { prescription: 'p', number: 'RX 7', written: '1 Mar 2026', validUntil: '1 Sep 2026' },
    };
    expect(sayTalk({ talk, until: '2026-10-30' })).toBe(
      '120 mL is foreseen to 30 Oct 2026. Last given 3 Apr 2026, for: Foot rot. Last prescription RX 7 of 1 Mar 2026, valid until 1 Sep 2026.',
    );
  });
});

it('an order list begins with what runs out first and its supplier, and never with what a vet decides on', () => {
  const medicine = (id: string, prescription: 'general-sale' | 'vet-prescription') => ({
    medicine: id,
    name: id,
    purpose: 'parasites' as const,
    form: 'drench' as const,
    kind: 'volume' as const,
    state: 'confirmed' as const,
    revision: 'r',
    routes: [],
    meat: '',
    milk: '',
    usable: '10 mL',
    containers: 1,
    prescription,
  });
  const buy = {
    packs: [
      { size: '500 mL', count: 2 },
      { size: '1 L', count: 1 },
    ],
    leftOver: '',
    says: '',
    working: [],
  };
  const ahead = [
    row('a', { supplier: 'Later Ltd', buy }),
    row('b', { supplier: 'First Ltd', buy, headline: { says: '', state: 'no-day', runOut: '2026-05-03' } }),
    row('v', {
      supplier: 'Vet',
      isOfTheVet: true,
      headline: { says: '', state: 'late', runOut: '2026-05-01' },
    }),
  ];
  expect(firstSupplier(ahead)).toBe('First Ltd');
  const rows = orderableOf(
    [medicine('a', 'general-sale'), medicine('b', 'general-sale'), medicine('v', 'vet-prescription')],
    ahead,
    { supplier: 'First Ltd', medicine: undefined },
  );
  expect(rows.map((one) => [one.medicine, sayPacks(one)])).toEqual([
    ['a', ''],
    ['b', '2 × 500 mL, 1 × 1 L'],
  ]);
});

it('the form of a supply begins with what is known, and keeps a row that was left empty in its place', () => {
  const seen = { supplier: 'Glenside', packs: [{ size: '250 mL', price: '9.00 GBP' }] };
  const start = supplyStart({ medicine: 'm', name: 'M', seen });
  expect([start.supplier, start['packs.0.size'], start['packs.0.price'], start.leadDays]).toEqual([
    'Glenside',
    '250 mL',
    '9.00 GBP',
    '',
  ]);
  expect(packsOf({ ...start, 'packs.2.size': '1 L' })).toEqual([
    { size: '250 mL', price: '9.00 GBP' },
    { size: '' },
    { size: '1 L' },
  ]);
});

it('a delivery names the order line it came on, or none', () => {
  expect(orderLineIn('o.1 l.2')).toEqual({ order: 'o.1', line: 'l.2' });
  expect(orderLineIn('')).toBeUndefined();
});
