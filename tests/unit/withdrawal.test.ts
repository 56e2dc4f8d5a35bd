import { describe, expect, it } from 'vitest';
import { type LabelTerms, labelTermsSchema } from '../../src-shared/label/terms.ts';
import { isoWithOffset } from '../../src-shared/time/zone.ts';
import { clearAt } from '../../src-shared/withdrawal/clearance.ts';
import { compareDecisions } from '../../src-shared/withdrawal/compare.ts';
import {
  type Decision,
  decideHolds,
  type Given,
  longestOf,
  settleEvent,
} from '../../src-shared/withdrawal/holds.ts';
import { printClearanceWorking } from '../../src-shared/withdrawal/working.ts';
import { refused } from './refused.ts';

const given: Given = {
  class: 'ewe',
  route: 'subcutaneous',
  doseLine: 'a',
  milking: true,
  happened: '2026-03-02T08:00',
  zone: 'Europe/London',
  counting: 'later',
};

type Row = Record<string, unknown>;
const terms = (...periods: Row[]): LabelTerms =>
  labelTermsSchema.parse({
    name: 'Test injection',
    form: 'injection',
    kind: 'volume',
    purpose: 'antibiotic',
    doseLines: ['a', 'b'].map((id) => ({
      id,
      route: 'subcutaneous',
      rate: { style: 'rate', text: '1 mL per head' },
    })),
    periods,
  });
const meat = (value: string, more: Row = {}): Row => ({ produce: 'meat', says: 'value', value, ...more });

function find(holds: readonly Decision[], produce: string, market = 'domestic'): Decision {
  const found = holds.find((hold) => hold.produce === produce && hold.market === market);
  if (found === undefined) throw new Error(`No decision for ${produce}`);
  return found;
}
const hold = (label: LabelTerms, produce = 'meat', more: Partial<Given> = {}) =>
  find(decideHolds(label, { ...given, ...more }), produce);
const until = (decision: Decision) =>
  decision.until === undefined ? undefined : isoWithOffset(decision.until, given.zone).slice(0, 16);

describe('which row of the label rules', () => {
  it('what is not stated never ends by time', () => {
    for (const label of [terms(), terms({ produce: 'meat', says: 'not-stated' })]) {
      expect(hold(label)).toMatchObject({ state: 'unknown', rule: 'not-stated' });
      expect(hold(label).until).toBeUndefined();
    }
  });

  it('zero ends at the dose itself, and is not the same as not stated', () => {
    expect(until(hold(terms({ produce: 'meat', says: 'zero' })))).toBe('2026-03-02T08:00');
    expect(hold(terms({ produce: 'meat', says: 'zero' }))).toMatchObject({ state: 'until', rule: 'zero' });
    expect(until(hold(terms({ produce: 'meat', says: 'zero' }), 'meat', { happened: '2026-03-02' }))).toBe(
      '2026-03-03T00:00',
    );
  });

  it('a row speaks only of its classes, routes and dose lines', () => {
    const label = terms(
      meat('7 d', { classes: ['lamb'] }),
      meat('14 d', { routes: ['oral'] }),
      meat('21 d', { doseLines: ['b'] }),
    );
    expect(hold(label).state).toBe('unknown');
    expect(hold(label, 'meat', { class: 'lamb' }).period).toBe('7 d');
    expect(hold(label, 'meat', { route: 'oral' }).period).toBe('14 d');
    expect(hold(label, 'meat', { doseLine: 'b' }).period).toBe('21 d');
    expect(hold(label, 'meat', { doseLine: 'b', class: 'lamb' }).period).toBe('21 d');
  });

  it('the most restrictive of the rows that fit', () => {
    const short = meat('7 d');
    const rows: [Row, string][] = [
      [meat('28 d'), 'until'],
      [{ ...meat('1 d'), countedFrom: 'removal' }, 'event'],
      [{ produce: 'meat', says: 'not-stated' }, 'unknown'],
      [{ produce: 'meat', says: 'for-life' }, 'life'],
    ];
    for (const [row, state] of rows) {
      expect(hold(terms(short, row)).state).toBe(state);
      expect(hold(terms(row, short)).state).toBe(state);
    }
    expect(hold(terms(short, meat('28 d'))).period).toBe('28 d');
    // 160 h ends before 7 whole days do, 169 h after 7 days of 24 hours but still before the whole days.
    expect(hold(terms(short, meat('160 h'))).period).toBe('7 d');
    expect(hold(terms(short, meat('200 h'))).period).toBe('200 h');
  });

  it('holds meat and milk always, wool and export only when the label speaks of them', () => {
    expect(decideHolds(terms(), given).map((one) => `${one.produce} ${one.market}`)).toEqual([
      'meat domestic',
      'milk domestic',
    ]);
    const all = terms(
      meat('7 d'),
      meat('60 d', { market: 'export' }),
      { produce: 'wool-harvest', says: 'value', value: '2 weeks' },
      { produce: 'wool-handling', says: 'value', value: '14 d', classes: ['lamb'] },
    );
    const holds = decideHolds(all, given);
    expect(until(find(holds, 'meat'))).toBe('2026-03-10T00:00');
    expect(find(holds, 'meat', 'export').period).toBe('60 d');
    expect(find(holds, 'wool-harvest').period).toBe('14 d');
    // The label speaks of handling wool, but not of this ewe's.
    expect(find(holds, 'wool-handling').state).toBe('unknown');
  });
});

