import { describe, expect, it } from 'vitest';
import { workOut } from '../../src-shared/calls/work-out.ts';
import { type FlowAsk, flowThrough, HAND_LIMIT_N } from '../../src-shared/needle/flow.ts';
import { FRICTION_N, forceRange, HUB_LENGTH_MM, MODEL_BAND } from '../../src-shared/needle/force-range.ts';
import { DEAD_SPACE, leftBehind } from '../../src-shared/needle/hubs.ts';
import { type Gauge, LENGTHS, nominalBore, STANDARD, standardBore } from '../../src-shared/needle/tubing.ts';
import { THICKENING, waterAndGlycerol, waterViscosity } from '../../src-shared/needle/viscosity.ts';
import { type Fraction, parseDecimal, subtract } from '../../src-shared/quantity/fraction.ts';

const exact = (text: string) => parseDecimal(text, 'value');
const plain = (value: Fraction) => Number(value.n) / Number(value.d);
const flow = (ask: Record<string, string>) => workOut('flow', ask);
/** Within so many hundredths of the published value. */
const near = (value: number, published: number, percent: number) =>
  expect(Math.abs(value / published - 1), `${value} against ${published}`).toBeLessThanOrEqual(percent / 100);

describe('resistance of a needle', () => {
  const of = (boreMm: string, lengthMm: string) =>
    Number(
      flow({ viscosityMpaS: '1', boreMm, lengthMm, barrelMm: '10', flowMlPerS: '0.01' }).resistancePaSPerM3,
    );
  it('1 mPa·s, 0.26 mm, 35 mm: 0.31 × 10¹² Pa·s/m³ (PLOS ONE 0344836, Table 1; second-hand)', () => {
    expect((of('0.26', '35') / 1e12).toFixed(2)).toBe('0.31');
  });
  it('1 mPa·s, 0.071 mm, 2 mm: 3.21 × 10¹² Pa·s/m³ (PLOS ONE 0344836, Table 1; second-hand)', () => {
    expect((of('0.071', '2') / 1e12).toFixed(2)).toBe('3.21');
  });
});

describe('Reynolds number', () => {
  it('0.2 mL/s, 1 g/mL, bore radius 0.109 mm, 0.89 mPa·s: 1312 (Allmendinger 2014, §3.2; read)', () => {
    const answer = flow({
      viscosityMpaS: '0.89',
      boreMm: '0.218',
      lengthMm: '27.1',
      barrelMm: '8.6',
      flowMlPerS: '0.2',
      densityGPerMl: '1',
    });
    expect(Number(answer.reynolds).toFixed(0)).toBe('1312');
    expect(answer.laminar).toBe(true);
  });

  it('20 mL in 20 s of water through 0.2 mm × 40 mm: 6342, and no laminar answer (derived; limit 2300 of Allmendinger 2014, Verwulgen 2018, Zhang 2018, read)', () => {
    const answer = flow({
      viscosityMpaS: '1.002',
      boreMm: '0.2',
      lengthMm: '40',
      barrelMm: '10',
      flowMlPerS: '1',
      densityGPerMl: '0.9982',
    });
    expect(Number(answer.reynolds).toFixed(0)).toBe('6342');
    expect(answer.laminar).toBe(false);
    expect(Object.keys(answer)).not.toContain('pressureKpa');
    expect(Object.keys(answer)).not.toContain('forceN');
  });
});

