import { describe, expect, it } from 'vitest';
import { workOut } from '../../src-shared/calls/work-out.ts';
import { compare, fraction } from '../../src-shared/quantity/fraction.ts';
import { KG_PER_LB, kilograms, parseWeight } from '../../src-shared/quantity/weight.ts';
import { refused } from '../unit/refused.ts';

const dose = (ask: Record<string, unknown>) => workOut('dose', ask);

/** Published examples of dose arithmetic, each with what its source printed. */
const PUBLISHED: readonly {
  name: string;
  source: string;
  ask: Record<string, unknown>;
  exactMl: string;
  drawMl: string;
}[] = [
  {
    name: '20 kg at 20 mg/kg of 100 mg/mL is 4 mL',
    source: 'international animal-health handbook, ch. 28.10 (read)',
    ask: { weight: '20 kg', rate: '20 mg/kg', strength: '100 mg/mL' },
    exactMl: '4',
    drawMl: '4',
  },
  {
    // Printed 4.6 mL by 1 kg = 2.2 lb; with the exact pound 45.359237 mg and 4.54 mL (derived).
    name: '20 lb at 5 mg/kg of 10 mg/mL is 4.5 mL by the exact pound',
    source: 'veterinary medical-maths teaching page (read); exact value derived',
    ask: { weight: '20 lb', rate: '5 mg/kg', strength: '10 mg/mL' },
    exactMl: '4.5359237',
    drawMl: '4.5',
  },
  {
    // As printed: its shortcut of 1 kg = 2.2 lb is 0.2 % off and makes 20 lb 9.09 kg.
    name: '20 lb by its own 2.2 lb a kilogram is 9.0909 kg and 4.545 mL, drawn as 4.5 (printed 4.6)',
    source: 'veterinary medical-maths teaching page (read); it rounds twice, 45.5 mg and then 4.55 to 4.6',
    ask: { weight: '9.090909 kg', rate: '5 mg/kg', strength: '10 mg/mL' },
    exactMl: '4.5454545',
    drawMl: '4.5',
  },
  {
    name: '15 lb at 1 mg/kg of a 1 % solution is 0.68 mL',
    source: 'veterinary medical-maths teaching page (read)',
    ask: { weight: '15 lb', rate: '1 mg/kg', strength: '1 %' },
    exactMl: '0.680388555',
    drawMl: '0.68',
  },
  ...(
    [
      ['50 kg', '1'],
      ['20 kg', '0.4'],
      ['30 kg', '0.6'],
      ['40 kg', '0.8'],
    ] as const
  ).map(([weight, ml]) => ({
    name: `${weight} at 0.2 mg/kg of a 1 % solution is ${ml} mL`,
    source: 'small-ruminant dosing page (read)',
    ask: { weight, rate: '0.2 mg/kg', strength: '1 %' },
    exactMl: ml,
    drawMl: ml,
  })),
  {
    name: '1.5 kg at 10 mg/kg of 30 mg/mL is 0.5 mL',
    source: 'animal-care dose page (read)',
    ask: { weight: '1.5 kg', rate: '10 mg/kg', strength: '30 mg/mL' },
    exactMl: '0.5',
    drawMl: '0.5',
  },
  {
    name: '10,000 units from 40,000 units in each mL is 0.25 mL',
    source: 'nursing dosage-calculation chapter (read)',
    ask: { rate: '10000 units per head', strength: '40000 IU/mL' },
    exactMl: '0.25',
    drawMl: '0.25',
  },
  {
    name: '60 mg from 100 mg in 2.1 mL is 1.26, drawn as 1.3 mL',
    source: 'nursing rounding notes, tenths, 3 mL syringe (read)',
    ask: {
      rate: '60 mg per head',
      strength: '100 mg in 2.1 mL',
      syringe: { capacity: '3 mL', graduation: '0.1 mL' },
    },
    exactMl: '1.26',
    drawMl: '1.3',
  },
  {
    name: '25 mg from 60 mg in each mL is 0.4167, drawn as 0.42 mL',
    source: 'nursing rounding notes, hundredths, 1 mL syringe (read)',
    ask: {
      rate: '25 mg per head',
      strength: '60 mg/mL',
      syringe: { capacity: '1 mL', graduation: '0.01 mL' },
    },
    exactMl: '0.416666667',
    drawMl: '0.42',
  },
  ...(
    [
      ['60 mg per head', '15 mg/mL', '4'],
      ['0.6 g per head', '400 mg in 2 mL', '3'],
      ['45 mg per head', '50 mg in 2 mL', '1.8'],
    ] as const
  ).map(([rate, strength, ml]) => ({
    name: `${rate} of ${strength} is ${ml} mL`,
    source: 'polytechnic nursing worksheet (read)',
    ask: { rate, strength },
    exactMl: ml,
    drawMl: ml,
  })),
  {
    name: '3,000 units/lb of 300,000 units/mL in 100 lb is 1 mL',
    source: '21 CFR 522.1696b: 1 mL per 100 lb (read)',
    ask: { weight: '100 lb', rate: '3000 IU/lb', strength: '300000 IU/mL' },
    exactMl: '1',
    drawMl: '1',
  },
  {
    // 52 g of a powder in 943 mL is printed as 49.6 mg/mL of the substance.
    name: '50 kg at 8 mg/kg of 49.6 mg/mL is 8.06 mL',
    source: 'levamisole powder made up on the farm (read)',
    ask: { weight: '50 kg', rate: '8 mg/kg', strength: '49.6 mg/mL', syringe: hundredths() },
    exactMl: '8.06451613',
    drawMl: '8.06',
  },
  {
    name: '50 kg at 8 mg/kg of 24.8 mg/mL is 16.13 mL',
    source: 'levamisole powder in twice the water (read)',
    ask: { weight: '50 kg', rate: '8 mg/kg', strength: '24.8 mg/mL', syringe: hundredths() },
    exactMl: '16.1290323',
    drawMl: '16.13',
  },
];