describe('milk', () => {
  const label = terms({ produce: 'milk', says: 'value', value: '72 h' });

  it('of an animal not milking is dormant, its clock kept unseen', () => {
    const dry = hold(label, 'milk', { milking: false });
    expect(dry).toMatchObject({
      state: 'dormant',
      wakes: 'until',
      period: '72 h',
      rule: 'period-not-milking',
    });
    expect(until(dry)).toBe('2026-03-05T08:00');
    expect(until(hold(label, 'milk'))).toBe('2026-03-05T08:00');
    expect(hold(terms(), 'milk', { milking: false })).toMatchObject({ state: 'dormant', wakes: 'unknown' });
  });

  it('of an animal the label is not for is barred with no end', () => {
    const barred = terms({ produce: 'milk', says: 'not-for-this-produce' });
    expect(hold(barred, 'milk')).toMatchObject({ state: 'life', rule: 'not-for-this-produce' });
    expect(hold(barred, 'milk', { milking: false })).toMatchObject({ state: 'dormant', wakes: 'life' });
  });
});

describe('what a period is counted from', () => {
  it('waits for lambing, and then counts from it', () => {
    const label = terms({ produce: 'milk', says: 'value', value: '36 h', countedFrom: 'lambing' });
    const waiting = hold(label, 'milk');
    expect(waiting).toMatchObject({ state: 'event', event: 'lambing', period: '36 h' });
    expect(waiting.until).toBeUndefined();
    const settled = settleEvent(waiting, '2026-04-01T06:00');
    expect(settled.state).toBe('until');
    expect(until(settled)).toBe('2026-04-02T18:00');
    expect(settled).not.toHaveProperty('event');
  });

  it('the later of two anchors, a dormant one staying dormant', () => {
    const label = terms({
      produce: 'milk',
      says: 'value',
      value: '36 h',
      countedFrom: 'later-of-two',
      valueFromDose: '35 d + 36 h',
    });
    const treated = { ...given, happened: '2026-01-01T08:00', milking: false };
    const waiting = find(decideHolds(label, treated), 'milk');
    expect(waiting).toMatchObject({
      state: 'dormant',
      wakes: 'event',
      event: 'lambing',
      periodFromDose: '876 h',
    });
    const soon = settleEvent(waiting, '2026-01-20');
    expect(soon).toMatchObject({ state: 'dormant', wakes: 'until' });
    expect(until(soon)).toBe('2026-02-06T20:00');
    expect(until(settleEvent(waiting, '2026-02-20T10:00'))).toBe('2026-02-21T22:00');
  });

  it('what another row says by time is not forgotten while it waits for an event', () => {
    const label = terms(meat('28 d'), meat('1 d', { countedFrom: 'removal' }));
    for (const rows of [label, { ...label, periods: label.periods.toReversed() }]) {
      const waiting = hold(rows);
      expect(waiting).toMatchObject({ state: 'event', event: 'removal', period: '1 d' });
      // Taken out the next day: the 28 d of the other row govern. Taken out after them: the 1 d from then.
      expect(until(settleEvent(waiting, '2026-03-03'))).toBe('2026-03-31T00:00');
      expect(until(settleEvent(waiting, '2026-04-10T09:00'))).toBe('2026-04-12T00:00');
    }
  });

  it('several rows from one event: the latest end; from two events: no date at all', () => {
    const both = terms(
      { produce: 'milk', says: 'value', value: '48 h', countedFrom: 'lambing' },
      { produce: 'milk', says: 'value', value: '36 h', countedFrom: 'later-of-two', valueFromDose: '35 d' },
    );
    const waiting = hold(both, 'milk');
    expect(waiting).toMatchObject({ state: 'event', period: '48 h', also: [{ period: '36 h' }] });
    expect(until(settleEvent(waiting, '2026-03-04T08:00'))).toBe('2026-04-07T00:00');
    expect(until(settleEvent(waiting, '2026-05-01T08:00'))).toBe('2026-05-03T08:00');
    const two = terms(meat('7 d', { countedFrom: 'removal' }), meat('9 d', { countedFrom: 'lambing' }));
    expect(hold(two)).toMatchObject({ state: 'unknown', rule: 'two-events' });
    expect(hold(two)).not.toHaveProperty('event');
  });

  it('leaves a decision that waits for nothing alone', () => {
    const fixed = hold(terms(meat('7 d')));
    expect(settleEvent(fixed, '2026-04-01')).toBe(fixed);
  });

  it('an open course holds to its planned last dose, never to one before the dose given', () => {
    const label = terms(meat('4 d'));
    expect(until(hold(label, 'meat', { plannedLast: '2026-03-06T08:00' }))).toBe('2026-03-11T00:00');
    expect(until(hold(label, 'meat', { plannedLast: '2026-03-01T08:00' }))).toBe('2026-03-07T00:00');
  });

  it('adds the house margin to what ends by time, zero too, and to nothing else', () => {
    expect(until(hold(terms(meat('7 d')), 'meat', { marginDays: 2 }))).toBe('2026-03-12T00:00');
    expect(until(hold(terms({ produce: 'meat', says: 'zero' }), 'meat', { marginDays: 1 }))).toBe(
      '2026-03-03T08:00',
    );
    expect(hold(terms(), 'meat', { marginDays: 2 })).toEqual(hold(terms()));
  });
});

