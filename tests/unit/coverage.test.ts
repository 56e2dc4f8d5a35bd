import { describe, expect, test } from 'vitest';
import { coverOn, plannedDose, type VaccineDose } from '../../src-shared/dose/coverage.ts';
import { sayCover, sayPlanned, sayTooEarly } from '../../src-shared/dose/coverage-words.ts';
import { headsHad } from '../../src-shared/flock/heads-had.ts';
import type { DoseLine } from '../../src-shared/label/terms.ts';
import type { Day } from '../../src-shared/time/day.ts';

/** An invented label: two doses 28 days apart (21 to 42), then a booster; 365 days each. */
const START: DoseLine = {
  id: 'start',
  title: 'First course',
  classes: [],
  route: 'subcutaneous',
  rate: { style: 'rate', text: '2 mL per head', of: 0 },
  repeats: {
    doses: 2,
    earliest: '21 d',
    due: '28 d',
    latest: '42 d',
    whenLate: 'Start again with both doses',
  },
  protects: '365 d',
  followedBy: 'booster',
};
const BOOSTER: DoseLine = {
  id: 'booster',
  title: 'Booster',
  classes: [],
  route: 'subcutaneous',
  rate: { style: 'rate', text: '2 mL per head', of: 0 },
  protects: '365 d',
};
const LABEL = [START, BOOSTER];

const day = (text: string) => text as Day;
const dose = (on: string, line = START, more: Partial<VaccineDose> = {}): VaccineDose => ({
  on: day(on),
  line,
  lines: LABEL,
  ...more,
});
const on = (asOf: string, ...doses: VaccineDose[]) => coverOn(doses, day(asOf));

describe('a first course of two doses', () => {
  test('no dose is not started', () => {
    expect(on('2026-03-01')).toEqual({ state: 'not-started', notes: [] });
  });

  test('after the first one the second has its days: 1 March + 21, + 28, + 42', () => {
    // March has 31 days: 1 + 21 = 22 March, 1 + 28 = 29 March, 1 + 42 = 43 - 31 = 12 April.
    const cover = on('2026-03-01', dose('2026-03-01'));
    expect(cover).toMatchObject({
      state: 'part',
      next: {
        doseLine: 'start',
        n: 2,
        of: 2,
        earliest: '2026-03-22',
        due: '2026-03-29',
        latest: '2026-04-12',
      },
    });
    expect(sayCover(cover)).toBe(
      'Part of the course: dose 1 of 2 was given 1 Mar 2026; dose 2 is due 29 Mar 2026, not before 22 Mar 2026 and not after 12 Apr 2026.',
    );
  });

  test('on the last day it is not late; on the day after it is, with the words of the label', () => {
    expect(on('2026-04-12', dose('2026-03-01')).state).toBe('part');
    const late = on('2026-04-13', dose('2026-03-01'));
    expect(late).toMatchObject({
      state: 'late',
      since: '2026-04-13',
      whenLate: 'Start again with both doses',
    });
    expect(sayCover(late)).toContain('When a dose is late, the label says: Start again with both doses.');
  });

  test('a label that does not say what to do then sends to the vet', () => {
    const silent = { ...START, repeats: { doses: 2, due: '28 d', latest: '42 d' } };
    expect(sayCover(on('2026-04-13', dose('2026-03-01', silent)))).toContain(
      'The label does not say what to do when a dose is late: ask the vet.',
    );
  });

  test('without a latest day it is never late', () => {
    const open = { ...START, repeats: { doses: 2, due: '28 d' } };
    expect(on('2027-03-01', dose('2026-03-01', open)).state).toBe('part');
  });

  test.each([
    // Exactly the earliest, the due and the latest day complete it; 365 days from there.
    ['2026-03-22', '2027-03-22'],
    ['2026-03-29', '2027-03-29'],
    ['2026-04-12', '2027-04-12'],
  ])('a second dose on %s completes it and covers to %s', (second, until) => {
    expect(on(second, dose('2026-03-01'), dose(second))).toMatchObject({ state: 'covered', until });
  });

  test('protection counts from the completing dose, not from the first', () => {
    expect(on('2027-03-10', dose('2026-03-01'), dose('2026-03-29')).state).toBe('covered');
  });

  test('a day too early it is no second dose: not known, never covered', () => {
    const cover = on('2026-03-21', dose('2026-03-01'), dose('2026-03-21'));
    expect(cover.state).toBe('unknown');
    expect(sayCover(cover)).toBe(
      'Not known. The dose of 21 Mar 2026 came before 22 Mar 2026, the first day the label allows: whether it counts, ask the vet.',
    );
  });

  test('a day too late it is not known either, and the label is quoted', () => {
    const cover = on('2026-04-13', dose('2026-03-01'), dose('2026-04-13'));
    expect(cover.state).toBe('unknown');
    expect(sayCover(cover)).toContain('came after 12 Apr 2026, the last day by the label.');
    expect(sayCover(cover)).toContain('the label says: Start again with both doses.');
  });

  test('after a late one, another in its time completes the course by every reading', () => {
    // 13 April + 28 = 11 May (April has 30 days: 13 + 28 = 41 - 30).
    const cover = on('2026-05-11', dose('2026-03-01'), dose('2026-04-13'), dose('2026-05-11'));
    expect(cover).toMatchObject({ state: 'covered', until: '2027-05-11', notes: [] });
  });

  test('another course by name begins anew', () => {
    const cover = on(
      '2026-03-25',
      dose('2026-03-01', START, { course: 'a' }),
      dose('2026-03-25', START, { course: 'b' }),
    );
    // 25 March + 28 = 53 - 31 = 22 April.
    expect(cover).toMatchObject({ state: 'part', part: { n: 1 }, next: { due: '2026-04-22' } });
  });

  test('a dose after the day asked about is not there yet', () => {
    expect(on('2026-03-28', dose('2026-03-01'), dose('2026-03-29')).state).toBe('part');
  });
});

