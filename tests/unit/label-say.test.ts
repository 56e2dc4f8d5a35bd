import { describe, expect, test } from 'vitest';
import { checkTerms } from '../../src-shared/label/check.ts';
import { doseDifferences } from '../../src-shared/label/samples.ts';
import { periodText, sayDifferences, sayDoseLine, sayTerms } from '../../src-shared/label/say.ts';
import { type LabelTerms, labelTermsSchema } from '../../src-shared/label/terms.ts';

const BASE = {
  name: 'Calverol',
  form: 'injection',
  kind: 'volume',
  purpose: 'antibiotic',
  actives: [{ substance: 'calverol', strength: '10 mg/mL' }],
  doseLines: [{ id: 'd1', route: 'subcutaneous', rate: { style: 'rate', text: '0.2 mg/kg' } }],
  periods: [{ produce: 'meat', says: 'value', value: '28 d' }],
};
function terms(more: object = {}): LabelTerms {
  const read = labelTermsSchema.parse({ ...BASE, ...more });
  checkTerms(read);
  return read;
}
const line = (more: object) =>
  terms({
    doseLines: [
      { ...BASE.doseLines[0], ...more },
      { id: 'd2', title: 'Keeping on', route: 'oral', rate: { style: 'rate', text: '1 mL per head' } },
    ],
  });
const says = (more: object) => {
  const read = line(more);
  const [first] = read.doseLines;
  return first ? sayDoseLine(read, first) : '';
};

describe('a dose is read back so that a wrong unit is heard', () => {
  test('rates', () => {
    const rate = (text: string, more: object = {}) => says({ rate: { style: 'rate', text, ...more } });
    expect(rate('0.2 mg/kg')).toBe('For any sheep, under the skin: 0.2 milligrams for each kilogram.');
    expect(rate('200 mcg/kg')).toContain('200 micrograms for each kilogram');
    expect(rate('0.2 mg/kg', { perVolume: '1 mL per 50 kg' })).toContain(
      '0.2 milligrams for each kilogram, printed also as 1 millilitre for each 50 kilograms.',
    );
    expect(rate('2 mL per head')).toContain('2 millilitres for each animal');
  });

  test('of several substances it says which', () => {
    const read = terms({
      actives: [
        { substance: 'calverol', strength: '10 mg/mL' },
        { substance: 'sorrelin', strength: '5 mg/mL' },
      ],
      doseLines: [{ id: 'd1', route: 'oral', rate: { style: 'rate', text: '1 mg/kg', of: 1 } }],
    });
    expect(sayTerms(read).find((text) => text.startsWith('For any'))).toBe(
      'For any sheep, by mouth: sorrelin, 1 milligram for each kilogram.',
    );
  });

  test('of a salt it says what the strength counts, or that this is left open', () => {
    const salt = (more: object) =>
      sayTerms(
        terms({
          actives: [{ substance: 'calverol', strength: '10 mg/mL', salt: 'calverol hydrate', ...more }],
        }),
      )[2];
    const head = 'calverol (as calverol hydrate): 10 milligrams in each millilitre';
    expect(salt({ strengthOf: 'base' })).toBe(`${head}, counted as calverol.`);
    expect(salt({ strengthOf: 'salt' })).toBe(`${head}, counted as calverol hydrate.`);
    expect(salt({})).toBe(`${head}, and whether that counts the salt is not said.`);
  });

  test('a period for a dose without a title names it by what it gives', () => {
    const read = terms({
      doseLines: [
        BASE.doseLines[0],
        { id: 'd2', route: 'oral', rate: { style: 'rate', text: '1 mL per head' } },
      ],
      periods: [{ produce: 'meat', says: 'zero', doseLines: ['d2'] }],
    });
    expect(sayTerms(read)).toContain(
      'Meat, for the dose of 1 millilitre for each animal: zero. It may be taken at once.',
    );
  });

  test('bands say what is above the last and below the first', () => {
    const bands = [
      { upTo: '30 kg', dose: '5 mL' },
      { upTo: '40 kg', dose: '7.5 mL' },
    ];
    expect(says({ rate: { style: 'bands', bands, from: '20 kg' } })).toContain(
      'from 20 kg; up to and with 30 kg 5 mL; up to and with 40 kg 7.5 mL; above that no dose.',
    );
    expect(
      says({ rate: { style: 'bands', bands, furtherStep: { each: '10 kg', dose: '2.5 mL' } } }),
    ).toContain('above that 2.5 mL more for each further 10 kg or part of it.');
  });

  test('every limit is said', () => {
    expect(
      says({
        classes: ['lamb', 'hogg', 'ewe'],
        against: 'worms',
        leastWeight: '5 kg',
        mostWeight: '90 kg',
        leastAge: '14 d',
        mostAge: '52 weeks',
        mostPerSite: '10 mL',
        mostDose: '20 mL',
        rounding: 'down',
        repeats: { doses: 3, earliest: '14 d', due: '21 d', latest: '28 d', whenLate: 'start again' },
        protects: '365 d',
        followedBy: 'd2',
      }),
    ).toBe(
      'For lambs, hoggs and ewes, under the skin, against worms: 0.2 milligrams for each kilogram. Not under 5 kg, not over 90 kg, ' +
        'not younger than 14 days, not older than 364 days. At most 10 mL in one place. At most 20 mL in all. Round the dose down. ' +
        '3 doses in all, 21 days apart (not before 14 days, not after 28 days). When a dose is late: start again. ' +
        'Complete, it protects for 365 days. Then go on with: Keeping on.',
    );
  });
});

