import { describe, expect, it } from 'vitest';
import { checkTerms, labelCheck, plausibilityQuestions } from '../../src-shared/label/check.ts';
import { type LabelTerms, labelTermsSchema } from '../../src-shared/label/terms.ts';
import { toDecimal } from '../../src-shared/quantity/fraction.ts';
import { parseRate } from '../../src-shared/quantity/rate.ts';
import { parseStrength } from '../../src-shared/quantity/strength.ts';
import { refused } from './refused.ts';

type Part = Record<string, unknown>;

function label(more: Part = {}, line: Part = {}): LabelTerms {
  return labelTermsSchema.parse({
    name: 'Test injection',
    form: 'injection',
    kind: 'volume',
    purpose: 'antibiotic',
    actives: [{ substance: 'testate', strength: '10 mg/mL' }],
    doseLines: [{ id: 'a', route: 'subcutaneous', rate: { style: 'rate', text: '0.2 mg/kg' }, ...line }],
    periods: [{ produce: 'meat', says: 'value', value: '28 d' }],
    ...more,
  });
}
const rate = (text: string, more: Part = {}) => ({ rate: { style: 'rate', text, ...more } });
const bands = (...rows: [string, string][]) => ({
  rate: { style: 'bands', bands: rows.map(([upTo, dose]) => ({ upTo, dose })) },
});
const period = (more: Part) => ({ periods: [{ produce: 'meat', says: 'value', ...more }] });

describe('labels that can be worked with', () => {
  it.each([
    [{}, {}],
    [{}, rate('0.2 mg/kg', { perVolume: '1 mL per 50 kg' })],
    [{}, rate('1 mL per 50 kg')],
    [{ actives: [] }, rate('2 mL per head')],
    [
      { actives: [{ substance: 'x', strength: '300000 IU/mL' }] },
      rate('3000 IU/lb', { perVolume: '1 mL per 100 lb' }),
    ],
    [{ kind: 'pieces', piece: 'pellet', actives: [] }, rate('1 pellet per head')],
    [
      { kind: 'pieces', actives: [{ substance: 'x', strength: '100 mg per tablet' }] },
      rate('5 mg/kg', { perVolume: '1 tablet per 20 kg' }),
    ],
    [{ kind: 'mass', actives: [] }, rate('5 g per 50 kg')],
    [{ kind: 'mass', actives: [{ substance: 'x', strength: '50 %' }] }, rate('10 mg/kg')],
    [{}, bands(['20 kg', '2 mL'], ['30 kg', '3 mL'])],
    // The insert may print the volume first and the substance beside it.
    [{}, rate('1 mL per 50 kg', { perVolume: '0.2 mg/kg' })],
    [
      { actives: [{ substance: 'x', strength: '300000 IU/mL' }] },
      rate('1 mL per 100 lb', { perVolume: '3000 IU/lb' }),
    ],
    [{}, { protects: '365 d' }],
    [{ notIf: [{ id: 'n', code: 'condition-under', value: '2.5' }] }, {}],
    [{ notIf: [{ id: 'n', code: 'class', value: 'ewe-lamb' }] }, {}],
    [{ inUse: 'none' }, {}],
    [{ inUse: 'at once' }, {}],
    [{ inUse: '10 h' }, { repeats: { doses: 2, earliest: '4 weeks', due: '5 weeks', latest: '6 weeks' } }],
    [
      {
        periods: [
          {
            produce: 'milk',
            says: 'value',
            value: '36 h',
            countedFrom: 'later-of-two',
            valueFromDose: '35 d + 36 h',
          },
        ],
      },
      {},
    ],
    [
      {
        notIf: [
          { id: 'n', code: 'pregnant-from-to', from: '100 d', to: '150 d' },
          { id: 'm', code: 'milking' },
        ],
      },
      {},
    ],
  ])('%j %j', (more, line) => {
    expect(() => checkTerms(label(more, line))).not.toThrow();
  });
});

