import { describe, expect, it } from 'vitest';
import { workOut } from '../../src-shared/calls/work-out.ts';
import { groupWords, isAntimicrobial, SUBSTANCE_GROUPS } from '../../src-shared/record/use-classes.ts';
import { knownFactor } from '../../src-shared/record/use-factors.ts';
import { Refusal } from '../../src-shared/refusal.ts';

const sheep = [{ count: 10, kg: '70' }];

function refusal(ask: unknown): { code: string; field: string | undefined; message: string } {
  try {
    workOut('use', ask);
  } catch (thrown) {
    if (thrown instanceof Refusal) return thrown;
    throw thrown;
  }
  throw new Error('it was not refused');
}

describe('the topic use', () => {
  it('adds what is in mL, in pieces and in salts, exactly', () => {
    const found = workOut('use', {
      given: [
        { amount: '100 mL', strength: '300000 IU/mL', iuToMg: '0.0006' },
        { amount: '4 tubes', strength: '250 mg per tube' },
        { amount: '10 mL', strength: '10 %', saltFactor: 0.61 },
      ],
      animals: sheep,
    });
    // By hand: 100 × 180 = 18000; 4 × 250 = 1000; 10 × 100 × 0.61 = 610. Over 700 kg.
    expect(found).toMatchObject({ totalMg: '19610', mgPerKg: '28.0142857', warnings: [] });
    expect(found.working).toContainEqual({
      code: 'active-of-salt',
      text: '10 % × 0.61, the part that is not salt: 61 mg in each mL',
    });
  });

  it('nothing given is nothing used', () => {
    expect(workOut('use', { given: [], animals: sheep })).toMatchObject({ totalMg: '0', mgPerKg: '0' });
  });

  it.each([
    [
      'both-factors',
      'given.0.saltFactor',
      { strength: '300000 IU/mL', iuToMg: '0.0006', saltFactor: '0.61' },
    ],
    ['both-factors', 'given.0.saltFactor', { strength: '10 mg/mL', iuToMg: '0.0006', saltFactor: '0.61' }],
    ['iu-factor-missing', 'given.0.iuToMg', { strength: '300000 IU/mL' }],
    ['iu-factor-missing', 'given.0.iuToMg', { strength: '300000 IU/mL', saltFactor: '0.61' }],
    ['factor-does-not-fit', 'given.0.iuToMg', { strength: '10 mg/mL', iuToMg: '0.0006' }],
    ['units-do-not-match', 'given.0.strength', { strength: '100 mg per tablet' }],
    ['bad-factor', 'given.0.iuToMg', { strength: '300000 IU/mL', iuToMg: '1667' }],
    ['bad-factor', 'given.0.saltFactor', { strength: '10 mg/mL', saltFactor: 0 }],
    ['bad-number', 'given.0.saltFactor', { strength: '10 mg/mL', saltFactor: '0,61' }],
    ['bad-strength', 'given.0.strength', { strength: '10' }],
    ['bad-input', 'given.0.strength', {}],
    ['bad-input', 'given.0.iu', { strength: '10 mg/mL', iu: '1' }],
  ])('refuses %s at %s', (code, field, more) => {
    const found = refusal({ given: [{ amount: '5 mL', ...more }], animals: sheep });
    expect({ code: found.code, field: found.field }).toEqual({ code, field });
    expect(found.message).toMatch(/\.$/);
  });

  it('tablets are not counted by a strength per tube; "pieces" say nothing about which', () => {
    const found = refusal({ given: [{ amount: '3 tablets', strength: '200 mg per tube' }], animals: sheep });
    expect({ code: found.code, field: found.field, message: found.message }).toEqual({
      code: 'pieces-do-not-match',
      field: 'given.0.strength',
      message: 'Strength: it says how much is in one tube, and the amount is counted in tablets.',
    });
    const given = [
      { amount: '3 Tablets', strength: '200 mg per tablet' },
      { amount: '3 pieces', strength: '200 mg in 2 tubes' },
      { amount: '1 bolus', strength: '1 g per piece' },
    ];
    // By hand: 600 + 300 + 1000.
    expect(workOut('use', { given, animals: sheep })).toMatchObject({ totalMg: '1900' });
  });

  it.each([
    ['no-animals', 'animals', []],
    ['no-animals', 'animals', [{ count: 0, kg: 75 }]],
    ['bad-count', 'animals.0.count', [{ count: 1.5, kg: 75 }]],
    ['bad-count', 'animals.0.count', [{ count: -1, kg: 75 }]],
    ['bad-weight', 'animals.0.kg', [{ count: 1, kg: 0 }]],
    ['bad-weight', 'animals.0.kg', [{ count: 1, kg: '75000' }]],
  ])('refuses %s at %s', (code, field, animals) => {
    const found = refusal({ given: [{ amount: '5 mL', strength: '1 %' }], animals });
    expect({ code: found.code, field: found.field }).toEqual({ code, field });
  });
});

describe('factors and groups', () => {
  it('finds a factor by the whole name and guesses nothing', () => {
    expect(knownFactor('iu', { substance: 'Benzylpenicillin' })?.value).toBe('0.0006');
    expect(knownFactor('salt', { substance: 'benzylpenicillin', salt: 'procaine' })?.value).toBe('0.61');
    expect(knownFactor('salt', { substance: 'procaine benzylpenicillin' })?.value).toBe('0.61');
    expect(knownFactor('iu', { substance: 'procaine benzylpenicillin' })).toBeUndefined();
    expect(knownFactor('salt', { substance: 'benzylpenicillin' })).toBeUndefined();
    expect(knownFactor('iu', { substance: 'penicillin' })).toBeUndefined();
  });

  it('has words for every group, and each is of one sort', () => {
    for (const group of SUBSTANCE_GROUPS) expect(groupWords(group)).not.toBe(group);
    expect(isAntimicrobial('tetracyclines')).toBe(true);
    expect(isAntimicrobial('benzimidazoles')).toBe(false);
    expect(isAntimicrobial('toString')).toBe(false);
  });
});