function hundredths() {
  return { capacity: '20 mL', graduation: '0.01 mL' };
}

describe('published dose arithmetic', () => {
  for (const { name, source, ask, exactMl, drawMl } of PUBLISHED) {
    it(`${name} (${source})`, () => {
      const answer = dose(ask);
      expect(answer.exactMl).toBe(exactMl);
      expect(answer.drawMl).toBe(drawMl);
    });
  }

  it('1 mL per 10 kg of 200 mg/mL delivers 20 mg/kg, at most 10 mL a site (long-acting oxytetracycline label, read)', () => {
    const answer = dose({
      weight: '120 kg',
      rate: '1 mL per 10 kg',
      strength: '200 mg/mL',
      maxPerSite: '10 mL',
    });
    expect(answer.deliveredPerKg).toBe('20');
    expect(answer.sites).toEqual([{ ml: '6' }, { ml: '6' }]);
  });

  it('milligrams written as micrograms are a thousandfold less (the trap in the small-ruminant page)', () => {
    expect(dose({ weight: '50 kg', rate: '200 µg/kg', strength: '1 %' }).exactMl).toBe('1');
    expect(
      dose({
        weight: '50 kg',
        rate: '0.2 µg/kg',
        strength: '1 %',
        syringe: { capacity: '1 mL', graduation: '0.001 mL' },
      }).exactMl,
    ).toBe('0.001');
    expect(refused(() => dose({ weight: '50 kg', rate: '0.2 µg/kg', strength: '1 %' })).code).toBe(
      'draws-to-zero',
    );
  });
});

describe('two printed statements', () => {
  it('1 mL per 11 lb and 1 mL per 5 kg differ by 0.21 % and agree (21 CFR 520.1454, moxidectin 1 mg/mL, read)', () => {
    const answer = workOut('label-check', {
      rate: '1 mL per 11 lb',
      perVolume: '1 mL per 5 kg',
      strength: '1 mg/mL',
    });
    expect(answer.agree).toBe(true);
    expect(String(answer.differencePercent)).toMatch(/^0\.2(09|10)/);
  });

  it('200 mg/mL and 1 mL per 10 kg are 20 mg/kg (long-acting oxytetracycline label, read)', () => {
    const same = workOut('label-check', {
      rate: '20 mg/kg',
      perVolume: '1 mL per 10 kg',
      strength: '200 mg/mL',
    });
    expect(same).toMatchObject({ agree: true, differencePercent: '0' });
    const other = workOut('label-check', {
      rate: '20 mg/kg',
      perVolume: '1 mL per 5 kg',
      strength: '200 mg/mL',
    });
    expect(other).toMatchObject({ agree: false, differencePercent: '100' });
  });

  it('3,000 IU/lb is no whole number of IU/kg but agrees with 1 mL per 100 lb (21 CFR 522.1696b, read)', () => {
    const answer = workOut('label-check', {
      rate: '3000 IU/lb',
      perVolume: '1 mL per 100 lb',
      strength: '300000 IU/mL',
    });
    expect(answer).toMatchObject({ agree: true, differencePercent: '0' });
  });
});

