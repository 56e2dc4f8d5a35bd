import { afterEach, describe, expect, it } from 'vitest';
import { type LabelTerms, labelTermsSchema } from '../../src-shared/label/terms.ts';
import { isoWithOffset } from '../../src-shared/time/zone.ts';
import { type Decision, decideHolds, type Given, settleEvent } from '../../src-shared/withdrawal/holds.ts';
import { coursesIn12Months, mostCourses, organicByLabel } from '../../src-shared/withdrawal/organic.ts';

/**
 * What is counted from something other than the dose, and the organic clock, against published or derived values
 * of the rule book on withdrawal; the source stands beside each. Every example runs with the farm in one zone and the
 * computer in another.
 */
const processZone = process.env.TZ;
afterEach(() => {
  if (processZone === undefined) delete process.env.TZ;
  else process.env.TZ = processZone;
});

const FARMS = [
  'Europe/London',
  'Pacific/Auckland',
  'America/St_Johns',
  'Africa/Johannesburg',
  'Africa/Cairo',
];
const COMPUTERS = ['Pacific/Auckland', 'America/St_Johns'];
const places = FARMS.flatMap((zone) => [zone, ...COMPUTERS].map((tz) => [zone, tz] as const));

const terms = (periods: object[], purpose = 'antibiotic'): LabelTerms =>
  labelTermsSchema.parse({
    name: 'Test remedy',
    form: 'injection',
    kind: 'volume',
    purpose,
    doseLines: [{ id: 'a', route: 'intramuscular', rate: { style: 'rate', text: '1 mL per 10 kg' } }],
    periods,
  });
const given = (zone: string, happened: string, more: Partial<Given> = {}): Given => ({
  class: 'ewe',
  route: 'intramuscular',
  doseLine: 'a',
  milking: true,
  counting: 'later',
  happened,
  zone,
  ...more,
});
const of = (holds: readonly Decision[], produce: string): Decision => {
  const found = holds.find((hold) => hold.produce === produce);
  if (found === undefined) throw new Error(`no decision for ${produce}`);
  return found;
};
const until = (hold: Decision, zone: string) =>
  hold.until === undefined ? hold.state : isoWithOffset(hold.until, zone).slice(0, 16);

describe.each(places)('a farm in %s, a computer in %s', (zone, tz) => {
  // "Milk from 36 h after lambing, or 35 d + 36 h after treatment if she lambs sooner" (label wording, read).
  const twoAnchors = terms([
    {
      produce: 'milk',
      says: 'value',
      value: '36 h',
      countedFrom: 'later-of-two',
      valueFromDose: '35 d + 36 h',
    },
  ]);
  const milkAfter = (lambed: string) => {
    const waiting = of(decideHolds(twoAnchors, given(zone, '2026-01-01T08:00')), 'milk');
    expect(waiting).toMatchObject({ state: 'event', event: 'lambing' });
    return until(settleEvent(waiting, lambed), zone);
  };

  it('treated 1 Jan 08:00, lambs 20 Jan → 6 Feb 20:00 (derived)', () => {
    process.env.TZ = tz;
    expect(milkAfter('2026-01-20')).toBe('2026-02-06T20:00');
  });

  it('treated 1 Jan 08:00, lambs 20 Feb 10:00 → 21 Feb 22:00 (derived)', () => {
    process.env.TZ = tz;
    expect(milkAfter('2026-02-20T10:00')).toBe('2026-02-21T22:00');
  });

  it('a device taken out: 7 d from then on, whole days after (derived)', () => {
    process.env.TZ = tz;
    const label = terms([{ produce: 'meat', says: 'value', value: '7 d', countedFrom: 'removal' }]);
    const waiting = of(decideHolds(label, given(zone, '2026-01-05T08:00')), 'meat');
    expect(until(settleEvent(waiting, '2026-01-19T17:00'), zone)).toBe('2026-01-27T00:00');
    expect(until(waiting, zone)).toBe('event');
  });

  it('five daily doses from Monday 2026-06-01, 4 d → 2026-06-10 00:00 from the first entry on (derived)', () => {
    process.env.TZ = tz;
    const label = terms([{ produce: 'meat', says: 'value', value: '4 d' }]);
    const course = given(zone, '2026-06-01T08:00', { plannedLast: '2026-06-05T08:00' });
    expect(until(of(decideHolds(label, course), 'meat'), zone)).toBe('2026-06-10T00:00');
  });

  it('organic: twice the period, and 48 h where it is zero (Regulation (EU) 2018/848, second-hand)', () => {
    process.env.TZ = tz;
    const label = terms([
      { produce: 'meat', says: 'value', value: '7 d' },
      { produce: 'milk', says: 'zero' },
    ]);
    const holds = organicByLabel('eu-organic', label, given(zone, '2026-01-05T08:00'));
    expect(until(of(holds, 'meat'), zone)).toBe('2026-01-20T00:00');
    expect(until(of(holds, 'milk'), zone)).toBe('2026-01-07T08:00');
  });

  it('five daily doses, organic 48 h: barred until 48 h after the fifth (Dutch organic control body, read)', () => {
    process.env.TZ = tz;
    const label = terms([{ produce: 'milk', says: 'zero' }]);
    const course = given(zone, '2026-06-01T08:00', { plannedLast: '2026-06-05T08:00' });
    expect(until(of(organicByLabel('eu-organic', label, course), 'milk'), zone)).toBe('2026-06-07T08:00');
  });

  it('organic: a vaccine keeps its own period (second-hand)', () => {
    process.env.TZ = tz;
    const label = terms([{ produce: 'meat', says: 'zero' }], 'vaccine');
    const meat = of(organicByLabel('eu-organic', label, given(zone, '2026-01-05T08:00')), 'meat');
    expect(until(meat, zone)).toBe('2026-01-05T08:00');
  });
});

