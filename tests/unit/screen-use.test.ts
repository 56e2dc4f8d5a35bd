import { describe, expect, it } from 'vitest';
import { barFigure } from '../../src-renderer/drawings/use-chart.tsx';
import { isNothing, needWords, usedYears, yearTitle } from '../../src-renderer/screens/use/use-rows.ts';
import type { Reply } from '../../src-shared/calls/all.ts';

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
  weight: { ownKg: '400', ownText: [], pcuKg: '800', living: 10, slaughtered: 0 },
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
    expect(barFigure(usedYears([year()]))).toBe('mgPerKg');
    expect(barFigure(usedYears([year(), year({ total })]))).toBe('mgPerPcu');
  });

  it('a year with only what could not be counted is not empty', () => {
    const empty = { doses: 0, antimicrobials: [] };
    expect(isNothing(year(empty))).toBe(true);
    expect(isNothing(year({ ...empty, missing: ['No strength.'] }))).toBe(false);
  });

  it('says in words what is still to be said', () => {
    expect(needWords(['group', 'iu'])).toBe('say to which group it belongs and how many mg are in one IU.');
  });
});
