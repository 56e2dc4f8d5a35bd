import { describe, expect, test } from 'vitest';
import { CLASSES } from '../../src-shared/label/terms.ts';
import { PLACES, placeOf, placesFor } from '../../src-shared/needle/places.ts';
import { planSites, type SitesAsk } from '../../src-shared/needle/sites.ts';
import { amountOf, baseOf } from '../../src-shared/quantity/amount.ts';
import type { Day } from '../../src-shared/time/day.ts';
import { refused } from './refused.ts';

const day = (text: string) => text as Day;
const ml = (value: number) => amountOf('volume', value * 1000);
const EWE: SitesAsk = {
  route: 'im',
  class: 'ewe',
  weight: { value: '70', unit: 'kg' },
  volume: ml(4),
  last: [],
  today: day('2026-11-28'),
};
const plan = (more: Partial<SitesAsk> = {}) => planSites({ ...EWE, ...more });
const spots = (more: Partial<SitesAsk>) => plan(more).spots.map(({ place, side }) => `${place.site} ${side}`);
const codes = (more: Partial<SitesAsk>) => plan(more).warnings.map(({ code }) => code);

describe('places', () => {
  test('each says how to find it, what to avoid and why, and from where that is', () => {
    for (const place of PLACES) {
      expect(place.landmarks.length).toBeGreaterThan(20);
      expect(place.avoid.length).toBeGreaterThan(0);
      for (const { what, why } of place.avoid) expect(what.length * why.length).toBeGreaterThan(0);
      expect(place.source).not.toBe('');
    }
    const avoided = placesFor('im')
      .flatMap(({ avoid }) => avoid.map(({ what }) => what))
      .join(' ');
    for (const word of ['vertebrae', 'ligament', 'groove', 'sciatic nerve']) expect(avoided).toContain(word);
  });

  test('a place that does not serve the route is refused, and those that do are named', () => {
    const no = refused(() => placeOf('im', 'ribs'));
    expect([no.code, no.field, no.next]).toEqual([
      'site-not-for-route',
      'site',
      'Choose one of neck, rump, hind leg.',
    ]);
  });
});

describe('which place first', () => {
  test('rump and hind leg are first in no sheep, and least of all in thin ewes and lambs', () => {
    for (const one of CLASSES) {
      for (const condition of ['thin', 'fair', 'fat'] as const) {
        const { offered } = plan({ class: one, condition });
        expect(offered.map(({ place, isFirst }) => [place.site, isFirst])).toEqual([
          ['neck', true],
          ['rump', false],
          ['hind-leg', false],
        ]);
      }
    }
    expect(plan({ condition: 'thin' }).offered[1]?.why).toContain('Not in a thin animal');
    expect(plan({ class: 'ram-lamb' }).offered[2]?.why).toContain('Not in a lamb');
    expect(plan().offered[2]?.why).toMatch(/^Only when the vet asks for it.*may kick\.$/);
    expect(plan({ condition: 'thin' }).offered[0]?.why).toContain('little muscle');
  });

  test('a gun that cannot draw back goes away from the vein, and it is said', () => {
    expect(spots({ route: 'sc' })).toEqual(['neck left']);
    expect(spots({ route: 'sc', gun: { drawsBack: true } })).toEqual(['neck left']);
    expect(spots({ route: 'sc', gun: { drawsBack: false } })).toEqual(['elbow left']);
    // Not known counts as cannot.
    expect(spots({ route: 'sc', gun: {} })).toEqual(['elbow left']);
    expect(plan({ route: 'sc', gun: { drawsBack: false } }).offered.map(({ place }) => place.site)).toEqual([
      'elbow',
      'ribs',
      'neck',
    ]);
    expect(codes({ gun: { drawsBack: false } })).toEqual(['cannot-draw-back']);
    expect(plan({ gun: { drawsBack: false } }).drawBack).toContain('This gun cannot draw back');
    expect(plan({ gun: {} }).drawBack).toContain('Most repeat guns cannot draw back');
    expect(plan().drawBack).toContain('Draw back before injecting');
    expect(codes({})).toEqual([]);
    expect(codes({ weight: { value: '15', unit: 'kg' } })).toEqual(['light-for-class']);
  });
});