describe('a whole label', () => {
  test('is said in order, and what it leaves open is said too', () => {
    expect(sayTerms(terms())).toEqual([
      'Calverol: for injection, measured in millilitres. An antibiotic.',
      'Who may supply it is not stated.',
      'calverol: 10 milligrams in each millilitre.',
      'For any sheep, under the skin: 0.2 milligrams for each kilogram.',
      'Meat: 28 days after the last dose.',
      'Milk: the label has no period entered. It never clears by time.',
      'How long it keeps once opened is not stated: only its expiry date limits it.',
    ]);
  });

  test('not-if rules, dangers, storage and in-use life are all there', () => {
    const said = sayTerms(
      terms({
        notIf: [
          { id: 'a', code: 'milking' },
          { id: 'b', code: 'pregnant-from-to', from: '20 d', to: '60 d', says: 'harms the lamb' },
          { id: 'c', code: 'lighter-than', value: '10 kg' },
          { id: 'd', code: 'class', value: 'ram' },
        ],
        inUse: '10 h',
        stains: true,
        shakeWell: true,
        narrowMargin: true,
        flowClass: 'oily',
        sucklingYoung: 'Do not let lambs suck for 2 days',
        sucklingMeat: { says: 'value', value: '7 d' },
        storage: { leastC: 2, mostC: 8, says: 'Do not freeze' },
        hazards: { people: 'Stops the heart.', pregnantWomen: 'Must not handle it' },
      }),
    );
    for (const text of [
      'Not in ewes whose milk is for people.',
      'Not in ewes from 20 days after the ram went in to 60 days after he came out: harms the lamb.',
      'Not under 10 kg.',
      'Not for rams.',
      'Meat of lambs that suck her: 7 days after the last dose of the ewe.',
      'Once opened it may be used for 10 hours, then the rest is discarded.',
      'It stains wool.',
      'Shake well before use.',
      'Little room between a dose and too much: weigh, do not guess.',
      'It flows like oil.',
      'Suckling young: Do not let lambs suck for 2 days.',
      'Storage: between 2 °C and 8 °C. Do not freeze.',
      'Danger to people: Stops the heart.',
      'Pregnant women: Must not handle it.',
    ]) {
      expect(said).toContain(text);
    }
  });
});

describe('periods in a column: not stated is never shown as zero', () => {
  const meat = (...rows: object[]) =>
    periodText(terms({ periods: rows.map((row) => ({ produce: 'meat', ...row })) }), 'meat');
  test.each([
    [[{ says: 'value', value: '28 d' }], '28 d'],
    [[{ says: 'zero' }], 'zero'],
    [[{ says: 'not-stated' }], 'not stated'],
    [[], 'not stated'],
    [[{ says: 'for-life' }], 'for life'],
    [[{ says: 'not-for-this-produce' }], 'not for meat'],
    [
      [
        { says: 'value', value: '42 d', classes: ['lamb'] },
        { says: 'value', value: '28 d' },
      ],
      '28 d to 42 d',
    ],
    [[{ says: 'value', value: '28 d', classes: ['lamb'] }], '28 d or not stated'],
    [[{ says: 'value', value: '36 h' }, { says: 'zero' }], 'zero to 36 h'],
    [[{ says: 'value', value: '36 h', countedFrom: 'lambing' }], '36 h after lambing'],
    [[{ says: 'value', value: '28 d', market: 'export' }], 'not stated'],
    // A row for a route that no dose line has does not speak.
    [
      [
        { says: 'value', value: '28 d' },
        { says: 'value', value: '99 d', routes: ['oral'] },
      ],
      '28 d',
    ],
  ])('%j → %s', (rows, text) => expect(meat(...rows)).toBe(text));
});

describe('what differs between two readings', () => {
  test('is said as it was and as it is, and nothing else', () => {
    const after = terms({
      actives: [{ substance: 'calverol', strength: '1 mg/mL' }],
      inUse: '28 d',
      notIf: [{ id: 'a', code: 'milking' }],
    });
    expect(sayDifferences(terms(), after)).toEqual([
      'Was: calverol: 10 milligrams in each millilitre. Now: calverol: 1 milligram in each millilitre.',
      'Was: How long it keeps once opened is not stated: only its expiry date limits it. Now: Once opened it may be used for 28 days, then the rest is discarded.',
      'New: Not in ewes whose milk is for people.',
    ]);
    // In mL as well: a tenth of the strength is ten times the volume.
    expect(doseDifferences(terms(), after)).toEqual([
      { line: 'The dose', weight: '20 kg', before: '0.4 mL', after: '4 mL' },
      { line: 'The dose', weight: '45 kg', before: '0.9 mL', after: '9 mL' },
      { line: 'The dose', weight: '80 kg', before: '1.6 mL', after: '16 mL' },
    ]);
    expect(sayDifferences(after, terms())).toContain('No longer: Not in ewes whose milk is for people.');
    expect(sayDifferences(terms(), terms())).toEqual([]);
    expect(doseDifferences(terms(), terms())).toEqual([]);
  });

  test('in mL: a limit that now bars a weight, and lines that are only on one of the two', () => {
    expect(doseDifferences(terms(), line({ leastWeight: '25 kg' }))).toEqual([
      { line: 'Dose 1', weight: '20 kg', before: '0.4 mL', after: 'no dose' },
      ...['20 kg', '45 kg', '80 kg'].map((weight) => ({
        line: 'Keeping on',
        weight,
        before: 'not on the label',
        after: '1 mL',
      })),
    ]);
    expect(doseDifferences(line({}), terms()).map((one) => one.after)).toEqual(
      Array(3).fill('not on the label'),
    );
  });
});