describe('labels that cannot', () => {
  it.each([
    [{}, rate('0.2'), 'bad-rate', 'doseLines.0.rate.text'],
    [{}, rate('0,2 mg/kg'), 'bad-number', 'doseLines.0.rate.text'],
    [{}, rate('0 mg/kg'), 'bad-rate', 'doseLines.0.rate.text'],
    [{}, rate('5001 mg/kg'), 'rate-unlikely', 'doseLines.0.rate.text'],
    [{}, rate('5.1 g/kg'), 'rate-unlikely', 'doseLines.0.rate.text'],
    [{}, rate('1 tablet per head'), 'units-do-not-match', 'doseLines.0.rate.text'],
    [{ kind: 'pieces', actives: [] }, rate('1 mL per 50 kg'), 'units-do-not-match', 'doseLines.0.rate.text'],
    [{ actives: [] }, {}, 'strength-missing', 'actives.0.strength'],
    [{ actives: [{ substance: 'x' }] }, {}, 'strength-missing', 'actives.0.strength'],
    [{}, rate('0.2 mg/kg', { of: 1 }), 'active-unknown', 'doseLines.0.rate.of'],
    [{ actives: [{ substance: 'x', strength: '300,000 IU/mL' }] }, {}, 'bad-number', 'actives.0.strength'],
    [
      { actives: [{ substance: 'x', strength: '300000 IU/mL' }] },
      {},
      'units-do-not-match',
      'actives.0.strength',
    ],
    [
      { actives: [{ substance: 'x', strength: '100 mg per tablet' }] },
      {},
      'units-do-not-match',
      'actives.0.strength',
    ],
    [
      {},
      rate('0.2 mg/kg', { perVolume: '1 mL per 49 kg' }),
      'statements-disagree',
      'doseLines.0.rate.perVolume',
    ],
    [
      {},
      rate('0.2 mg/kg', { perVolume: '1 mL per head' }),
      'statements-not-comparable',
      'doseLines.0.rate.perVolume',
    ],
    [
      {},
      rate('0.2 mg/kg', { perVolume: '1 tablet per 50 kg' }),
      'units-do-not-match',
      'doseLines.0.rate.perVolume',
    ],
    [{}, rate('0.2 mg/kg', { perVolume: 'some' }), 'bad-rate', 'doseLines.0.rate.perVolume'],
    [{}, bands(['20 kg', '2 mL'], ['10 kg', '3 mL']), 'bad-bands', 'doseLines.0.rate.bands.1.upTo'],
    [{}, bands(['20 kg', '2 tablets']), 'units-do-not-match', 'doseLines.0.rate.bands.0.dose'],
    [{}, bands(['20', '2 mL']), 'weight-unit-missing', 'doseLines.0.rate.bands.0.upTo'],
    [{}, { mostPerSite: '2 tablets' }, 'units-do-not-match', 'doseLines.0.mostPerSite'],
    [{}, { mostDose: '0 mL' }, 'limits-crossed', 'doseLines.0.mostDose'],
    [{}, { leastWeight: '60 kg', mostWeight: '50 kg' }, 'limits-crossed', 'doseLines.0.leastWeight'],
    [{}, { leastWeight: '60' }, 'weight-unit-missing', 'doseLines.0.leastWeight'],
    [{}, { leastAge: '10 d', mostAge: '5 d' }, 'limits-crossed', 'doseLines.0.mostAge'],
    [{}, { leastAge: '3 months' }, 'bad-period', 'doseLines.0.leastAge'],
    [
      {},
      { repeats: { doses: 2, due: '5 weeks', latest: '28 d' } },
      'limits-crossed',
      'doseLines.0.repeats.latest',
    ],
    [{}, { followedBy: 'z' }, 'dose-line-unknown', 'doseLines.0.followedBy'],
    [period({}), {}, 'period-value-missing', 'periods.0.value'],
    [period({ value: '28' }), {}, 'bad-period', 'periods.0.value'],
    [period({ says: 'zero', value: '28 d' }), {}, 'period-value-unwanted', 'periods.0.value'],
    [
      period({ value: '28 d', countedFrom: 'later-of-two' }),
      {},
      'period-value-missing',
      'periods.0.valueFromDose',
    ],
    [period({ value: '28 d', valueFromDose: '3 d' }), {}, 'period-value-unwanted', 'periods.0.valueFromDose'],
    [period({ value: '28 d', doseLines: ['a', 'q'] }), {}, 'dose-line-unknown', 'periods.0.doseLines.1'],
    [{ notIf: [{ id: 'n', code: 'younger-than' }] }, {}, 'bad-not-if', 'notIf.0.value'],
    [{ notIf: [{ id: 'n', code: 'younger-than', value: '10 kg' }] }, {}, 'bad-period', 'notIf.0.value'],
    [{ notIf: [{ id: 'n', code: 'lighter-than', value: '10 d' }] }, {}, 'bad-weight', 'notIf.0.value'],
    [{ notIf: [{ id: 'n', code: 'pregnant-from-to', from: '100 d' }] }, {}, 'bad-not-if', 'notIf.0.to'],
    [
      {},
      rate('1 mL per 50 kg', { perVolume: '0.21 mg/kg' }),
      'statements-disagree',
      'doseLines.0.rate.perVolume',
    ],
    [
      { actives: [] },
      rate('1 mL per 50 kg', { perVolume: '0.2 mg/kg' }),
      'strength-missing',
      'actives.0.strength',
    ],
    [{}, { protects: 'a year' }, 'bad-period', 'doseLines.0.protects'],
    [
      { kind: 'mass', actives: [{ substance: 'x', strength: '1001 mg/g' }] },
      rate('10 mg/kg'),
      'strength-unlikely',
      'actives.0.strength',
    ],
    [{ notIf: [{ id: 'n', code: 'condition-under', value: '25' }] }, {}, 'bad-not-if', 'notIf.0.value'],
    [{ notIf: [{ id: 'n', code: 'class', value: 'cow' }] }, {}, 'bad-not-if', 'notIf.0.value'],
    [
      { notIf: [{ id: 'n', code: 'pregnant-from-to', from: '150 d', to: '100 d' }] },
      {},
      'limits-crossed',
      'notIf.0.to',
    ],
    [{ inUse: 'a while' }, {}, 'bad-period', 'inUse'],
    [{ storage: { leastC: 8, mostC: 2 } }, {}, 'limits-crossed', 'storage.leastC'],
  ])('%j %j is refused as %s at %s', (more, line, code, field) => {
    const refusal = refused(() => checkTerms(label(more, line)));
    expect({ code: refusal.code, field: refusal.field }).toEqual({ code, field });
    expect(refusal.message).toMatch(/^[A-Z0-9“].{10,180}\.$/);
  });

  it('has each dose line once', () => {
    const terms = label();
    const twice = { ...terms, doseLines: [...terms.doseLines, ...terms.doseLines] };
    expect(refused(() => checkTerms(twice))).toMatchObject({
      code: 'dose-line-twice',
      field: 'doseLines.1.id',
    });
  });
});

