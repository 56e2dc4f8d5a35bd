import { expect, it } from 'vitest';
import { workOut } from '../../src-shared/calls/work-out.ts';
import { parseAmount } from '../../src-shared/quantity/amount.ts';
import { parseDecimal, toDecimal, toPlaces } from '../../src-shared/quantity/fraction.ts';
import { parseStrength } from '../../src-shared/quantity/strength.ts';
import { activePerUnit, STANDARD_WEIGHTS, useOf } from '../../src-shared/record/use.ts';
import { FACTORS, parseFactor } from '../../src-shared/record/use-factors.ts';

const milligrams = (kilograms: string) => ({ amount: `${kilograms} kg`, strength: '1000 mg/g' });

// European sales convention, read twice: 75 kg a living sheep, 20 kg a slaughtered one. The sum of 42,000 kg and the
// quotient are derived from it.
it('500 g over 400 living and 600 slaughtered sheep is 11.90 mg/PCU', () => {
  const { totalMg, kg, mgPerKg } = useOf(
    [{ amount: parseAmount('500 g', 'amount'), strength: parseStrength('1000 mg/g', 'strength') }],
    [
      { count: 400, kg: parseDecimal(STANDARD_WEIGHTS.living, 'kg') },
      { count: 600, kg: parseDecimal(STANDARD_WEIGHTS.slaughtered, 'kg') },
    ],
  );
  expect(toDecimal(totalMg)).toBe('500000');
  expect(toDecimal(kg)).toBe('42000');
  expect(toPlaces(mgPerKg, 2)).toBe('11.9');
  expect(
    workOut('use', {
      given: [{ amount: '500 g', strength: '1000 mg/g' }],
      animals: [
        { count: 400, kg: 75 },
        { count: '600', kg: '20' },
      ],
    }),
  ).toMatchObject({ totalMg: '500000', mgPerKg: '11.9047619' });
});

// Cattle tables in the Vet Record, read: the same arithmetic over another species, as a cross-check.
it.each([
  ['16.7', [{ count: 100, kg: '600' }]],
  [
    '15.4',
    [
      { count: 100, kg: '600' },
      { count: 50, kg: '100' },
    ],
  ],
])('1 kg of substance over cattle is %s mg/kg', (published, animals) => {
  const { mgPerKg } = workOut('use', { given: [milligrams('1')], animals });
  expect(toPlaces(parseDecimal(String(mgPerKg), 'mgPerKg'), 1)).toBe(published);
});

// IU of benzylpenicillin: 0.0006 mg, read. 300,000 IU in each mL are then 180 mg.
it('300,000 IU/mL of benzylpenicillin is 180 mg/mL', () => {
  const iu = parseFactor('0.0006', 'iuToMg', 'iu');
  const { mg } = activePerUnit(parseStrength('300000 IU/mL', 'strength'), 'volume', { iu });
  expect(toDecimal(mg)).toBe('180');
});

// IU: table of the European sales convention, read. Salts: the same convention, from memory.
it.each([
  ['iu', 'benzylpenicillin', '0.0006'],
  ['iu', 'oxytetracycline', '0.001149'],
  ['iu', 'dihydrostreptomycin', '0.00122'],
  ['iu', 'streptomycin', '0.001274'],
  ['iu', 'neomycin', '0.001325'],
  ['iu', 'framycetin', '0.001492'],
  ['iu', 'gentamicin', '0.001613'],
  ['iu', 'spiramycin', '0.000313'],
  ['iu', 'tylosin', '0.001'],
  ['salt', 'procaine benzylpenicillin', '0.61'],
  ['salt', 'benzathine benzylpenicillin', '0.74'],
  ['salt', 'penethamate', '0.63'],
])('the %s factor of %s is %s', (kind, of, value) => {
  const found = FACTORS.filter((one) => one.of === of);
  expect(found).toMatchObject([{ kind, value }]);
  expect(found[0]?.source.endsWith('from memory')).toBe(kind === 'salt');
});
