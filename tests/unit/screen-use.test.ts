import { describe, expect, it } from 'vitest';
import {
  isNothing,
  needWords,
  typedHeads,
  usedYears,
  yearTitle,
} from '../../src-renderer/screens/use/use-rows.ts';
import type { Reply } from '../../src-shared/calls/all.ts';
import { useBars } from '../../src-shared/record/use-bars.ts';

type Year = Reply<'use'>['years'][number];

const year = (more: Partial<Year> = {}): Year => ({
  year: 2026,
  to: '2026-03-01',
  isRunning: true,
  antimicrobials: [
    { group: 'penicillins', name: 'Penicillins', mg: '800', text: '800 mg', mgPerKg: '2', mgPerPcu: '1' },
  ],
  total: { mg: '800', text: '800 mg', mgPerKg: '2', mgPerPcu: '1' },
  doses: 1,
  missing: [],
  weight: { ownKg: '400', ownText: [], pcuKg: '800', living: 10, slaughtered: 0, standardText: [] },
  parasites: [],
  vaccines: [],
  working: [],
  ...more,
});

describe('the chart of what was used', () => {
  it('has a bar for each year and one for each of its groups, with the figures as they are printed', () => {
    expect(usedYears([year()])).toMatchObject([
      {
        title: '2026, to 1 Mar 2026',
        total: { text: '800 mg', mgPerKg: '2' },
        groups: [{ key: 'penicillins', name: 'Penicillins', mgPerPcu: '1' }],
        isPart: false,
      },
    ]);
    expect(yearTitle({ year: 2025, to: '2025-12-31', isRunning: false })).toBe('2025');
  });

  it('says that more was used where something could not be counted in', () => {
    expect(usedYears([year({ missing: ['No strength.'] })])[0]?.isPart).toBe(true);
  });

  it('draws by the farm’s own weights only when every year has them', () => {
    const { mgPerKg: _, ...total } = year().total;
    expect(useBars([year().total]).figure).toBe('mgPerKg');
    expect(useBars([year().total, total]).figure).toBe('mgPerPcu');
  });

  it('draws all years to one length', () => {
    const half = { mgPerKg: '1', mgPerPcu: '3' };
    const { share } = useBars([year().total, half]);
    expect([share(year().total), share(half), share({})]).toEqual([1, 0.5, 0]);
    expect(useBars([{ mgPerKg: '0' }]).share({ mgPerKg: '0' })).toBe(0);
  });

  it('a year with only what could not be counted is not empty', () => {
    const empty = { doses: 0, antimicrobials: [] };
    expect(isNothing(year(empty))).toBe(true);
    expect(isNothing(year({ ...empty, missing: ['No strength.'] }))).toBe(false);
  });

  it('says in words what is still to be said', () => {
    expect(needWords(['group', 'iu'])).toBe('say to which group it belongs and how many mg are in one IU.');
  });

  it('reads head numbers, and leaves to the book what is empty', () => {
    const typed = (more: object) => typedHeads({ year: '2026', living: '', slaughtered: '', ...more });
    expect(typed({ living: ' 420 ' }).said).toEqual({ year: 2026, living: 420 });
    expect(typed({ slaughtered: '0' }).said).toEqual({ year: 2026, slaughtered: 0 });
    const bad = typed({ year: '26', living: '4.5', slaughtered: '-1' });
    expect(bad.said).toBeUndefined();
    expect(bad.problems.map(({ field }) => field)).toEqual(['year', 'living', 'slaughtered']);
  });
});