describe('two statements of a dose', () => {
  const compare = (first: string, second: string, strength?: string) =>
    labelCheck({
      rate: parseRate(first, 'rate'),
      perVolume: parseRate(second, 'perVolume'),
      strength: strength === undefined ? undefined : parseStrength(strength, 'strength'),
    });

  it('agree up to and including 1 %', () => {
    expect(compare('1 mL/kg', '1.01 mL/kg')).toMatchObject({ agree: true });
    expect(compare('1 mL/kg', '0.99 mL/kg')).toMatchObject({ agree: true });
    expect(compare('1 mL/kg', '1.0100001 mL/kg')).toMatchObject({ agree: false });
    expect(compare('1 mL/kg', '0.9899999 mL/kg')).toMatchObject({ agree: false });
  });

  it('give examples by the first', () => {
    const { examples } = compare('0.2 mg/kg', '1 mL per 50 kg', '1 %');
    expect(examples.map(({ weight, value }) => `${weight}: ${toDecimal(value)}`)).toEqual([
      '20 kg: 0.4',
      '45 kg: 0.9',
      '80 kg: 1.6',
    ]);
  });

  it('are not compared across what cannot be compared', () => {
    expect(refused(() => compare('0.2 mg/kg', '1 mL per 50 kg')).code).toBe('strength-missing');
    expect(refused(() => compare('0.2 mg/kg', '1 mL per 50 kg', '300000 IU/mL')).code).toBe(
      'units-do-not-match',
    );
    expect(refused(() => compare('0.2 mg/kg', '0.2 mg/kg', '1 %')).code).toBe('units-do-not-match');
    expect(refused(() => compare('1 tablet per 50 kg', '1 mL per 50 kg')).code).toBe('units-do-not-match');
  });
});

