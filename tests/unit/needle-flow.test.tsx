import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { ForceChart } from '../../src-renderer/drawings/force-chart.tsx';
import { workOut } from '../../src-shared/calls/work-out.ts';
import { forceByGauge, forceRange, printForceWorking } from '../../src-shared/needle/force-range.ts';
import { HUB_COLOURS, leftBehind } from '../../src-shared/needle/hubs.ts';
import {
  boresOf,
  GAUGES,
  nominalBore,
  readGauge,
  STANDARD,
  standardBore,
} from '../../src-shared/needle/tubing.ts';
import { oilThickening, waterAndGlycerol } from '../../src-shared/needle/viscosity.ts';
import { compare, fraction, parseDecimal } from '../../src-shared/quantity/fraction.ts';
import { refused } from './refused.ts';

const exact = (text: string) => parseDecimal(text, 'value');
const ASK = { viscosityMpaS: '20', boreMm: '1.1', lengthMm: '25.4', barrelMm: '15.9', flowMlPerS: '1' };
const flow = (more: Record<string, unknown> = {}) => workOut('flow', { ...ASK, ...more });

describe('the topic flow', () => {
  it('prints plain decimals: exact where they end, else nine digits', () => {
    // 32 × 10 × 25 × 1 × 16² ÷ 0.5⁴ ÷ 10⁶ by hand, and 0.5 N more.
    const answer = flow({
      viscosityMpaS: '10',
      boreMm: '0.5',
      lengthMm: '25',
      barrelMm: '16',
      frictionN: '0.5',
    });
    expect(answer.forceN).toBe('33.268');
    expect(flow()).toMatchObject({ forceN: '2.8069663', reynolds: '57.8745248', pressureKpa: '14.1368636' });
  });
  it('warns above what a hand can keep up, and only above', () => {
    const codes = (forceN: string) => {
      const answer = flow({
        viscosityMpaS: '10',
        boreMm: '0.5',
        lengthMm: '25',
        barrelMm: '16',
        frictionN: '0',
      });
      expect(answer.forceN).toBe('32.768');
      const other = flow({ frictionN: forceN });
      return [answer, other].map((one) => (one.warnings as { code: string }[]).map(({ code }) => code));
    };
    expect(codes('27')).toEqual([['over-hand-limit'], []]);
    expect(codes('27.2')).toEqual([['over-hand-limit'], ['over-hand-limit']]);
  });
  it('tells no pressure and no force when the flow is not laminar, and says so', () => {
    const answer = flow({ viscosityMpaS: '1', boreMm: '0.2' });
    expect(Object.keys(answer).sort()).toEqual([
      'laminar',
      'resistancePaSPerM3',
      'reynolds',
      'warnings',
      'working',
    ]);
    expect(answer).toMatchObject({ laminar: false, warnings: [{ code: 'not-laminar' }] });
    expect((answer.working as { code: string }[]).map(({ code }) => code)).toEqual([
      'reynolds',
      'resistance',
    ]);
  });
  it('takes a density into the Reynolds number only', () => {
    const light = flow({ densityGPerMl: '0.5' });
    expect(light.reynolds).toBe('28.9372624');
    expect(light.forceN).toBe(flow().forceN);
  });
  it.each([
    ['viscosityMpaS', '0'],
    ['viscosityMpaS', undefined],
    ['boreMm', '0'],
    ['boreMm', '-1'],
    ['boreMm', '1,1'],
    ['boreMm', '11'],
    ['lengthMm', 'long'],
    ['lengthMm', '1e2'],
    ['barrelMm', ''],
    ['barrelMm', '0'],
    ['flowMlPerS', '0.0'],
    ['flowMlPerS', '1 mL/s'],
    ['densityGPerMl', '0'],
    ['densityGPerMl', '998'],
    ['frictionN', '-0.1'],
    ['frictionN', null],
    ['lengthMm', ['25.4']],
    ['gauge', '16'],
  ])('refuses %s %j and names it', (field, value) => {
    const refusal = refused(() => flow({ [field]: value }));
    expect(['bad-input', 'bad-number']).toContain(refusal.code);
    expect(refusal.field).toBe(field);
    expect(refusal.message).not.toMatch(/undefined|object|NaN/);
  });
  it('asks whether bore and barrel changed places', () => {
    expect(refused(() => flow({ boreMm: '9', barrelMm: '8' }))).toMatchObject({
      field: 'boreMm',
      next: 'See that bore and barrel did not change places.',
    });
  });
});