describe('twelve measured forces: Allmendinger 2014, Fig. 3A (digitised by others, ±5–15 %)', () => {
  // Barrel radius 4.3 mm, needle 0.217 mm × 27.1 mm. The authors fitted the bore to such runs, so that the check is
  // partly circular; it does hold formula, units and the place of each diameter.
  const FLOWS = ['0.05', '0.1', '0.2'] as const;
  const FRICTION = ['1.62', '3.60', '6.73'] as const;
  const MEASURED: Readonly<Record<string, readonly [number, number, number]>> = {
    '5': [12, 22, 30],
    '10.5': [18, 40, 65],
    '20': [30, 55, 100],
    '48': [75, 125, 255],
  };
  const runs = Object.entries(MEASURED).flatMap(([viscosity, forces]) =>
    forces.map((measured, n) => ({
      viscosity,
      speed: FLOWS[n] ?? '',
      friction: FRICTION[n] ?? '',
      measured,
    })),
  );
  /** Worked out ÷ measured, to the two digits the band was published in. */
  const ratioOf = ({ viscosity, speed, friction, measured }: (typeof runs)[number], isSwapped: boolean) => {
    const [boreMm, barrelMm] = isSwapped ? ['8.6', '0.217'] : ['0.217', '8.6'];
    const ask: FlowAsk = {
      viscosityMpaS: exact(viscosity),
      boreMm: exact(boreMm),
      lengthMm: exact('27.1'),
      barrelMm: exact(barrelMm),
      flowMlPerS: exact(speed),
      frictionN: exact(friction),
    };
    const answer = flowThrough(ask);
    if (!answer.laminar) throw new Error('The measured runs were laminar.');
    return Math.round((plain(answer.forceN) / measured) * 100) / 100;
  };
  const isInBand = (ratio: number) => ratio >= 0.74 && ratio <= 1.22;

  it('there are twelve', () => expect(runs.length).toBe(12));
  it.each(runs)('$viscosity mPa·s at $speed mL/s: $measured N, within 0.74 to 1.22', (run) => {
    expect(ratioOf(run, false)).toSatisfy(isInBand);
  });
  it('the band is as narrow as it can be, so that both ends are met', () => {
    const ratios = runs.map((run) => ratioOf(run, false));
    expect([Math.min(...ratios), Math.max(...ratios)]).toEqual([0.74, 1.22]);
  });
  it('with the two diameters swapped not one of the twelve is in the band', () => {
    expect(runs.filter((run) => isInBand(ratioOf(run, true)))).toEqual([]);
  });
  it('Verwulgen 2018, 15 needles × 6 speeds: measured = 0.91 × model (read) lies in the band the range allows', () => {
    expect(0.91).toBeGreaterThan(1 / plain(MODEL_BAND.most));
    expect(0.91).toBeLessThan(1 / plain(MODEL_BAND.least));
  });
});

describe('worked forces (derived): 1 in as labelled, 10 mL syringe 15.9 mm wide, 1 mL/s, smallest regular bore', () => {
  it.each([
    ['20', '16', '2.8'],
    ['20', '18', '10.6'],
    ['20', '20', '41.8'],
    ['150', '16', '21'],
    ['150', '18', '79'],
  ] as const)('%s mPa·s through %sG: %s N', (viscosityMpaS, gauge, newtons) => {
    const bore = standardBore(gauge, 'regular').mm;
    const answer = flow({
      viscosityMpaS,
      boreMm: String(plain(bore)),
      lengthMm: '25.4',
      barrelMm: '15.9',
      flowMlPerS: '1',
    });
    expect(Number(answer.forceN).toFixed(newtons.split('.')[1]?.length ?? 0)).toBe(newtons);
  });

  it.each([
    ['16', 4, 41],
    ['18', 16, 154],
  ] as const)(
    'thick suspension through %sG: about %d to %d N (derived, both ends "about": 15 %%)',
    (gauge, least, most) => {
      const range = forceRange({
        thickness: 'suspension',
        gauge,
        lengthMm: exact('25.4'),
        barrelMm: exact('15.9'),
        mlPerS: exact('1'),
        temperature: 'warm',
      });
      if (!range.laminar) throw new Error('A thick suspension is laminar.');
      // The published range is of the fluid alone; ours has the plunger's friction in it.
      near(plain(subtract(range.forceN.least, FRICTION_N.least)), least, 15);
      near(plain(subtract(range.forceN.most, FRICTION_N.most)), most, 15);
    },
  );

  it('a hand keeps up 30 N (Burckbuchler 2010; second-hand)', () => expect(plain(HAND_LIMIT_N)).toBe(30));
});

