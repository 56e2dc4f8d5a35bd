import { describe, expect, it } from 'vitest';
import { workOut } from '../../src-shared/calls/work-out.ts';
import { parseTape, tapeWeight } from '../../src-shared/dose/tape.ts';
import {
  fraction,
  multiply,
  parseDecimal,
  subtract,
  toDecimal,
  toPlaces,
} from '../../src-shared/quantity/fraction.ts';
import { KG_PER_LB } from '../../src-shared/quantity/weight.ts';
import { refused } from '../unit/refused.ts';

describe('a group drafted by weight', () => {
  // Derived in doses.md; the cap of double the dose is the Welsh meat promotion board's (read).
  const lambs = ['20 kg', ...Array.from({ length: 13 }, (_, i) => `${38 + i} kg`), '62 kg'];
  const draft = (more: object = {}) =>
    workOut('draft', { weights: lambs, rate: '1 mL per 5 kg', groups: 3, ...more });

  it('fifteen lambs in three parts: 20 | 38–48 | 49–62, 146.8 mL, the worst 26.5 % over (derived)', () => {
    const answer = draft();
    expect(answer.parts).toMatchObject([
      { from: '20 kg', to: '20 kg', count: 1, doseMl: '4', byItself: true, gate: '20 kg' },
      { from: '38 kg', to: '48 kg', count: 11, doseMl: '9.6', byItself: false, gate: '48 kg' },
      { from: '49 kg', to: '62 kg', count: 3, doseMl: '12.4', byItself: false },
    ]);
    expect(answer.totalMl).toBe('146.8');
    expect(answer.worstOverPercent).toBe('26.5306122');
  });

  it('the least-product end is 142.6 mL and overdoses the smallest by 115 % (derived)', () => {
    expect(draft().leastProduct).toMatchObject({ totalMl: '142.6', worstOverPercent: '115' });
    // With a cap that allows it, 5 % more product still buys the smaller overdose.
    expect(draft({ capPercent: '150' })).toMatchObject({ totalMl: '146.8', worstOverPercent: '26.5306122' });
  });

  it('one part gives the smallest 210 % more than its dose, and two hold double the dose as the most (Welsh meat promotion board, read)', () => {
    expect(refused(() => draft({ groups: 1 })).message).toContain('2 parts would hold it');
    expect(draft({ groups: 1, capPercent: '210' })).toMatchObject({
      totalMl: '186',
      worstOverPercent: '210',
    });
  });
});

describe('a sample of those weighed', () => {
  it('10 of 200 at random leaves 95 % that a heavier one was not weighed (doses.md: (N − n)/N)', () => {
    expect(workOut('sample', { heads: 200, weighed: 10, picked: 'random' }).chancePercent).toBe('95');
  });
  it('gives no chance when the biggest were picked by eye (doses.md)', () => {
    expect(workOut('sample', { heads: 200, weighed: 10, picked: 'biggest' })).not.toHaveProperty(
      'chancePercent',
    );
  });
});

describe('weight from a tape', () => {
  it('35, 35 and 30 inches are 122.5 lb, printed 122 (university extension, read)', () => {
    const found = tapeWeight(parseTape('35 in', 'girth'), parseTape('30 in', 'length'));
    // By the exact pound 122.5 lb are 55.565065325 kg.
    expect(toDecimal(found.exactKg)).toBe(toDecimal(multiply(fraction(1225n, 10n), KG_PER_LB)));
    expect(workOut('weight-tape', { girth: '35 in', length: '30 in' })).toMatchObject({
      kg: '55.6',
      estimate: true,
    });
  });

  it('88.9 and 76.2 cm are 55.6 kg (derived: girth² × length ÷ 10,838.2)', () => {
    expect(workOut('weight-tape', { girth: '88.9 cm', length: '76.2 cm' }).kg).toBe('55.6');
    const { exactKg } = tapeWeight(parseTape('88.9 cm', 'girth'), parseTape('76.2 cm', 'length'));
    expect(Number(toDecimal(exactKg))).toBeCloseTo((88.9 * 88.9 * 76.2) / 10_838.2, 3);
  });

  it('is far from the line of growing Pelibuey males, which is one breed’s: 68.31 cm girth are 25.83 kg (Rev Colomb Cienc Pecu 350657, n 415, read)', () => {
    const line = subtract(
      multiply(parseDecimal('0.93', 'slope'), parseDecimal('68.31', 'girth')),
      parseDecimal('37.70', 'intercept'),
    );
    expect(toPlaces(line, 2)).toBe('25.83');
    // A body as long as it is round gives 29.4 kg by the general formula: an estimate, and shown as one.
    expect(workOut('weight-tape', { girth: '68.31 cm', length: '68.31 cm' })).toMatchObject({
      kg: '29.4',
      estimate: true,
    });
  });
});