describe('the end of a protection', () => {
  test('the last day is in, the next one is lapsed', () => {
    const doses = [dose('2026-03-01'), dose('2026-03-29')];
    expect(on('2027-03-29', ...doses).state).toBe('covered');
    const cover = on('2027-03-30', ...doses);
    expect(cover).toMatchObject({ state: 'lapsed', until: '2027-03-29', since: '2027-03-30' });
    expect(sayCover(cover)).toBe(
      'Lapsed since 30 Mar 2027: it was covered to 29 Mar 2027. The label goes on with “Booster”; whether that is enough now, ask the vet.',
    );
  });

  test('over a leap day 365 days end a day of the month earlier', () => {
    // 28 February 2027 + 365 = 28 February 2028; 1 March 2027 + 365: 2028 has a 29 February, so 29 February 2028.
    expect(on('2027-03-01', dose('2027-02-01'), dose('2027-03-01')).until).toBe('2028-02-29');
    expect(on('2027-02-28', dose('2027-02-01'), dose('2027-02-28')).until).toBe('2028-02-28');
  });

  test('a second dose counted over 29 February', () => {
    // 10 February 2028 + 28: 29 days in that February, so 9 March.
    expect(on('2028-02-10', dose('2028-02-10')).next?.due).toBe('2028-03-09');
  });

  test('a label that does not say how long is not known, never covered', () => {
    const silent = { ...START, protects: undefined };
    const cover = on('2026-03-29', dose('2026-03-01', silent), dose('2026-03-29', silent));
    expect(cover.state).toBe('unknown');
    expect(sayCover(cover)).toContain('the label does not say how long that protects');
  });

  test('hours that are no whole days: a first day is rounded up, a last day and a protection down', () => {
    const hours = {
      ...START,
      repeats: { doses: 2, earliest: '36 h', due: '48 h', latest: '60 h' },
      protects: '100 h',
    };
    // 36 h = 1.5 d, so 2; 60 h = 2.5 d, so 2; 100 h = 4.2 d, so 4.
    expect(on('2026-03-01', dose('2026-03-01', hours)).next).toMatchObject({
      earliest: '2026-03-03',
      due: '2026-03-03',
      latest: '2026-03-03',
    });
    expect(on('2026-03-03', dose('2026-03-01', hours), dose('2026-03-03', hours)).until).toBe('2026-03-07');
  });
});