describe('tubing', () => {
  it('30G and 32G: 0.133, 0.165, 0.190 and 0.089, 0.105, 0.125 mm (PMC7952281, Table III; second-hand)', () => {
    const of = (gauge: string) => Object.values(STANDARD.get(gauge)?.bore ?? {}).map(plain);
    expect(of('30')).toEqual([0.133, 0.165, 0.19]);
    expect(of('32')).toEqual([0.089, 0.105, 0.125]);
  });

  it.each([
    ['14', 29],
    ['16', 39],
    ['18', 27],
    ['20', 34],
    ['21', 21],
    ['22', 26],
    ['25', 58],
  ] as const)(
    '%sG: the two tables differ by %d %% in force (nominal chart read, ISO 9626:2016 from memory; derived)',
    (gauge: Gauge, percent) => {
      const force = (boreMm: Fraction) => {
        const answer = flowThrough({
          viscosityMpaS: exact('20'),
          boreMm,
          lengthMm: exact('25.4'),
          barrelMm: exact('15.9'),
          flowMlPerS: exact('0.1'),
        });
        if (!answer.laminar) throw new Error('This is laminar.');
        return plain(answer.forceN);
      };
      const nominal = nominalBore(gauge);
      if (nominal === undefined) throw new Error(`The chart has no ${gauge}G.`);
      const more = force(standardBore(gauge, 'regular').mm) / force(nominal.mm) - 1;
      expect(Math.round(more * 100)).toBe(percent);
    },
  );

  it('the hub adds 20 to 39 % of length at 1 in, 39 to 79 % at ½ in (Pharm Res 35:120, read)', () => {
    const more = (inches: string) =>
      [HUB_LENGTH_MM.least, HUB_LENGTH_MM.most].map((hub) =>
        Math.round((plain(hub) / plain(LENGTHS.get(inches) ?? exact('0'))) * 100),
      );
    expect(more('1')).toEqual([20, 39]);
    expect(more('1/2')).toEqual([39, 79]);
  });
});

describe('viscosity', () => {
  it.each([
    [0, 1.792],
    [10, 1.307],
    [20, 1.002],
    [30, 0.797],
    [40, 0.653],
  ])('water at %d °C: %d mPa·s (tables of water, read), within half a hundredth', (celsius, published) => {
    near(waterViscosity(celsius), published, 0.5);
  });

  it.each([
    [0.5, '6.00'],
    [0.6, '10.9'],
    [0.8, '60.9'],
  ])('glycerol %d of the mass at 20 °C: %s mPa·s (Cheng 2008, read)', (share, published) => {
    expect(waterAndGlycerol(share, 20).toFixed(published.split('.')[1]?.length)).toBe(published);
  });

  it('vegetable oils from 20 to 5 °C: 1.6 to 1.9 times thicker (activation energy 21–30 kJ/mol, read; derived)', () => {
    expect(plain(THICKENING.oily.least).toFixed(1)).toBe('1.6');
    expect(plain(THICKENING.oily.most).toFixed(1)).toBe('1.9');
  });
});

describe('dead space', () => {
  it('a needle alone: 0.05 mL at 23G and 21G, 0.07 mL at 18G (read, measured)', () => {
    expect(DEAD_SPACE.needleAlone).toEqual({ '18': 70, '21': 50, '23': 50 });
  });
  it('syringe and hub: 0.066 to 0.068 mL (read, measured)', () => {
    expect(leftBehind(1)).toEqual({ least: 66, most: 68 });
  });
  it('half a 10 mL vial in 50 draws lost 3.3 mL (read; 50 × 0.066)', () => {
    expect(leftBehind(50).least).toBe(3300);
  });
});
