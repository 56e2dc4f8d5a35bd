import { describe, expect, it } from 'vitest';
import { workOut } from '../../src-shared/calls/work-out.ts';
import { CHANGES, needlesNeeded } from '../../src-shared/needle/change.ts';
import { eighths, lengthMm } from '../../src-shared/needle/needle.ts';
import { PLACES } from '../../src-shared/needle/places.ts';
import { RULES, rulesOf } from '../../src-shared/needle/rules.ts';
import { SPACINGS } from '../../src-shared/needle/sites.ts';
import { toDecimal } from '../../src-shared/quantity/fraction.ts';

/** Published guidance on needles, row by row against the table of rules. It disagrees, and all of it is kept. */

type Published = readonly [
  source: string,
  widest: string,
  thinnest: string,
  shortest: string,
  longest: string,
];

const SKIN_ADULT: readonly Published[] = [
  ['South Australian guidance', '18', '18', '1/4', '1/4'],
  ['a Wisconsin county guide', '16', '18', '1/2', '3/4'],
  ['Alabama guidance', '20', '20', '3/4', '3/4'],
  ['a small-ruminant manual', '18', '20', '1', '1'],
];
/** A small-ruminant manual for muscle; Dawson 2005, a text on goats, by age. All read. */
const OTHERS: readonly (readonly [id: string, ...Published])[] = [
  ['muscle-18-20-inch', 'a small-ruminant manual', '18', '20', '1', '1 1/2'],
  ['age-under-4-weeks', 'a text on goats, Dawson 2005', '20', '22', '1/2', '1/2'],
  ['age-4-16-weeks', 'a text on goats, Dawson 2005', '20', '20', '5/8', '3/4'],
  ['age-4-6-months', 'a text on goats, Dawson 2005', '20', '20', '1', '1'],
  ['older-18-20-inch', 'a text on goats, Dawson 2005', '18', '20', '1', '1'],
];

const guides = rulesOf(RULES, 'guide').map(({ id, source, gauge, length }) => [
  id,
  source,
  gauge.widest,
  gauge.thinnest,
  length?.shortest,
  length?.longest,
]);

describe('which needle (read)', () => {
  it('under the skin of a grown sheep, four sources that disagree', () => {
    expect(guides.slice(0, 4).map(([, ...rest]) => rest)).toEqual(SKIN_ADULT);
  });
  it.each(OTHERS)('%s (%s)', (...row) => {
    expect(guides).toContainEqual(row);
  });
  it('a thick product, 16–18G (a club guide)', () => {
    expect(guides).toContainEqual(['thick-16-18', 'a club guide', '16', '18', undefined, undefined]);
  });
  it('3/4 in at 45° still reaches 13.5 mm (derived from 19.05 mm)', () => {
    const depth = Number(toDecimal(lengthMm('3/4'))) * Math.SQRT1_2;
    expect(depth.toFixed(1)).toBe('13.5');
    const ask = { route: 'sc', class: 'ewe', weight: '70 kg', flowClass: 'watery', volume: '2 mL' };
    const slant = workOut('needle', { ...ask, technique: 'slant' });
    expect(slant.choice).toEqual({ gauge: '18', lengthIn: '1/4' });
    expect(eighths('1/4')).toBeLessThan(eighths('3/4'));
  });
  it('some labels allow no needle over 15 mm (read): 1/2 in is 12.7 mm, 5/8 in is 15.875', () => {
    const ask = {
      route: 'sc',
      class: 'ewe',
      weight: '70 kg',
      flowClass: 'watery',
      volume: '2 mL',
      label: { mostLengthMm: '15' },
    };
    expect(workOut('needle', { ...ask, inStock: [{ gauge: '18', lengthIn: '1/2' }] }).choice).toBeDefined();
    expect(() => workOut('needle', { ...ask, inStock: [{ gauge: '18', lengthIn: '5/8' }] })).toThrow(
      '15.875 mm',
    );
  });
});

describe('how much, how far apart, how long one needle serves (read)', () => {
  it('most per site: 5 mL a club guide, 10 mL an Australian export handbook, 15 mL a small-ruminant manual', () => {
    const mosts = rulesOf(RULES, 'most').filter(({ from }) => from === 'guidance');
    expect(mosts.map(({ source, microlitres }) => [source, microlitres({})])).toEqual([
      ['a club guide', 5000],
      ['an Australian export handbook', 10_000],
      ['a small-ruminant manual', 15_000],
    ]);
  });
  it('spacing: 1 in Alabama, 3 in Kentucky', () => {
    expect(SPACINGS.map(({ source, inches }) => [source, inches])).toEqual([
      ['Alabama guidance', 1],
      ['Kentucky guidance', 3],
    ]);
  });
  it('change: every animal Alabama, every 10–15 Kentucky, every 50 New Zealand', () => {
    expect(CHANGES.map(({ source, heads }) => [source, heads])).toEqual([
      ['Alabama guidance', 1],
      ['Kentucky guidance', 10],
      ['New Zealand guidance', 50],
    ]);
  });
  it('stoppers: 15 punctures by 16G or 40 by 18G, as some labels say', () => {
    const punctures = [
      { gauge: '16', most: 15 },
      { gauge: '18', most: 40 },
    ] as const;
    const at = (drawGauge: '16' | '18', drawsPerBottle: number) =>
      needlesNeeded({ heads: 1, bottles: 1, punctures, drawGauge, drawsPerBottle }).warnings.length;
    expect([at('16', 15), at('16', 16), at('18', 40), at('18', 41)]).toEqual([0, 1, 0, 1]);
  });
  it('rump: 69 % of injections within 5 cm of the sciatic nerve (Vet Record 182:140, cattle)', () => {
    const rump = PLACES.find(({ site }) => site === 'rump');
    expect(rump?.source).toContain('Vet Record 182:140');
    expect(rump?.avoid.map(({ why }) => why).join(' ')).toMatch(/cattle, 69 % lay within 5 cm/);
  });
});