describe('what a syringe may be off by', () => {
  // Tolerances, scale intervals: ISO 7886-1 from memory; dead space second-hand up to 10 mL.
  it.each([
    ['0.5 mL in 10 mL may be out by 31 % (derived)', '10 mL', '0.5 mL', '0.155', '31', '0.1'],
    [
      '0.5 mL in 1 mL by 5 %: exactly half counts as at or over (derived)',
      '1 mL',
      '0.5 mL',
      '0.025',
      '5',
      '0.07',
    ],
    ['just under half of 1 mL', '1 mL', '0.49 mL', '0.0248', '5.06122449', '0.07'],
    ['2 mL is in the second row', '2 mL', '0.5 mL', '0.04', '8', '0.07'],
    ['just under 2 mL is in the first', '1.9 mL', '1.9 mL', '0.095', '5', '0.07'],
    ['5 mL is in the third row', '5 mL', '2.5 mL', '0.1', '4', '0.075'],
    ['4.9 mL is still in the second', '4.9 mL', '2.45 mL', '0.1225', '5', '0.07'],
    ['20 mL', '20 mL', '5 mL', '0.35', '7', '0.15'],
    ['30 mL', '30 mL', '15 mL', '0.6', '4', '0.17'],
    ['50 mL and beyond', '60 mL', '20 mL', '1.1', '5.5', '0.2'],
  ])('%s', (_name, capacity, volume, errorMl, errorPercent, deadSpaceMl) => {
    expect(workOut('syringe', { capacity, volume })).toMatchObject({ errorMl, errorPercent, deadSpaceMl });
  });
});

describe('a leak', () => {
  it('three drops of 1 mL are 15 % by the convention, 6 to 21 % by the measured range (derived from two read figures)', () => {
    expect(workOut('leak', { dose: '1 mL', drops: 3 })).toMatchObject({
      lostMl: '0.15',
      shortPercent: '15',
      leastPercent: '6',
      mostPercent: '21',
    });
  });
});

describe('made up on the farm', () => {
  // Printed: 52 g of levamisole powder in 943 mL gives 49.6 mg/mL, in twice the water 24.8 (read). That is 46.8 g of
  // the substance, so the powder is 900 mg in each g (derived from the printed strength).
  it.each([
    ['943 mL', '49.6', '8.06'],
    ['1886 mL', '24.8', '16.13'],
  ])('52 g in %s gives %s mg/mL, and 50 kg at 8 mg/kg need %s mL', (water, printed, printedMl) => {
    const made = workOut('made-up', { amount: '52 g', strength: '900 mg/g', water });
    expect(Number(made.perMl).toFixed(1)).toBe(printed);
    const ask = { weight: '50 kg', rate: '8 mg/kg', syringe: { capacity: '20 mL', graduation: '0.01 mL' } };
    // With the strength as it was printed, and with the exact one, which differs in the fourth digit.
    expect(workOut('dose', { ...ask, strength: `${printed} mg/mL` }).drawMl).toBe(printedMl);
    const exact = Number(workOut('dose', { ...ask, strength: made.strength }).exactMl);
    expect(Math.abs(exact / Number(printedMl) - 1)).toBeLessThan(0.001);
  });
});

describe('a dosing gun', () => {
  // No pass mark is published: ±5 % of the mean and a spread under 3 % are practice; three shots at least are read.
  const gun = (more: object) => workOut('gun-check', { setTo: '5 mL', ...more }).verdict;
  it('is right at exactly 5 % off, and off beyond it', () => {
    expect(gun({ shots: 10, total: '52.5 mL' })).toBe('right');
    expect(gun({ shots: 10, total: '47.5 mL' })).toBe('right');
    expect(gun({ shots: 10, total: '52.501 mL' })).toBe('off');
    expect(gun({ shots: 10, total: '47.499 mL' })).toBe('off');
  });
  it('takes the standard deviation of the sample: 4, 5 and 6 mL spread by 1 mL, 20 % of the mean', () => {
    const answer = workOut('gun-check', { setTo: '5 mL', each: ['4 mL', '5 mL', '6 mL'] });
    expect(answer).toMatchObject({ meanMl: '5', spreadPercent: '20', verdict: 'uneven' });
  });
  it('prints a spread that no digits write exactly in nine of them: √(1/150) of 5, 5.1, 4.9 and 5 mL', () => {
    const answer = workOut('gun-check', { setTo: '5 mL', each: ['5 mL', '5.1 mL', '4.9 mL', '5 mL'] });
    expect(answer.spreadPercent).toBe('1.63299316');
  });

  it('is uneven at exactly 3 % and even just under it', () => {
    expect(gun({ each: ['4.85 mL', '5 mL', '5.15 mL'] })).toBe('uneven');
    expect(gun({ each: ['4.851 mL', '5 mL', '5.149 mL'] })).toBe('right');
  });
  it('asks for three shots', () => {
    expect(gun({ shots: 2, total: '10 mL' })).toBe('too-few');
    expect(gun({ shots: 3, total: '15 mL' })).toBe('right');
  });
});
