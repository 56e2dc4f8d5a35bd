import { describe, expect, it } from 'vitest';
import { workOut } from '../../src-shared/calls/work-out.ts';
import { refused } from './refused.ts';

const weights = ['20 kg', '38 kg', '62 kg'];
const WORKS: Readonly<Record<string, Record<string, unknown>>> = {
  dose: { weight: '62 kg', rate: '0.2 mg/kg', strength: '10 mg/mL' },
  draft: { weights, rate: '0.2 mg/kg', strength: '10 mg/mL', groups: 3 },
  syringe: { capacity: '5 mL', volume: '2 mL' },
  'weight-tape': { girth: '89 cm', length: '76 cm' },
  'gun-check': { setTo: '5 mL', shots: 10, total: '50 mL' },
  leak: { dose: '2 mL', drops: 3 },
  'made-up': { amount: '52 g', strength: '900 mg/g', water: '943 mL' },
  sample: { heads: 40, weighed: 10, picked: 'random' },
  'label-check': { rate: '0.2 mg/kg', perVolume: '1 mL per 50 kg', strength: '1 %' },
};

describe('bad input', () => {
  it.each(Object.keys(WORKS))('%s answers when nothing is bad, as plain JSON with its working', (name) => {
    const reply = workOut(name, WORKS[name]);
    expect(JSON.parse(JSON.stringify(reply))).toEqual(reply);
    expect((reply.working as unknown[]).length).toBeGreaterThan(0);
    expect(Array.isArray(reply.warnings)).toBe(true);
  });

  it.each([
    // Units that do not fit.
    ['dose', { weight: '62 mL' }, 'bad-weight', 'weight'],
    ['draft', { weights: ['20 kg', '38 mL'] }, 'bad-weight', 'weights.1'],
    ['draft', { strength: '300000 IU/mL' }, 'units-do-not-match', 'strength'],
    ['draft', { step: '1 g' }, 'units-do-not-match', 'step'],
    ['draft', { most: '2 tablets' }, 'units-do-not-match', 'most'],
    ['draft', { gate: '1 mL' }, 'bad-weight', 'gate'],
    ['syringe', { capacity: '5 g' }, 'units-do-not-match', 'capacity'],
    ['syringe', { volume: '2 tablets' }, 'units-do-not-match', 'volume'],
    ['weight-tape', { girth: '89 kg' }, 'bad-length', 'girth'],
    ['weight-tape', { length: '76' }, 'bad-length', 'length'],
    ['gun-check', { setTo: '5 mg' }, 'units-do-not-match', 'setTo'],
    ['gun-check', { total: '50 g' }, 'units-do-not-match', 'total'],
    [
      'gun-check',
      { shots: undefined, total: undefined, each: ['5 mL', '5 g'] },
      'units-do-not-match',
      'each.1',
    ],
    ['leak', { dose: '2 tablets' }, 'drops-of-a-liquid', 'drops'],
    ['leak', { drops: undefined, lost: '1 g' }, 'units-do-not-match', 'lost'],
    ['made-up', { strength: '10 mg/mL' }, 'units-do-not-match', 'strength'],
    ['made-up', { amount: '5 mL', strength: undefined }, 'strength-missing', 'strength'],
    ['made-up', { water: '943 g' }, 'units-do-not-match', 'water'],
    // Nothing at all.
    ['dose', { rate: '0 mg/kg' }, 'bad-rate', 'rate'],
    ['dose', { strength: '0 mg/mL' }, 'bad-strength', 'strength'],
    ['draft', { rate: '0 mg/kg' }, 'bad-rate', 'rate'],
    ['draft', { strength: '0 %' }, 'bad-strength', 'strength'],
    ['draft', { step: '0 mL' }, 'bad-step', 'step'],
    ['draft', { weights: [] }, 'bad-input', 'weights'],
    ['draft', { weights: ['0 kg'] }, 'bad-weight', 'weights.0'],
    ['syringe', { volume: '0 mL' }, 'bad-volume', 'volume'],
    ['syringe', { capacity: '0 mL' }, 'bad-volume', 'capacity'],
    ['weight-tape', { girth: '0 cm' }, 'bad-length', 'girth'],
    ['gun-check', { setTo: '0 mL' }, 'bad-volume', 'setTo'],
    ['gun-check', { total: '0 mL' }, 'bad-volume', 'total'],
    ['gun-check', { shots: 0 }, 'bad-shots', 'shots'],
    ['leak', { drops: 0 }, 'bad-drops', 'drops'],
    ['leak', { dose: '0 mL' }, 'bad-amount', 'dose'],
    ['made-up', { amount: '0 g' }, 'bad-amount', 'amount'],
    ['made-up', { water: '0 mL' }, 'bad-volume', 'water'],
    ['made-up', { strength: '0 mg/g' }, 'bad-strength', 'strength'],
    ['sample', { heads: 0 }, 'bad-heads', 'heads'],
    ['sample', { weighed: 0 }, 'bad-weighed', 'weighed'],
    // Beyond all bounds.
    ['dose', { weight: '1e999 kg' }, 'bad-number', 'weight'],
    ['draft', { weights: ['1e999 kg'] }, 'bad-number', 'weights.0'],
    ['draft', { rate: '1e999 mg/kg' }, 'bad-number', 'rate'],
    ['draft', { capPercent: '1e999' }, 'bad-number', 'capPercent'],
    ['draft', { rate: '999999999999 mL/kg', strength: undefined }, 'dose-too-large', 'rate'],
    ['draft', { groups: 5 }, 'bad-parts', 'groups'],
    ['draft', { groups: 0 }, 'bad-parts', 'groups'],
    ['draft', { groups: 2.5 }, 'bad-count', 'groups'],
    ['draft', { groups: Number.POSITIVE_INFINITY }, 'bad-input', 'groups'],
    ['draft', { capPercent: -1 }, 'bad-number', 'capPercent'],
    ['syringe', { capacity: '1e999 mL' }, 'bad-number', 'capacity'],
    ['syringe', { volume: '5.001 mL' }, 'over-capacity', 'volume'],
    ['weight-tape', { girth: '1e999 cm' }, 'bad-number', 'girth'],
    ['weight-tape', { girth: '19.9 cm' }, 'bad-length', 'girth'],
    ['weight-tape', { length: '201 cm' }, 'bad-length', 'length'],
    ['weight-tape', { length: '30 cm in' }, 'bad-length', 'length'],
    ['gun-check', { total: '1e999 mL' }, 'bad-number', 'total'],
    ['gun-check', { shots: 201 }, 'bad-shots', 'shots'],
    ['gun-check', { shots: '2.5' }, 'bad-count', 'shots'],
    ['gun-check', { each: ['5 mL'] }, 'bad-shots', 'each'],
    ['gun-check', { total: undefined }, 'bad-shots', 'total'],
    ['gun-check', { shots: undefined, total: undefined, each: [] }, 'bad-shots', 'shots'],
    ['leak', { drops: 201 }, 'bad-drops', 'drops'],
    ['leak', { drops: 101 }, 'leaked-more-than-given', 'drops'],
    ['leak', { drops: undefined, lost: '2.001 mL' }, 'leaked-more-than-given', 'lost'],
    ['leak', { lost: '1 mL' }, 'bad-input', 'lost'],
    ['made-up', { water: '1e999 mL' }, 'bad-number', 'water'],
    ['made-up', { madeUpTo: '1 L' }, 'water-missing', 'water'],
    ['made-up', { water: undefined }, 'water-missing', 'water'],
    [
      'made-up',
      { amount: '100 mL', strength: '10 %', water: undefined, madeUpTo: '99 mL' },
      'bad-volume',
      'madeUpTo',
    ],
    ['made-up', { strength: '101 %' }, 'bad-strength', 'strength'],
    ['sample', { weighed: 41 }, 'bad-weighed', 'weighed'],
    ['sample', { picked: 'by chance' }, 'bad-input', 'picked'],
    // Full-width digits and comma decimals.
    ['dose', { weight: '６２ kg' }, 'bad-number', 'weight'],
    ['dose', { rate: '0,2 mg/kg' }, 'bad-number', 'rate'],
    ['draft', { weights: ['２０ kg'] }, 'bad-number', 'weights.0'],
    ['draft', { weights: ['20,5 kg'] }, 'bad-number', 'weights.0'],
    ['draft', { rate: '0,2 mg/kg' }, 'bad-number', 'rate'],
    ['draft', { strength: '1０ mg/mL' }, 'bad-number', 'strength'],
    ['draft', { step: '0,5 mL' }, 'bad-number', 'step'],
    ['draft', { groups: '３' }, 'bad-number', 'groups'],
    ['draft', { capPercent: '1,5' }, 'bad-number', 'capPercent'],
    ['syringe', { volume: '2,5 mL' }, 'bad-number', 'volume'],
    ['weight-tape', { girth: '８9 cm' }, 'bad-number', 'girth'],
    ['weight-tape', { length: '76,2 cm' }, 'bad-number', 'length'],
    ['gun-check', { setTo: '5,0 mL' }, 'bad-number', 'setTo'],
    ['leak', { dose: '2,0 mL' }, 'bad-number', 'dose'],
    ['leak', { drops: '３' }, 'bad-number', 'drops'],
    ['made-up', { amount: '52,5 g' }, 'bad-number', 'amount'],
    ['made-up', { water: '９43 mL' }, 'bad-number', 'water'],
    ['sample', { heads: '4０' }, 'bad-number', 'heads'],
    // Drafting that is not offered.
    ['draft', { purpose: 'antibiotic' }, 'drafting-not-offered', 'purpose'],
    ['draft', { purpose: 'anti-inflammatory' }, 'drafting-not-offered', 'purpose'],
    ['draft', { narrowMargin: true }, 'drafting-not-offered', 'narrowMargin'],
    ['draft', { rate: undefined }, 'bad-input', 'rate'],
    ['draft', { groups: 1 }, 'cap-cannot-hold', 'capPercent'],
    ['draft', { groups: 4, step: '1 mL', capPercent: 5 }, 'marks-too-coarse', 'step'],
    ['draft', { gate: '50 kg', capPercent: 80 }, 'cap-cannot-hold', 'gate'],
    ['draft', { most: '1 mL' }, 'over-most', 'most'],
  ] as const)('%s with %j is %s at %s, in one sentence that names it', (name, more, code, field) => {
    const refusal = refused(() => workOut(name, { ...WORKS[name], ...more }));
    expect({ code: refusal.code, field: refusal.field }).toEqual({ code, field });
    expect(refusal.message).toMatch(/^[A-Z0-9“][^\n]{10,190}[.]$/);
    if (code !== 'drafting-not-offered') expect(refusal.message.toLowerCase()).toContain(said(field));
  });

  it.each([
    ['10000 mg/kg', '10 mg/mL'],
    ['10 g/kg', '10 mg/mL'],
    ['4536 mg/lb', '10 mg/mL'],
    ['100 mL per kg', undefined],
    ['16000 mL per head', undefined],
    ['1600 g per head', '10 mg/mL'],
  ])('%s is refused: no medicine is given at that rate', (rate, strength) => {
    for (const [name, ask] of [
      ['dose', { weight: '62 kg' }],
      ['draft', { weights, groups: 3 }],
      ['label-check', { perVolume: '1 mL per 50 kg' }],
    ] as const) {
      const refusal = refused(() => workOut(name, { ...ask, rate, strength }));
      expect(refusal).toMatchObject({ code: 'dose-too-large', field: 'rate' });
      expect(refusal.message).toMatch(/^Rate: .*[.]$/);
    }
  });

  it('a table that gives a heavier animal less is refused, and drafting by it does not fail', () => {
    const bands = [
      { upTo: '20 kg', dose: '4 mL' },
      { upTo: '60 kg', dose: '3 mL' },
    ];
    const refusal = refused(() => workOut('draft', { weights: ['15 kg', '50 kg'], groups: 2, bands }));
    expect(refusal).toMatchObject({ code: 'bad-bands', field: 'bands.1.dose' });
    expect(refusal.message).toMatch(/^Dose: 3 mL is less than .*[.]$/);
  });

  it('two statements 3 % apart do not agree, and the sentence says to check both', () => {
    const apart = workOut('label-check', {
      rate: '0.2 mg/kg',
      perVolume: '1.03 mL per 50 kg',
      strength: '1 %',
    });
    expect(apart).toMatchObject({ agree: false, warnings: [{ code: 'statements-disagree' }] });
  });
});

/** The word of the field's path that the sentence has to name. */
function said(field: string): string {
  const word = field.split('.').findLast((part) => !/^\d+$/.test(part)) ?? field;
  if (word === 'capPercent') return 'cap';
  if (word === 'each' && field !== word) return 'shot';
  return word.replace(/([A-Z])/g, ' $1').toLowerCase();
}