describe('tubing', () => {
  it('is wider inside with a thinner wall, narrower with a higher gauge, and always fits its outside', () => {
    let before = exact('9');
    for (const gauge of GAUGES) {
      const { bore, outside } = STANDARD.get(gauge) ?? fail();
      expect(compare(bore.regular, bore.thin)).toBeLessThan(0);
      expect(compare(bore.thin, bore['extra-thin'])).toBeLessThan(0);
      expect(compare(bore['extra-thin'], (outside ?? fail()).least)).toBeLessThan(0);
      expect(compare(bore.regular, before)).toBeLessThan(0);
      before = bore.regular;
    }
  });
  it('keeps the nominal bore between the two it takes for the ends', () => {
    for (const gauge of GAUGES) {
      const nominal = nominalBore(gauge);
      if (nominal === undefined) continue;
      const { narrowest, widest } = boresOf(gauge);
      expect(compare(narrowest.mm, nominal.mm)).toBeLessThanOrEqual(0);
      expect(compare(nominal.mm, widest.mm)).toBeLessThanOrEqual(0);
    }
  });
  it('says which table a bore is from', () => {
    expect(standardBore('18', 'thin')).toMatchObject({
      from: 'ISO 9626:2016, smallest bore, thin wall',
      mark: 'memory',
    });
    expect(nominalBore('18')).toMatchObject({ mark: 'read' });
    expect(nominalBore('17')).toBeUndefined();
  });
  it.each(['18', ' 18 ', '18G', '18 g'])('reads %j', (text) => expect(readGauge(text, 'gauge')).toBe('18'));
  it.each(['', '13', '18.5', 'x', '1800', '30G'])('refuses gauge %j', (text) => {
    expect(refused(() => readGauge(text, 'inStock.0.gauge'))).toMatchObject({
      code: 'unknown-gauge',
      field: 'inStock.0.gauge',
    });
  });
});

describe('hub colours', () => {
  it('can be read on: letters and swatch differ by 4.5 to 1 at least', () => {
    for (const gauge of GAUGES) {
      const { swatch, letters } = HUB_COLOURS[gauge];
      expect(contrast(swatch, letters), gauge).toBeGreaterThanOrEqual(4.5);
    }
  });
  it('are each another word and another shade', () => {
    const all = Object.values(HUB_COLOURS);
    expect(new Set(all.map((one) => one.word)).size).toBe(GAUGES.length);
    expect(new Set(all.map((one) => one.swatch)).size).toBe(GAUGES.length);
  });
  it('and what stays in the hub is counted in whole fillings', () => {
    expect(leftBehind(0)).toEqual({ least: 0, most: 0 });
    expect(() => leftBehind(1.5)).toThrow(RangeError);
    expect(() => leftBehind(-1)).toThrow(RangeError);
  });
});

describe('viscosity', () => {
  it('is told only where the formula was made for', () => {
    for (const [share, celsius] of [
      [-0.1, 20],
      [1.1, 20],
      [0.5, -1],
      [0.5, 101],
      [Number.NaN, 20],
    ] as const) {
      expect(() => waterAndGlycerol(share, celsius)).toThrow(RangeError);
    }
  });
  it('does not change where the temperature does not', () => expect(oilThickening(25, 20, 20)).toBe(1));
});

const range = (more: Partial<Parameters<typeof forceRange>[0]> = {}) =>
  forceRange({
    thickness: 'syrupy',
    gauge: '18',
    lengthMm: exact('25.4'),
    barrelMm: exact('15.9'),
    mlPerS: exact('1'),
    temperature: 'warm',
    ...more,
  });