describe('a dose drawn from boxes of two revisions', () => {
  const holds = (label: LabelTerms) => decideHolds(label, given);

  it('takes the longest for each produce', () => {
    const merged = longestOf([
      holds(terms(meat('28 d'), { produce: 'milk', says: 'zero' })),
      holds(terms(meat('35 d'), { produce: 'milk', says: 'value', value: '72 h' })),
    ]);
    expect(find(merged, 'meat').period).toBe('35 d');
    expect(find(merged, 'milk').period).toBe('72 h');
    const unknown = longestOf([holds(terms(meat('28 d'))), holds(terms())]);
    expect(find(unknown, 'meat').state).toBe('unknown');
  });

  it('a revision without an export row holds export by its domestic one', () => {
    const merged = longestOf([
      holds(terms(meat('7 d'), meat('21 d', { market: 'export' }))),
      holds(terms(meat('35 d'))),
    ]);
    expect(find(merged, 'meat', 'export')).toMatchObject({ market: 'export', period: '35 d' });
    expect(longestOf([])).toEqual([]);
  });

  it('ranks life, unknown, event, time; a dormant hold counts as what it wakes to', () => {
    const life = hold(terms({ produce: 'milk', says: 'for-life' }), 'milk', { milking: false });
    const unknown = hold(terms(), 'milk');
    expect(compareDecisions(life, unknown)).toBeGreaterThan(0);
    expect(compareDecisions(unknown, hold(terms(), 'milk', { milking: false }))).toBeGreaterThan(0);
  });
});

describe('the working', () => {
  it('reads as a person would write it', () => {
    const { working } = clearAt({
      lastDose: '2025-03-24T23:30',
      zone: 'Europe/London',
      period: { value: 7, unit: 'd' },
      counting: 'later',
    });
    expect(printClearanceWorking(working).map((line) => line.text)).toEqual([
      '24-hour days: 2025-03-24T23:30:00+00:00 + 7 × 24 h = 2025-04-01T00:30:00+01:00',
      'Whole days after 2025-03-24: 7 d, then clear from the start of 2025-04-01, 2025-04-01T00:00:00+01:00',
      'The later of the two: 2025-04-01T00:30:00+01:00',
    ]);
  });

  it('every step has a sentence, and an unknown code keeps its values', () => {
    const label = terms(
      meat('7 d'),
      { produce: 'milk', says: 'value', value: '1 d', countedFrom: 'lambing' },
      { produce: 'wool-harvest', says: 'for-life' },
      { produce: 'wool-handling', says: 'not-for-this-produce' },
    );
    const all = decideHolds(label, { ...given, plannedLast: '2026-03-05', marginDays: 1 });
    const settled = settleEvent(find(all, 'milk'), '2026-04-01');
    for (const line of printClearanceWorking([...all, settled].flatMap((one) => one.working))) {
      expect(line.text).not.toMatch(/undefined|^[a-z-]+: /);
    }
    expect(printClearanceWorking([{ code: 'older-rule', values: { a: '1', b: '2' } }])).toEqual([
      { code: 'older-rule', text: 'older rule: 1, 2' },
    ]);
    expect(printClearanceWorking([{ code: 'constructor', values: {} }])[0]?.text).toBe('constructor: ');
  });
});

describe('what cannot be counted', () => {
  it('is refused', () => {
    const ask = {
      lastDose: '2026-03-02',
      zone: 'Europe/London',
      period: { value: 7, unit: 'd' },
      counting: 'later',
    } as const;
    expect(refused(() => clearAt({ ...ask, lastDose: '2026-02-30' })).code).toBe('bad-day');
    expect(refused(() => clearAt({ ...ask, zone: 'Nowhere' })).code).toBe('bad-zone');
  });
});