describe('a booster', () => {
  const course = [dose('2026-03-01'), dose('2026-03-29')];

  test('in time it covers from its own day', () => {
    expect(on('2027-03-29', ...course, dose('2027-03-29', BOOSTER))).toMatchObject({
      state: 'covered',
      until: '2028-03-28', // 2028 is a leap year: 29 March 2027 + 365
      follows: { id: 'booster' },
    });
  });

  test('after the end of the protection it is not known whether it is enough', () => {
    const cover = on('2027-03-30', ...course, dose('2027-03-30', BOOSTER));
    expect(cover.state).toBe('unknown');
    expect(sayCover(cover)).toContain('came after the protection had ended on 29 Mar 2027');
  });

  test('without a first course in the book it is not known, and says to when it would be', () => {
    const cover = on('2027-03-29', dose('2027-03-05', BOOSTER));
    // 2028 is a leap year: 5 March 2027 + 365 = 4 March 2028.
    expect(cover).toMatchObject({ state: 'unknown', mayEnd: '2028-03-04' });
    const again = on('2028-03-01', dose('2027-03-05', BOOSTER), dose('2028-03-01', BOOSTER));
    // No leap day between 1 March 2028 and 1 March 2029.
    expect(again).toMatchObject({ state: 'unknown', mayEnd: '2029-03-01' });
  });

  test('after half a first course it is not known either', () => {
    expect(on('2026-04-01', dose('2026-03-01'), dose('2026-04-01', BOOSTER)).state).toBe('unknown');
  });

  test('where only the booster says how long, it covers', () => {
    const silent = { ...START, protects: undefined };
    const lines = [silent, BOOSTER];
    const had = [dose('2026-03-01', silent, { lines }), dose('2026-03-29', silent, { lines })];
    expect(on('2026-09-01', ...had, dose('2026-09-01', BOOSTER, { lines })).until).toBe('2027-09-01');
  });

  test('a first course begun anew leaves the cover that is there', () => {
    const cover = on('2027-03-10', ...course, dose('2027-03-01'));
    expect(cover).toMatchObject({ state: 'covered', until: '2027-03-29', next: { n: 2, due: '2027-03-29' } });
    // When the old cover has ended, what is left is a part.
    expect(on('2027-03-30', ...course, dose('2027-03-01')).state).toBe('part');
  });
});

test('a dose that was not given as the label says is not known to protect, and a whole course after it is', () => {
  const short = dose('2026-03-29', START, { otherwise: '1 mL given, 2 mL worked out' });
  const cover = on('2026-03-29', dose('2026-03-01'), short);
  expect(cover.state).toBe('unknown');
  expect(sayCover(cover)).toContain('1 mL given, 2 mL worked out');
  // 29 March + 28 = 26 April; + 28 = 24 May.
  expect(on('2026-05-24', dose('2026-03-01'), short, dose('2026-04-26'), dose('2026-05-24')).state).toBe(
    'covered',
  );
});

test('a struck-out dose is not among the doses: the cover is that of the others', () => {
  const all = [dose('2026-03-01'), dose('2026-03-29')];
  expect(on('2026-04-01', ...all).state).toBe('covered');
  expect(on('2026-04-01', ...all.slice(0, 1)).state).toBe('part');
  expect(on('2026-04-01', ...all.slice(1)).next?.due).toBe('2026-04-26'); // 29 March + 28
});