describe('rounding', () => {
  it('12 kg at 1 mL per 50 kg is 0.24 mL; 0.2 is 17 % short (doses.md, derived)', () => {
    const marks = { capacity: '5 mL', graduation: '0.2 mL' };
    const answer = dose({ weight: '12 kg', rate: '1 mL per 50 kg', syringe: marks });
    expect(answer).toMatchObject({ exactMl: '0.24', drawMl: '0.2', deviationPercent: '-16.6666667' });
    expect(answer.warnings).toMatchObject([{ code: 'finer-syringe' }]);
    expect(dose({ weight: '12 kg', rate: '1 mL per 50 kg', syringe: marks, rounding: 'up' }).drawMl).toBe(
      '0.4',
    );
  });

  it('tenths from 1 mL up and hundredths below (two nursing sources, read)', () => {
    expect(dose({ weight: '62 kg', rate: '0.2 mg/kg', strength: '10 mg/mL' }).drawMl).toBe('1.2');
    expect(dose({ weight: '48 kg', rate: '0.2 mg/kg', strength: '10 mg/mL' }).drawMl).toBe('0.96');
    expect(dose({ weight: '49.9 kg', rate: '0.2 mg/kg', strength: '10 mg/mL' }).drawMl).toBe('1');
    expect(dose({ weight: '50 kg', rate: '1 mL per 50 kg' }).drawMl).toBe('1');
  });

  it('a tie goes up', () => {
    expect(dose({ weight: '62.5 kg', rate: '0.2 mg/kg', strength: '10 mg/mL' }).drawMl).toBe('1.3');
    expect(dose({ weight: '5.25 kg', rate: '0.1 mL per kg' }).drawMl).toBe('0.53');
  });

  it('0.5 and never .5, 30 and never 30.0 (read)', () => {
    expect(dose({ weight: '5 kg', rate: '0.1 mL/kg' }).drawMl).toBe('0.5');
    expect(dose({ weight: '30 kg', rate: '1 mL/kg' }).drawMl).toBe('30');
  });

  it('7 mL at most 5 on marks of 0.2 is 3.6 + 3.4', () => {
    const answer = dose({
      weight: '35 kg',
      rate: '1 mL per 5 kg',
      maxPerSite: '5 mL',
      syringe: { capacity: '5 mL', graduation: '0.2 mL' },
    });
    expect(answer.sites).toEqual([{ ml: '3.6' }, { ml: '3.4' }]);
  });
});

describe('bands', () => {
  const bands = {
    from: '10 kg',
    bands: [
      { upTo: '20 kg', dose: '2 mL' },
      { upTo: '30 kg', dose: '3 mL' },
    ],
  };

  it('a weight in the gap between two bands takes the upper one; none is interpolated', () => {
    expect(dose({ ...bands, weight: '20 kg' }).exactMl).toBe('2');
    expect(dose({ ...bands, weight: '20.4 kg' }).exactMl).toBe('3');
    expect(dose({ ...bands, weight: '30 kg' }).exactMl).toBe('3');
  });

  it('below the first band there is no dose (regulators set floors: not under 10 kg, read)', () => {
    expect(dose({ ...bands, weight: '10 kg' }).exactMl).toBe('2');
    expect(refused(() => dose({ ...bands, weight: '9.99 kg' })).code).toBe('below-first-band');
  });

  it('above the last band there is none, unless the label prints a further step', () => {
    expect(refused(() => dose({ ...bands, weight: '30.1 kg' })).code).toBe('above-last-band');
    const further = { ...bands, furtherStep: { each: '10 kg', dose: '1 mL' } };
    expect(dose({ ...further, weight: '30.1 kg' }).exactMl).toBe('4');
    expect(dose({ ...further, weight: '40 kg' }).exactMl).toBe('4');
    expect(dose({ ...further, weight: '40.1 kg' }).exactMl).toBe('5');
  });

  it('50 lb stays in the band up to 50 lb, though 22,680 g would not (1 lb = 0.45359237 kg exactly)', () => {
    const pounds = {
      bands: [
        { upTo: '50 lb', dose: '1 mL' },
        { upTo: '100 lb', dose: '2 mL' },
      ],
    };
    expect(dose({ ...pounds, weight: '50 lb' }).exactMl).toBe('1');
    expect(dose({ ...pounds, weight: '22.680 kg' }).exactMl).toBe('2');
    expect(compare(kilograms(parseWeight('50 lb', 'weight')), fraction(226_796_185n, 10_000_000n))).toBe(0);
    expect(compare(KG_PER_LB, fraction(45_359_237n, 100_000_000n))).toBe(0);
  });
});
