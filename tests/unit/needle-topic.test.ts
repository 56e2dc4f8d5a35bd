import { describe, expect, test } from 'vitest';
import { workOut } from '../../src-shared/calls/work-out.ts';
import { refused } from './refused.ts';

const EWE = { route: 'sc', class: 'ewe', weight: '70 kg', flowClass: 'watery', volume: '2 mL' };
const DRAWER = [
  { gauge: '16', lengthIn: '1/2' },
  { gauge: '18', lengthIn: '1' },
  { gauge: '20', lengthIn: '1' },
];
const needle = (more: object = {}) => workOut('needle', { ...EWE, ...more });

describe('the topic needle', () => {
  test('answers in plain data', () => {
    const found = needle({ inStock: DRAWER });
    expect(found).toMatchObject({
      choice: { gauge: '16', lengthIn: '1/2' },
      rules: ['skin-16-18-half', 'skin-ordinary', 'less-deep', 'site-5-ml'],
      perSite: { mostMl: '5', places: 1, sites: [{ ml: '2' }] },
      hub: { word: 'white' },
      warnings: [],
    });
    expect(found.technique).toMatch(/^Lift a fold of skin/);
    expect(found.ranked).toHaveLength(3);
    expect(JSON.parse(JSON.stringify(found))).toEqual(found);
  });

  test('reads sizes as people write them, and a weight in pounds', () => {
    const typed = [
      { gauge: 16, lengthIn: '½' },
      { gauge: '18G', lengthIn: '1 in' },
    ];
    expect(needle({ inStock: typed, weight: '154 lb' }).choice).toEqual({ gauge: '16', lengthIn: '1/2' });
    expect(needle({ label: { gauge: 20, lengthIn: 0.75 } }).choice).toEqual({ gauge: '20', lengthIn: '3/4' });
    expect(needle({ label: { mostLengthMm: 10 } }).choice).toEqual({ gauge: '18', lengthIn: '1/4' });
    expect(needle({ volume: '8 mL', house: { maxPerSite: '10 mL' } }).perSite).toMatchObject({ places: 1 });
  });

  test('a score of condition stands for its word', () => {
    const ewe = { route: 'im', inStock: [{ gauge: '20', lengthIn: '1 1/2' }] };
    for (const condition of ['thin', 1, '2']) {
      expect(refused(() => needle({ ...ewe, condition })).code).toBe('no-needle-suits');
    }
    for (const condition of ['fair', 'fat', 2.5, '5']) {
      expect(needle({ ...ewe, condition }).choice).toEqual({ gauge: '20', lengthIn: '1 1/2' });
    }
    for (const condition of ['lean', 0, 6, '5.5']) {
      expect(refused(() => needle({ ...ewe, condition })).field).toBe('condition');
    }
  });

  test('force explains a thick remedy, and a watery one needs no explaining', () => {
    const lines = (more: object) => (needle(more).working as { code: string }[]).map(({ code }) => code);
    expect(lines({ flowClass: 'suspension' })).toContain('force-explains');
    expect(lines({ flowClass: 'watery' })).not.toContain('force-explains');
  });

  test.each([
    [{ inStock: [{ gauge: '20', lengthIn: '1 1/2' }] }, 'no-needle-suits', 'inStock'],
    [{ inStock: [] }, 'no-needle-suits', 'inStock'],
    [{ inStock: [{ gauge: '13', lengthIn: '1' }] }, 'unknown-gauge', 'inStock.0.gauge'],
    [{ inStock: [{ gauge: '18', lengthIn: '12 mm' }] }, 'unknown-length', 'inStock.0.lengthIn'],
    [{ weight: '70' }, 'weight-unit-missing', 'weight'],
    [{ volume: '0 mL' }, 'bad-volume', 'volume'],
    [{ volume: '2 tablets' }, 'bad-volume', 'volume'],
    [{ route: 'oral' }, 'bad-input', 'route'],
    [{ site: 'rump' }, 'site-not-for-route', 'site'],
    [{ label: { maxPerSite: '5 mg' } }, 'bad-most', 'label.maxPerSite'],
    [{ house: { maxPerSite: '16 mL' } }, 'house-past-sources', 'house.maxPerSite'],
    [{ technique: 'straight' }, 'no-needle-suits', 'technique'],
    [{ color: 'pink' }, 'bad-input', 'color'],
  ])('%j is refused', (more, code, field) => {
    const no = refused(() => needle(more));
    expect([no.code, no.field]).toEqual([code, field]);
  });

  test('bad input is named in words and not as in the code', () => {
    expect(refused(() => needle({ stains: 'yes' })).message).toBe(
      'Stains: it must be true or false, without quotes.',
    );
    const flow = { boreMm: '1', lengthMm: '25', barrelMm: '15', flowMlPerS: '1', viscosityMpaS: '1' };
    const said = (more: object) => refused(() => workOut('flow', { ...flow, ...more })).message;
    expect(said({ viscosityMpaS: '1 mPa·s' })).toMatch(/^Viscosity: /);
    expect(said({ boreMm: '-1' })).toMatch(/^Bore: /);
    expect(said({ flowMlPerS: '1e3' })).toMatch(/^Flow: /);
    expect(said({ densityGPerMl: 'x' })).toMatch(/^Density: /);
    expect(said({ frictionN: 'x' })).toMatch(/^Friction: /);
  });

  test('into muscle it says to draw back, and of a gun that it cannot', () => {
    const says = (more: object) => needle({ route: 'im', ...more }).technique;
    expect(says({})).toContain('Draw back before injecting');
    expect(says({ gun: { drawsBack: true } })).toContain('Draw back before injecting');
    expect(says({ gun: { drawsBack: false } })).toContain('This gun cannot draw back');
    expect(says({ gun: {} })).toContain('Most repeat guns cannot draw back');
  });

  test('a weight that can hardly be is asked about', () => {
    expect(needle({ weight: '700 kg' }).warnings).toMatchObject([{ code: 'weight-unlikely' }]);
  });
});