describe('the range of force', () => {
  it('says what it took: thickness, both tables, the hub, the band', () => {
    const lines = printForceWorking(range({ temperature: 'cold' }).working);
    expect(lines.map(({ code }) => code)).toEqual([
      'needle',
      'thickness-class',
      'cold',
      'bores',
      'hub',
      'fluid',
      'measured-band',
    ]);
    expect(lines.find(({ code }) => code === 'bores')).toMatchObject({
      text: 'The gauge leaves the bore open between 0.79 and 0.91 mm',
      source: expect.stringContaining('ISO 9626:2016'),
    });
    expect(lines.find(({ code }) => code === 'hub')?.text).toBe(
      '25.4 mm labelled, 30.4 to 35.4 mm with the hub',
    );
    expect(lines.map(({ text }) => text).join()).not.toContain('undefined');
  });
  it('says that a suspension does not follow the law, and only of that', () => {
    const codes = (thickness: 'suspension' | 'oily') => range({ thickness }).warnings.map(({ code }) => code);
    expect(codes('suspension')).toEqual(['suspension']);
    expect(codes('oily')).toEqual([]);
  });
  it('has no force where the flow is not laminar somewhere in it', () => {
    const answer = range({ thickness: 'watery', gauge: '25' });
    expect(answer).toMatchObject({ laminar: false, warnings: [{ code: 'not-laminar' }] });
    expect(answer).not.toHaveProperty('forceN');
    // 4 × 1 × 1 ÷ (π × 1 × 0.232), times 1000.
    expect(printForceWorking(answer.working).at(-1)?.text).toContain('up to 5488');
  });
  it('takes a value that was entered, and stands on the right side of 30 N', () => {
    const thin = { least: exact('1'), most: exact('3') };
    const thick = { least: exact('900'), most: exact('900') };
    expect(range({ thickness: thin })).toMatchObject({ hand: 'under', viscosityMpaS: thin });
    expect(range({ thickness: thick })).toMatchObject({ hand: 'over' });
    expect(range({ thickness: 'suspension' })).toMatchObject({ hand: 'may-pass' });
    expect(printForceWorking(range({ thickness: thick }).working)[1]?.text).toBe(
      'As entered, at about 20 °C: 900 mPa·s',
    );
  });
  it('refuses what cannot be meant, by the name of the field', () => {
    const field = (more: Parameters<typeof range>[0]) => refused(() => range(more)).field;
    expect(field({ gauge: '99' })).toBe('gauge');
    expect(field({ lengthMm: fraction(0) })).toBe('lengthMm');
    expect(field({ barrelMm: fraction(-1) })).toBe('barrelMm');
    expect(field({ barrelMm: exact('0.5') })).toBe('boreMm');
    expect(field({ mlPerS: fraction(0) })).toBe('flowMlPerS');
    expect(field({ thickness: { least: exact('3'), most: exact('2') } })).toBe('viscosityMpaS');
    expect(field({ thickness: { least: fraction(0), most: exact('2') } })).toBe('viscosityMpaS');
  });
});

describe('the chart of forces', () => {
  const draw = (thickness: 'watery' | 'suspension', gauges: readonly string[]) =>
    renderToStaticMarkup(
      <ForceChart
        remedy="Calverol"
        conditions="10 mL syringe, 1 in needle, 1 mL each second"
        rows={forceByGauge(
          { thickness, lengthMm: exact('25.4'), barrelMm: exact('15.9'), mlPerS: exact('1') },
          gauges,
        )}
      />,
    );
  it('is a table that says in figures and words what each bar shows, widest needle first', () => {
    const drawn = draw('suspension', ['20', '16']);
    expect(drawn.indexOf('16G')).toBeLessThan(drawn.indexOf('20G'));
    expect(drawn).toMatch(/<strong>5\.3 to 46 N<\/strong>.*may pass 30 N/);
    expect(drawn).toContain('white');
    expect(drawn).toContain('metal hubs have none');
    expect(drawn).toContain('A suspension settles');
    expect(drawn.match(/<svg/g)?.length).toBe(drawn.match(/<svg[^>]*aria-hidden="true"/g)?.length);
  });
  it('prints no more figures than are true', () => {
    const drawn = draw('suspension', ['22']);
    expect(drawn).toContain('270 to 2,500 N');
    expect(drawn).toContain('over 30 N');
  });
  it('points an arrow at what lies wholly beyond, instead of a bar at a wrong figure', () => {
    const drawn = draw('suspension', ['22']);
    expect(drawn).toContain('force-beyond');
    expect(drawn).not.toMatch(/force-(warm|cold)/);
    expect(draw('suspension', ['18'])).not.toContain('force-beyond');
  });
  it('breaks the edge of a bar that runs out of the drawing, and only of that', () => {
    expect(draw('suspension', ['18'])).toContain('draw-gap');
    expect(draw('watery', ['16'])).not.toContain('draw-gap');
  });
  it('draws no bar where no force is known, and says so', () => {
    const drawn = draw('watery', ['25']);
    expect(drawn).toContain('not known: the flow is not smooth');
    expect(drawn).not.toMatch(/force-(warm|cold)/);
    expect(drawn).toContain('push more slowly');
  });
  it('is nothing without a needle', () => expect(draw('watery', [])).toBe(''));
});

/** Contrast by WCAG 2.2. */
function contrast(a: string, b: string): number {
  const light = (hex: string) => {
    const [r = 0, g = 0, bl = 0] = [1, 3, 5]
      .map((at) => Number.parseInt(hex.slice(at, at + 2), 16) / 255)
      .map((value) => (value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * bl;
  };
  const [x, y] = [light(a), light(b)];
  return (Math.max(x, y) + 0.05) / (Math.min(x, y) + 0.05);
}

function fail(): never {
  throw new Error('That row is missing.');
}