test('a single dose with a protection covers by itself and again', () => {
  const nose = { ...BOOSTER, id: 'nose', protects: '84 d' };
  const lines = [nose];
  // 1 March + 84 = 85 - 31 - 30 = 24 May.
  expect(on('2026-03-01', dose('2026-03-01', nose, { lines })).until).toBe('2026-05-24');
  expect(on('2026-05-25', dose('2026-03-01', nose, { lines })).state).toBe('lapsed');
});

describe('a planned dose', () => {
  const planned = (on: string, line: DoseLine, ...doses: VaccineDose[]) =>
    plannedDose(doses, line, LABEL, day(on));

  test('the day before the earliest is too early and says from when; the earliest is not', () => {
    const early = planned('2026-03-21', START, dose('2026-03-01'));
    expect(sayTooEarly(early)).toBe(
      'dose 2 of 2 may be given from 22 Mar 2026: the one before was on 1 Mar 2026',
    );
    expect(sayTooEarly(planned('2026-03-22', START, dose('2026-03-01')))).toBeUndefined();
  });

  test('the latest day is in time; the day after says what the label says', () => {
    expect(sayPlanned(planned('2026-04-12', START, dose('2026-03-01')))).toEqual({
      text: 'Dose 2 of 2, after 1 Mar 2026',
    });
    expect(sayPlanned(planned('2026-04-13', START, dose('2026-03-01'))).mind).toBe(
      'late, the last day was 12 Apr 2026. When a dose is late, the label says: Start again with both doses.',
    );
  });

  test('a booster says whether the book has its first course', () => {
    expect(planned('2026-03-10', BOOSTER).booster?.firstCourse).toBe('none');
    expect(planned('2026-03-10', BOOSTER, dose('2026-03-01')).booster?.firstCourse).toBe('part');
    const whole = planned('2027-03-10', BOOSTER, dose('2026-03-01'), dose('2026-03-29'));
    expect(whole.booster).toEqual({ firstCourse: 'complete', coveredTo: '2027-03-29' });
  });
});

describe('the heads of a lot', () => {
  test('all dosed: one history', () => {
    expect(
      headsHad([
        { what: 'counted', heads: 40 },
        { what: 'dose', heads: 40, id: 'a' },
      ]),
    ).toEqual([['a']]);
  });

  test('some dosed and nobody knows which: with it and without it', () => {
    expect(
      headsHad([
        { what: 'counted', heads: 40 },
        { what: 'dose', heads: 10, id: 'a' },
      ]),
    ).toEqual([[], ['a']]);
  });

  test('heads that came in later did not have what the others had', () => {
    const had = headsHad([
      { what: 'counted', heads: 40 },
      { what: 'dose', heads: 40, id: 'a' },
      { what: 'in', heads: 5, had: [[]] },
      { what: 'dose', heads: 45, id: 'b' },
    ]);
    expect(had).toEqual([['a', 'b'], ['b']]);
  });

  test('counted up, those that are more had nothing; counted down, nothing changes', () => {
    const dosed = [
      { what: 'counted' as const, heads: 18 },
      { what: 'dose' as const, heads: 18, id: 'a' },
    ];
    expect(headsHad([...dosed, { what: 'counted', heads: 121 }])).toEqual([['a'], []]);
    expect(headsHad([...dosed, { what: 'counted', heads: 17 }])).toEqual([['a']]);
  });

  test('an emptied lot that takes in others has only what those had', () => {
    const had = headsHad([
      { what: 'counted', heads: 5 },
      { what: 'out', heads: 5 },
      { what: 'in', heads: 3, had: [['a']] },
    ]);
    expect(had).toEqual([['a']]);
  });

  test('of very many different histories what they share is kept, and that they differ', () => {
    const some = Array.from({ length: 9 }, (_, n) => ({ what: 'dose' as const, heads: 1, id: `d${n}` }));
    const had = headsHad([{ what: 'counted', heads: 40 }, { what: 'dose', heads: 40, id: 'all' }, ...some]);
    expect(had.length).toBeGreaterThan(1);
    expect(had.every((list) => list.includes('all'))).toBe(true);
    expect(had.some((list) => list.length === 1)).toBe(true);
  });
});
