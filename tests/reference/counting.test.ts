import { afterEach, describe, expect, it } from 'vitest';
import { workOut } from '../../src-shared/calls/work-out.ts';
import { type LabelTerms, labelTermsSchema } from '../../src-shared/label/terms.ts';
import { parsePeriod } from '../../src-shared/quantity/period.ts';
import { isoWithOffset } from '../../src-shared/time/zone.ts';
import { laterOfTwo } from '../../src-shared/withdrawal/clearance.ts';
import { decideHolds } from '../../src-shared/withdrawal/holds.ts';

const clear = (lastDose: string, zone: string, period: string, counting: string, more: object = {}) =>
  workOut('clearance', { lastDose, zone, period, counting, ...more });
const at = (...ask: Parameters<typeof clear>) => String(clear(...ask).clearAt);

const processZone = process.env.TZ;
afterEach(() => {
  if (processZone === undefined) delete process.env.TZ;
  else process.env.TZ = processZone;
});

/** Nothing may read the zone of the computer: a farm's book can be opened anywhere. */
for (const tz of ['UTC', 'Pacific/Auckland', 'America/St_Johns', 'Africa/Johannesburg', 'Asia/Tokyo']) {
  describe(`counting on a computer in ${tz}`, () => {
    it('really runs in that zone', () => {
      process.env.TZ = tz;
      expect(new Intl.DateTimeFormat().resolvedOptions().timeZone).toBe(tz);
    });

    const rows: readonly [string, string, string, string, string, string, string][] = [
      // last dose, zone, period, 24-hour, whole days after, later, citation
      [
        '2025-03-01T08:00',
        'Europe/London',
        '7 d',
        '2025-03-08T08:00',
        '2025-03-09T00:00',
        '2025-03-09T00:00',
        'derived',
      ],
      [
        '2025-03-01T17:00',
        'Europe/Helsinki',
        '6 d',
        '2025-03-07T17:00',
        '2025-03-08T00:00',
        '2025-03-08T00:00',
        'Finnish regulator: 6 days → on the 7th day after the last dose (read)',
      ],
      [
        '2025-12-20T07:00',
        'Europe/London',
        '14 d',
        '2026-01-03T07:00',
        '2026-01-04T00:00',
        '2026-01-04T00:00',
        'derived',
      ],
      [
        '2025-03-24T23:30',
        'Europe/London',
        '7 d',
        '2025-04-01T00:30',
        '2025-04-01T00:00',
        '2025-04-01T00:30',
        'the two cross in spring (derived)',
      ],
      [
        '2025-03-24',
        'Europe/London',
        '7 d',
        '2025-04-01T01:00',
        '2025-04-01T00:00',
        '2025-04-01T01:00',
        'date only (derived)',
      ],
    ];
    for (const [lastDose, zone, period, elapsed, whole, later, citation] of rows) {
      it(`${lastDose} + ${period} in ${zone}: ${citation}`, () => {
        process.env.TZ = tz;
        expect(at(lastDose, zone, period, '24-hour').slice(0, 16)).toBe(elapsed);
        expect(at(lastDose, zone, period, 'whole-days').slice(0, 16)).toBe(whole);
        expect(at(lastDose, zone, period, 'later').slice(0, 16)).toBe(later);
      });
    }

    it('a local day without midnight starts at its first instant (Cairo 2025-04-25, Santiago 2025-09-07)', () => {
      process.env.TZ = tz;
      expect(at('2025-04-17T09:00', 'Africa/Cairo', '7 d', 'whole-days')).toBe('2025-04-25T01:00:00+03:00');
      expect(at('2025-08-30T09:00', 'America/Santiago', '7 d', 'whole-days')).toBe(
        '2025-09-07T01:00:00-03:00',
      );
      // Only the date known, the day after it being one without midnight.
      expect(at('2025-04-24', 'Africa/Cairo', '0 d', 'later')).toBe('2025-04-25T01:00:00+03:00');
    });

    it('a local time that does not exist or comes twice is the later', () => {
      process.env.TZ = tz;
      // London 2025-03-30: 01:00 to 02:00 does not exist; 2025-10-26: 01:00 to 02:00 comes twice.
      expect(at('2025-03-30T01:30', 'Europe/London', '1 h', '24-hour')).toBe('2025-03-30T03:30:00+01:00');
      expect(at('2025-10-26T01:30', 'Europe/London', '1 h', '24-hour')).toBe('2025-10-26T02:30:00+00:00');
    });

    it('a period in hours is elapsed time in all three, over a change of clocks', () => {
      process.env.TZ = tz;
      for (const counting of ['24-hour', 'whole-days', 'later']) {
        expect(at('2025-03-29T06:00', 'Europe/London', '48 h', counting)).toBe('2025-03-31T07:00:00+01:00');
      }
    });

    it('zero clears at the dose itself', () => {
      process.env.TZ = tz;
      for (const period of ['0 d', '0 h']) {
        expect(at('2025-06-01T08:15', 'Europe/Dublin', period, 'later')).toBe('2025-06-01T08:15:00+01:00');
      }
    });
  });
}

