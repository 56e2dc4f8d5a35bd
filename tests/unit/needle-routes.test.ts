import { describe, expect, test } from 'vitest';
import { FORMS, NEEDLE_ROUTES, ROUTES } from '../../src-shared/label/terms.ts';
import { CHANGES, needlesNeeded, printNeedlesWorking } from '../../src-shared/needle/change.ts';
import { routeGuidance } from '../../src-shared/needle/routes.ts';
import { refused } from './refused.ts';

/** Words that have no place where nothing is injected. */
const NEEDLE_WORDS =
  /\b(needles?|sites?|inject\w*|gauges?|draw(n|s|ing)? back|syringes?|hub|bore|muscles?|veins?|punctures?|stick)\b/i;

describe('other routes', () => {
  test.each(ROUTES.map((route) => [route]))(
    '%s has guidance of its own, without a word of needles if it needs none',
    (route) => {
      for (const form of [undefined, ...FORMS]) {
        const found = routeGuidance(route, form);
        if (route === 'subcutaneous' || route === 'intramuscular') {
          expect(found).toBeUndefined();
          continue;
        }
        expect(found?.usesNeedle).toBe(NEEDLE_ROUTES.includes(route));
        const text = found?.steps.join(' ') ?? '';
        expect(text.length).toBeGreaterThan(40);
        if (!NEEDLE_ROUTES.includes(route)) expect(text).not.toMatch(NEEDLE_WORDS);
      }
    },
  );

  test('the form counts where it asks for another hand', () => {
    expect(routeGuidance('oral', 'bolus')?.steps.join(' ')).toContain('bolus');
    expect(routeGuidance('oral', 'drench')).toEqual(routeGuidance('oral'));
    expect(routeGuidance('intravaginal', 'sponge')?.steps.join(' ')).toContain('string');
    // A spray for the nose is not one for the skin.
    expect(routeGuidance('intranasal', 'spray')).toEqual(routeGuidance('intranasal'));
    expect(routeGuidance('pour-on')?.steps[0]).toContain('shorn');
  });
});

describe('how many needles a session needs', () => {
  test('the strictest by default: one for every animal, one for each bottle, a tenth spare', () => {
    const found = needlesNeeded({ heads: 120, bottles: 3 });
    expect([found.forAnimals, found.forDrawing, found.spares, found.total]).toEqual([120, 3, 13, 136]);
    expect(found.conflict.sides.map(({ says }) => says)).toEqual(['every animal', 'every 10-15', 'every 50']);
    expect(found.always).toMatch(/bent, burred, blunt or dirty/);
    expect(printNeedlesWorking(found.working).map(({ text }) => text)).toEqual([
      '120 heads ÷ 1 for each needle, rounded up = 120',
      '120 for the animals + 3 for drawing off + 13 spare = 136',
    ]);
  });

  test.each([
    [120, 1, 10, 12, 2],
    [121, 1, 10, 13, 2],
    [1, 1, 50, 1, 2],
    [50, 0, 50, 1, 2],
    [51, 0, 50, 2, 2],
    [300, 2, 15, 20, 3],
  ])('%i heads, %i bottles, changed every %i: %i and %i spare', (heads, bottles, every, animals, spares) => {
    const found = needlesNeeded({ heads, bottles, houseEveryHeads: every });
    expect([found.forAnimals, found.spares, found.total]).toEqual([
      animals,
      spares,
      animals + bottles + spares,
    ]);
  });

  test('nobody to treat needs none', () => {
    expect(needlesNeeded({ heads: 0, bottles: 0 }).total).toBe(0);
  });

  test('counts that cannot be and a farm beyond every source are refused', () => {
    const field = (more: object) => refused(() => needlesNeeded({ heads: 10, bottles: 1, ...more })).field;
    expect(field({ heads: 1.5 })).toBe('heads');
    expect(field({ heads: -1 })).toBe('heads');
    expect(field({ bottles: 100_001 })).toBe('bottles');
    expect(field({ houseEveryHeads: 0 })).toBe('houseEveryHeads');
    expect(field({ houseEveryHeads: Math.max(...CHANGES.map(({ heads }) => heads)) + 1 })).toBe(
      'houseEveryHeads',
    );
    expect(field({ punctures: [{ gauge: '16', most: 0 }] })).toBe('punctures.0.most');
  });

  test.each([
    ['16', 15, []],
    ['16', 16, ['too-many-punctures']],
    ['18', 40, []],
    ['18', 41, ['too-many-punctures']],
    ['20', 40, []],
    ['17', 16, ['too-many-punctures']],
    ['14', 1, ['too-many-punctures']],
    [undefined, undefined, ['puncture-limit']],
  ] as const)('a stopper pierced by %sG %s times: %j', (drawGauge, drawsPerBottle, codes) => {
    const found = needlesNeeded({
      heads: 10,
      bottles: 1,
      drawGauge,
      drawsPerBottle,
      punctures: [
        { gauge: '16', most: 15 },
        { gauge: '18', most: 40 },
      ],
    });
    expect(found.warnings.map(({ code }) => code)).toEqual(codes);
    expect(needlesNeeded({ heads: 10, bottles: 1, drawGauge, drawsPerBottle }).warnings).toEqual([]);
  });
});