describe('a course over a change of clocks', () => {
  // Spring: the last of three doses is given after the clocks of London went forward on 29 March 2026 (derived).
  it('holds to the planned last dose by the clock of that day', () => {
    const zone = 'Europe/London';
    const label = terms([
      { produce: 'meat', says: 'value', value: '48 h' },
      { produce: 'milk', says: 'value', value: '2 d' },
    ]);
    const course = given(zone, '2026-03-28T08:00', { plannedLast: '2026-03-30T08:00', counting: '24-hour' });
    expect(until(of(decideHolds(label, course), 'meat'), zone)).toBe('2026-04-01T08:00');
    // Abandoned after the first dose: 48 elapsed hours end an hour later by the wall clock.
    const first = given(zone, '2026-03-28T08:00', { counting: '24-hour' });
    expect(until(of(decideHolds(label, first), 'meat'), zone)).toBe('2026-03-30T09:00');
  });
});

describe('organic rules that are not a period', () => {
  it('no rules, no organic date: export and wool have none either', () => {
    const label = terms([
      { produce: 'meat', says: 'value', value: '7 d', market: 'export' },
      { produce: 'wool-handling', says: 'value', value: '7 d' },
    ]);
    const holds = organicByLabel('eu-organic', label, given('Europe/Dublin', '2026-01-05T08:00'));
    expect(holds.map((hold) => `${hold.produce} ${hold.market}`)).toEqual(['meat domestic', 'milk domestic']);
    // The label states nothing for these, and what is not stated is no zero.
    expect(holds.map((hold) => hold.state)).toEqual(['unknown', 'unknown']);
  });

  it('in the United States an antibiotic ends it outright, anything else has no date (7 CFR 205.238, read)', () => {
    const periods = [{ produce: 'meat', says: 'value', value: '7 d' }];
    const at = given('America/Chicago', '2026-01-05T08:00');
    expect(organicByLabel('us-organic', terms(periods), at).map((hold) => hold.state)).toEqual([
      'life',
      'life',
    ]);
    expect(organicByLabel('us-organic', terms(periods, 'parasites'), at)).toEqual([]);
  });

  it('more than three courses in 12 months, or more than one for an animal living under a year (second-hand)', () => {
    expect([mostCourses(false), mostCourses(true)]).toEqual([3, 1]);
    const yearBefore = (at: string) => `${Number(at.slice(0, 4)) - 1}${at.slice(4)}`;
    const course = (at: string, name?: string, counts = true) => ({
      administration: at,
      course: name,
      at,
      counts,
    });
    const three = [course('2026-01-10'), course('2026-02-10'), course('2026-03-10')];
    const count = (list: ReturnType<typeof course>[], at: string, most = 3) =>
      coursesIn12Months(list, at, most, yearBefore);
    expect(count(three, '2026-03-10')).toEqual({ counted: 3 });
    expect(count([...three, course('2026-04-10')], '2026-04-10')).toEqual({
      counted: 4,
      lostAt: '2026-04-10',
    });
    // A year after the first it counts no longer; several doses of one course are one; what is excepted is none.
    expect(count([...three, course('2027-01-10')], '2027-01-10')).toEqual({ counted: 3 });
    const doses = ['2026-04-10', '2026-04-11', '2026-04-12'].map((at) => course(at, 'k'));
    expect(count(doses, '2026-04-12', 1)).toEqual({ counted: 1 });
    expect(count([...three, course('2026-04-10', undefined, false)], '2026-04-10')).toEqual({ counted: 3 });
    expect(count(three, '2026-03-10', 1).lostAt).toBe('2026-02-10');
  });
});