describe('questions about an unusual label', () => {
  const codes = (more: Part, line: Part) => plausibilityQuestions(label(more, line)).map((one) => one.code);

  it.each([
    [{}, {}, []],
    [{}, rate('30 mL per 50 kg'), []],
    [{}, rate('31 mL per 50 kg'), ['much-injected']],
    [{}, rate('0.1 mL per 50 kg'), []],
    [{}, rate('0.09 mL per 50 kg'), ['little-injected']],
    [{}, rate('0.001 mL per 50 kg'), ['little-injected']],
    [{}, { route: 'oral', ...rate('150 mL per head') }, []],
    [{}, { route: 'oral', ...rate('151 mL per head') }, ['much-by-mouth']],
    [period({ value: '120 d' }), {}, []],
    [period({ value: '121 d' }), {}, ['long-period']],
    [period({ value: '2881 h' }), {}, ['long-period']],
    // A line for lambs only is asked about at the heaviest lamb it allows.
    [{}, { mostWeight: '20 kg', ...rate('40 mL per 50 kg') }, []],
    [{}, bands(['20 kg', '2 mL']), []],
    // A table that ends below 50 kg is asked about at its last weight.
    [{}, bands(['20 kg', '31 mL']), ['much-injected']],
    [{}, { leastWeight: '60 kg', ...rate('27 mL per 50 kg') }, ['much-injected']],
    [period({ value: '36 h', countedFrom: 'later-of-two', valueFromDose: '121 d' }), {}, ['long-period']],
    [{ actives: [{ substance: 'x', salt: 'x hydrate', strength: '10 mg/mL' }] }, {}, ['salt-or-base']],
    [{ actives: [{ substance: 'x', salt: 'x hydrate', strengthOf: 'base', strength: '10 mg/mL' }] }, {}, []],
    [{ actives: [{ substance: 'x', strength: '1000 mg/mL' }] }, rate('10 mg/kg'), []],
    [{ actives: [{ substance: 'x', strength: '1001 mg/mL' }] }, rate('10 mg/kg'), ['strong']],
    [{ kind: 'pieces', actives: [] }, rate('1 bolus per head'), []],
  ])('%j %j asks %j', (more, line, asked) => {
    expect(codes(more, line)).toEqual(asked);
  });

  const twoLines = (first: string, then: string) => {
    const line = { id: 'a', route: 'subcutaneous', followedBy: 'b', ...rate(first) };
    return { doseLines: [line, { id: 'b', route: 'subcutaneous', ...rate(then) }] };
  };
  it('a course that goes on with more than it began with', () => {
    expect(codes(twoLines('0.4 mg/kg', '0.2 mg/kg'), {})).toEqual([]);
    expect(codes(twoLines('0.2 mg/kg', '0.2 mg/kg'), {})).toEqual([]);
    expect(codes(twoLines('0.2 mg/kg', '0.4 mg/kg'), {})).toEqual(['larger-after']);
    expect(codes(twoLines('1 mL per head', '0.4 mg/kg'), {})).toEqual(['larger-after']);
    expect(plausibilityQuestions(label(twoLines('0.2 mg/kg', '0.4 mg/kg')))[0]?.text).toBe(
      '1 mL for an animal of 50 kg goes on with a larger dose, 2 mL: is the label so, and are the two not swapped?',
    );
  });

  describe('a period shorter than an earlier label said', () => {
    const rows = (...periods: Part[]) =>
      label({ periods: periods.map((row) => ({ produce: 'meat', ...row })) });
    const of = (value: string, more: Part = {}) => ({ says: 'value', value, ...more });
    const texts = (now: LabelTerms, ...earlier: LabelTerms[]) =>
      plausibilityQuestions(now, earlier).map((one) => one.text);
    it.each([
      [rows(of('14 d')), rows(of('41 d')), 1],
      [rows(of('41 d')), rows(of('14 d')), 0],
      [rows(of('28 d')), rows(of('28 d')), 0],
      [rows(of('72 h')), rows(of('72 d')), 1],
      [rows({ says: 'zero' }), rows(of('1 h')), 1],
      [rows(of('28 d')), rows({ says: 'for-life' }), 1],
      [rows({ says: 'for-life' }), rows(of('28 d')), 0],
      // Not stated is unknown: it is neither shorter nor longer.
      [rows({ says: 'not-stated' }), rows(of('28 d')), 0],
      [rows(of('28 d')), rows({ says: 'not-stated' }), 0],
      [rows(of('28 d')), rows(of('60 d', { market: 'export' })), 0],
      // Only lambs are held shorter; the longest row that speaks of them is what counts.
      [rows(of('28 d', { classes: ['lamb'] }), of('42 d', { classes: ['ewe'] })), rows(of('42 d')), 1],
      [rows(of('28 d', { classes: ['lamb'] }), of('42 d')), rows(of('42 d')), 0],
    ])('%#', (now, before, asked) => {
      expect(texts(now, before)).toHaveLength(asked);
    });
    it('says both', () => {
      expect(texts(rows(of('14 d')), rows(of('41 d')), rows(of('10 d')))).toEqual([
        'Meat: 14 days is shorter than an earlier label said (41 days): is the label so?',
      ]);
    });
  });
});