describe('milkings (CVMP, second-hand)', () => {
  const kept = (period: string, milkingHours: string) =>
    clear('2025-06-01T06:00', 'Europe/London', period, 'later', { milkingHours }).firstMilkingKept;

  it('132 h is the 11th milking at 12 h (read)', () => expect(kept('132 h', '12')).toBe(11));
  it('72 h discards five and keeps the sixth (derived)', () => expect(kept('72 h', '12')).toBe(6));
  it('73 h keeps the seventh, and zero the first', () => {
    expect(kept('73 h', '12')).toBe(7);
    expect(kept('0 h', '12')).toBe(1);
  });
});

describe('the later of two anchors', () => {
  /** "Milk from 36 h after lambing, or 35 d + 36 h after treatment if she lambs sooner" (label wording, read). */
  const milk = (lambed: string) =>
    isoWithOffset(
      laterOfTwo({
        lastDose: '2026-01-01T08:00',
        lambed,
        fromDose: parsePeriod('35 d + 36 h', 'valueFromDose'),
        fromLambing: parsePeriod('36 h', 'value'),
        zone: 'Europe/London',
        counting: 'later',
      }).clearAt,
      'Europe/London',
    );

  it('lambs 20 Jan → clear 6 Feb 20:00 (derived)', () => {
    expect(milk('2026-01-20')).toBe('2026-02-06T20:00:00+00:00');
  });
  it('lambs 20 Feb 10:00 → clear 21 Feb 22:00 (derived)', () => {
    expect(milk('2026-02-20T10:00')).toBe('2026-02-21T22:00:00+00:00');
  });
});

describe('courses', () => {
  const terms: LabelTerms = labelTermsSchema.parse({
    name: 'Test remedy',
    form: 'injection',
    kind: 'volume',
    purpose: 'antibiotic',
    doseLines: [{ id: 'a', route: 'intramuscular', rate: { style: 'rate', text: '1 mL per 10 kg' } }],
    periods: [
      { produce: 'meat', says: 'value', value: '4 d' },
      { produce: 'milk', says: 'value', value: '48 h' },
    ],
  });
  const given = {
    class: 'ewe',
    route: 'intramuscular',
    doseLine: 'a',
    milking: true,
    zone: 'Europe/Amsterdam',
    counting: 'later',
  } as const;

  it('five daily doses from Monday 2026-06-01, 4 d → 2026-06-10 00:00 from the first entry on (derived)', () => {
    const holds = decideHolds(terms, {
      ...given,
      happened: '2026-06-01T08:00',
      plannedLast: '2026-06-05T08:00',
    });
    expect(isoWithOffset(holds[0]?.until ?? fail(), given.zone)).toBe('2026-06-10T00:00:00+02:00');
  });

  it('five daily doses and 48 h: barred until 48 h after the fifth (Dutch organic control body, read)', () => {
    const holds = decideHolds(terms, {
      ...given,
      happened: '2026-06-01T08:00',
      plannedLast: '2026-06-05T08:00',
    });
    expect(isoWithOffset(holds[1]?.until ?? fail(), given.zone)).toBe('2026-06-07T08:00:00+02:00');
  });

  it('procaine benzylpenicillin: meat 8 d, milk 48 h after the last dose (21 CFR 522.1696b, read)', () => {
    expect(at('2025-06-01T08:00', 'America/Chicago', '8 d', '24-hour')).toBe('2025-06-09T08:00:00-05:00');
    expect(at('2025-06-01T08:00', 'America/Chicago', '48 h', '24-hour')).toBe('2025-06-03T08:00:00-05:00');
  });
});

function fail(): never {
  throw new Error('There is no until.');
}