describe('a repeat rotates', () => {
  test('to the other side, then to the one used longest ago', () => {
    const left = { site: 'neck', side: 'left', on: day('2026-11-26') } as const;
    const right = { site: 'neck', side: 'right', on: day('2026-11-27') } as const;
    expect(spots({})).toEqual(['neck left']);
    expect(spots({ last: [left] })).toEqual(['neck right']);
    expect(spots({ last: [right, left] })).toEqual(['neck left']);
    expect(spots({ last: [left, right] })).toEqual(['neck left']);
    expect(spots({ last: [left, right, { ...left, on: day('2026-11-28') }] })).toEqual(['neck right']);
    expect(spots({ last: [{ site: 'rump', side: 'left', on: day('2026-11-28') }] })).toEqual(['neck left']);
  });

  test('under the skin to another place when both sides of one were used; a side not written counts for both', () => {
    const on = day('2026-11-27');
    expect(spots({ route: 'sc', last: [{ site: 'neck', side: 'both', on }] })).toEqual(['elbow left']);
    expect(spots({ route: 'sc', last: [{ site: 'neck', on }] })).toEqual(['elbow left']);
  });

  test('and says where the last went', () => {
    expect(plan().lastSays).toBe('The book has no earlier place for this animal.');
    const last = [
      { site: 'neck', side: 'right', on: day('2026-11-01') },
      { site: 'hind-leg', side: 'left', on: day('2026-11-16') },
    ] as const;
    expect(plan({ last }).lastSays).toBe(
      'The last went into the hind leg, left side, on 16 Nov 2026, 12 days ago.',
    );
  });
});

describe('how much, and how far apart', () => {
  test('a large dose goes into several places, sides in turn, the sources side by side', () => {
    const found = plan({ volume: ml(12) });
    expect(found.spots.map(({ says }) => says)).toEqual([
      'Muscular middle of the neck, left side: 4 mL.',
      'Muscular middle of the neck, right side: 4 mL.',
      'Muscular middle of the neck, left side: 4 mL.',
    ]);
    expect(found.spacingSays).toBe('Keep places on one side at least 3 in apart.');
    expect(found.conflicts.map(({ topic, sides }) => [topic, sides.map(({ says }) => says)])).toEqual([
      ['per-site', ['5 mL', '10 mL', '15 mL']],
      ['spacing', ['1 in', '3 in']],
    ]);
    expect(plan().conflicts).toEqual([]);
  });

  test('what goes into the places is what is given, whatever the volume', () => {
    for (const microlitres of [1, 333, 4999, 5001, 7777, 12_345, 40_000]) {
      const { spots: all, perSite } = plan({ volume: amountOf('volume', microlitres) });
      expect(all.reduce((sum, { amount }) => sum + baseOf(amount), 0)).toBe(microlitres);
      for (const { amount } of all) expect(baseOf(amount)).toBeLessThanOrEqual(baseOf(perSite.most));
    }
  });

  test('label before farm, and a farm within the sources', () => {
    expect(plan({ volume: ml(8), mostPerSite: ml(10) }).spots.length).toBe(1);
    expect(plan({ volume: ml(8), mostPerSite: ml(2), house: { maxPerSite: ml(10) } }).spots.length).toBe(4);
    expect(plan({ volume: ml(8), house: { maxPerSite: ml(10), spacingIn: 1 } }).spacingIn).toBe(1);
    expect(refused(() => plan({ house: { spacingIn: 0.5 } })).field).toBe('house.spacingIn');
    expect(refused(() => plan({ house: { maxPerSite: ml(16) } })).code).toBe('house-past-sources');
  });

  test('more places than one side holds are pointed out; a lamb has no figure of its own', () => {
    expect(codes({ volume: ml(20) })).toEqual([]);
    expect(codes({ volume: ml(21) })).toEqual(['many-places']);
    expect(plan({ class: 'lamb' }).perSite.says).toContain('No source has a figure for lambs');
    expect(plan({ class: 'lamb', mostPerSite: ml(5) }).perSite.says).not.toContain('No source');
  });
});
