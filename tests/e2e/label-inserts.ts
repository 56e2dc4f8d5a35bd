import type { Ask } from '../../src-shared/calls/all.ts';

type Terms = Ask<'check-label'>['terms'];

/** An insert of an invented medicine, and what must come of typing it. */
export type Insert = {
  /** The style it shows. */
  readonly style: string;
  readonly terms: Terms & { readonly periods: NonNullable<Terms['periods']> };
  /** For each dose line, what the screen says it gives 20, 45 and 80 kg. Worked out by hand. */
  readonly gives: readonly (readonly string[])[];
  /** What must stand in the label read back, word for word. */
  readonly reads: readonly string[];
  /** What the screen asks before it goes on. */
  readonly asks?: string;
  /** The second typing: each field by its name, with what the insert prints. */
  readonly again: Readonly<Record<string, string>>;
};

const milkNo = { produce: 'milk', says: 'not-for-this-produce' } as const;
const meat = (value: string) => ({ produce: 'meat', says: 'value', value }) as const;
const TOO_LIGHT = (kg: string) => `No dose. The label is not for animals under ${kg}.`;

/** One of each style in which inserts print a dose. */
export const INSERTS: readonly Insert[] = [
  {
    style: 'mg/kg beside mL for so many kg',
    // 20 × 0.2 ÷ 10 = 0.4 mL
    terms: {
      name: 'Morvane injection',
      form: 'injection',
      kind: 'volume',
      purpose: 'antibiotic',
      actives: [{ substance: 'morvane', strength: '1 %' }],
      doseLines: [
        {
          id: 'd1',
          route: 'subcutaneous',
          rate: { style: 'rate', text: '0.2 mg/kg', perVolume: '1 mL per 50 kg' },
          mostPerSite: '5 mL',
        },
      ],
      periods: [meat('41 d'), milkNo],
    },
    gives: [['0.4 mL', '0.9 mL', '1.6 mL']],
    reads: [
      'morvane: 1 per cent: 1 gram in each 100 millilitres.',
      'For any sheep, under the skin: 0.2 milligrams for each kilogram, printed also as 1 millilitre for each 50 kilograms. At most 5 mL in one place.',
      'Meat: 41 days after the last dose.',
      'Milk: not for animals that give milk for people.',
    ],
    again: { Rate: '0.2 mg/kg', 'Strength of morvane': '1 %', 'Meat period': '41 d' },
  },
  {
    style: 'µg/kg of a base given as its salt',
    // 20 × 0.2 ÷ 5 = 0.8 mL
    terms: {
      name: 'Tesselane',
      form: 'injection',
      kind: 'volume',
      purpose: 'other',
      actives: [{ substance: 'tessel', strength: '5 mg/mL', salt: 'tessel hydrate', strengthOf: 'base' }],
      doseLines: [{ id: 'd1', route: 'intramuscular', rate: { style: 'rate', text: '200 µg/kg' } }],
      periods: [meat('7 d'), { produce: 'milk', says: 'value', value: '84 h' }],
    },
    gives: [['0.8 mL', '1.8 mL', '3.2 mL']],
    reads: [
      'tessel (as tessel hydrate): 5 milligrams in each millilitre, counted as tessel.',
      'For any sheep, into the muscle: 200 micrograms for each kilogram.',
      'Milk: 84 hours after the last dose.',
    ],
    again: { Rate: '0.2 mg/kg', 'Strength of tessel': '5 mg/mL', 'Meat period': '7 d' },
  },
  {
    style: 'IU for each lb beside mL for so many lb',
    // 20 kg = 44.0925 lb: 0.44 mL
    terms: {
      name: 'Corvallin suspension',
      form: 'injection',
      kind: 'volume',
      purpose: 'antibiotic',
      actives: [{ substance: 'corvallin', strength: '300000 IU/mL' }],
      doseLines: [
        {
          id: 'd1',
          route: 'intramuscular',
          rate: { style: 'rate', text: '3000 IU/lb', perVolume: '1 mL per 100 lb' },
          repeats: { doses: 3, due: '24 h', latest: '30 h' },
        },
      ],
      periods: [meat('9 d'), { produce: 'milk', says: 'not-stated' }],
    },
    gives: [['0.44 mL', '0.99 mL', '1.8 mL']],
    reads: [
      'corvallin: 300000 international units in each millilitre.',
      'For any sheep, into the muscle: 3000 international units for each pound, printed also as 1 millilitre for each 100 pounds. 3 doses in all, 24 hours apart (not after 30 hours).',
      'Milk: not stated. It never clears by time.',
    ],
    again: { Rate: '3000 IU/lb', 'Strength of corvallin': '300000 IU/mL', 'Meat period': '9 d' },
  },
  {
    style: 'mL for each kg',
    terms: {
      name: 'Fellmere drench',
      form: 'drench',
      kind: 'volume',
      purpose: 'parasites',
      doseLines: [{ id: 'd1', route: 'oral', rate: { style: 'rate', text: '0.2 mL/kg' } }],
      periods: [meat('14 d'), milkNo],
    },
    gives: [['4 mL', '9 mL', '16 mL']],
    reads: ['For any sheep, by mouth: 0.2 millilitres for each kilogram.'],
    again: { Rate: '0.2 mL/kg', 'Meat period': '14 d' },
  },
  {
    style: 'mL for so many kg, with the substance printed beside it',
    // 45 ÷ 5 = 9 mL
    terms: {
      name: 'Ardlin pour-on',
      form: 'pour-on',
      kind: 'volume',
      purpose: 'parasites',
      actives: [{ substance: 'ardlin', strength: '2.5 mg/mL' }],
      doseLines: [
        {
          id: 'd1',
          route: 'pour-on',
          rate: { style: 'rate', text: '1 mL per 5 kg', perVolume: '0.5 mg/kg' },
          mostDose: '12 mL',
        },
      ],
      periods: [
        meat('8 d'),
        milkNo,
        { produce: 'wool-harvest', says: 'value', value: '60 d' },
        { produce: 'wool-handling', says: 'value', value: '7 d' },
      ],
      notIf: [{ id: 'n1', code: 'shorn-within', value: '7 d' }],
    },
    gives: [['4 mL', '9 mL', 'No dose. 16 mL is more than the most the label allows (12 mL).']],
    reads: [
      'For any sheep, poured on the back: 1 millilitre for each 5 kilograms, printed also as 0.5 milligrams for each kilogram. At most 12 mL in all.',
      'Shearing: 60 days after the last dose.',
      'Not within 7 days after shearing.',
    ],
    again: { Rate: '1 mL per 5 kg', 'Strength of ardlin': '2.5 mg/mL', 'Meat period': '8 d' },
  },
  {
    style: 'mL for so many lb, rounded down',
    // 20 kg = 44.0925 lb: 4.409 mL, down 4.4; 45 kg = 99.208 lb: 9.9; 80 kg = 176.37 lb: 17.6
    terms: {
      name: 'Breckol drench',
      form: 'drench',
      kind: 'volume',
      purpose: 'parasites',
      doseLines: [
        { id: 'd1', route: 'oral', rate: { style: 'rate', text: '1 mL per 10 lb' }, rounding: 'down' },
      ],
      periods: [{ produce: 'meat', says: 'not-stated' }, milkNo],
    },
    gives: [['4.4 mL', '9.9 mL', '17.6 mL']],
    reads: [
      'For any sheep, by mouth: 1 millilitre for each 10 pounds. Round the dose down.',
      'Meat: not stated. It never clears by time.',
    ],
    again: { Rate: '1 mL per 10 lb' },
  },
  {
    style: 'mL a head: a vaccine with its first course and what follows',
    terms: {
      name: 'Vaxilan 4',
      form: 'injection',
      kind: 'volume',
      purpose: 'vaccine',
      doseLines: [
        {
          id: 'd1',
          title: 'First course',
          route: 'subcutaneous',
          rate: { style: 'rate', text: '2 mL per head' },
          leastAge: '21 d',
          repeats: { doses: 2, earliest: '28 d', due: '35 d', latest: '42 d', whenLate: 'Start again.' },
          followedBy: 'd2',
        },
        {
          id: 'd2',
          title: 'Booster',
          route: 'subcutaneous',
          rate: { style: 'rate', text: '1 mL per head' },
          protects: '365 d',
        },
      ],
      periods: [
        { produce: 'meat', says: 'zero' },
        { produce: 'milk', says: 'zero' },
      ],
    },
    gives: [
      ['2 mL', '2 mL', '2 mL'],
      ['1 mL', '1 mL', '1 mL'],
    ],
    reads: [
      'First course. For any sheep, under the skin: 2 millilitres for each animal. Not younger than 21 days. 2 doses in all, 35 days apart (not before 28 days, not after 42 days). When a dose is late: Start again. Then go on with: Booster.',
      'Booster. For any sheep, under the skin: 1 millilitre for each animal. Complete, it protects for 365 days.',
      'Meat: zero. It may be taken at once.',
    ],
    again: {
      'Rate of First course': '2 mL per head',
      'Rate of Booster': '1 mL per head',
      'Meat period': 'zero',
    },
  },
  {
    style: 'pieces a head, counted from when it is taken out',
    terms: {
      name: 'Larkel bolus',
      form: 'bolus',
      kind: 'pieces',
      piece: 'bolus',
      purpose: 'vitamin-mineral',
      doseLines: [
        {
          id: 'd1',
          route: 'oral',
          rate: { style: 'rate', text: '1 bolus per head' },
          leastWeight: '25 kg',
        },
      ],
      periods: [{ produce: 'meat', says: 'value', value: '3 d', countedFrom: 'end-of-release' }, milkNo],
      notIf: [{ id: 'n1', code: 'lighter-than', value: '25 kg', says: 'It may choke.' }],
    },
    gives: [[TOO_LIGHT('25 kg'), '1 bolus', '1 bolus']],
    reads: [
      'For any sheep, by mouth: 1 bolus for each animal. Not under 25 kg.',
      'Meat: 3 days after its release ends.',
      'Not under 25 kg: It may choke.',
    ],
    again: { Rate: '1 bolus per head', 'Meat period': '3 d' },
  },
  {
    style: 'a table of weights',
    terms: {
      name: 'Hestrin drench',
      form: 'drench',
      kind: 'volume',
      purpose: 'parasites',
      doseLines: [
        {
          id: 'd1',
          route: 'oral',
          rate: {
            style: 'bands',
            from: '10 kg',
            bands: [
              { upTo: '20 kg', dose: '5 mL' },
              { upTo: '45.5 kg', dose: '10 mL' },
            ],
          },
        },
      ],
      periods: [meat('21 d'), milkNo],
    },
    gives: [
      [
        '5 mL',
        '10 mL',
        'No dose. 80 kg is above 45.5 kg, where the label ends: it gives no dose for this weight.',
      ],
    ],
    reads: [
      'For any sheep, by mouth: from 10 kg; up to and with 20 kg 5 mL; up to and with 45.5 kg 10 mL; above that no dose.',
    ],
    again: {
      'Table: from': '10 kg',
      'Table, line 1: up to': '20 kg',
      'Table, line 1: dose': '5 mL',
      'Table, line 2: up to': '45.5 kg',
      'Table, line 2: dose': '10 mL',
      'Meat period': '21 d',
    },
  },
  {
    style: 'a table of weights with a further step',
    // 80 kg is 35 above 45: four steps of 10 kg or part, 10 + 4 × 2.5 = 20 mL
    terms: {
      name: 'Hestrin forte',
      form: 'drench',
      kind: 'volume',
      purpose: 'parasites',
      doseLines: [
        {
          id: 'd1',
          route: 'oral',
          rate: {
            style: 'bands',
            bands: [{ upTo: '45 kg', dose: '10 mL' }],
            furtherStep: { each: '10 kg', dose: '2.5 mL' },
          },
        },
      ],
      periods: [{ produce: 'meat', says: 'for-life' }, milkNo],
    },
    gives: [['10 mL', '10 mL', '20 mL']],
    reads: [
      'For any sheep, by mouth: up to and with 45 kg 10 mL; above that 2.5 mL more for each further 10 kg or part of it.',
      'Meat: never again, for life.',
    ],
    again: {
      'Table, line 1: up to': '45 kg',
      'Table, line 1: dose': '10 mL',
      'Table: for each further': '10 kg',
      'Table: so much more': '2.5 mL',
    },
  },
  {
    style: 'grams of powder for so many kg, more than is usual',
    // 45 × 100 ÷ 0.05 = 90,000 mg of powder
    terms: {
      name: 'Quenna powder',
      form: 'powder',
      kind: 'mass',
      purpose: 'other',
      actives: [{ substance: 'quenna', strength: '5 %' }],
      doseLines: [{ id: 'd1', route: 'oral', rate: { style: 'rate', text: '100 mg/kg' } }],
      periods: [meat('130 d'), milkNo],
    },
    gives: [['40 g', '90 g', '160 g']],
    reads: ['For any sheep, by mouth: 100 milligrams for each kilogram.'],
    asks: 'Meat: 130 d is a long period: is the label so?',
    again: { Rate: '100 mg/kg', 'Strength of quenna': '50 mg/g', 'Meat period': '130 d' },
  },
  {
    style: 'everything at once',
    terms: {
      name: 'Ostrane Duo',
      form: 'injection',
      kind: 'volume',
      purpose: 'antibiotic',
      actives: [
        { substance: 'ostrane', strength: '100 mg/mL' },
        { substance: 'pellin', strength: '20 mg/mL' },
      ],
      doseLines: [
        {
          id: 'd1',
          title: 'To begin',
          classes: ['lamb', 'ewe'],
          against: 'joint ill',
          route: 'intramuscular',
          rate: { style: 'rate', text: '10 mg/kg', of: 0 },
          mostWeight: '60 kg',
          leastAge: '2 d',
          mostAge: '10 weeks',
          mostPerSite: '3 mL',
          followedBy: 'd2',
        },
        {
          id: 'd2',
          title: 'To go on',
          route: 'subcutaneous',
          rate: { style: 'rate', text: '1 mg/kg', of: 1 },
        },
      ],
      periods: [
        { produce: 'meat', says: 'value', value: '28 d', classes: ['lamb'] },
        {
          produce: 'milk',
          says: 'value',
          value: '36 h',
          countedFrom: 'later-of-two',
          valueFromDose: '35 d',
        },
        { produce: 'meat', says: 'value', value: '42 d', doseLines: ['d2'] },
        { produce: 'meat', says: 'value', value: '60 d', market: 'export' },
      ],
      notIf: [
        { id: 'n1', code: 'class', value: 'ram' },
        { id: 'n2', code: 'younger-than', value: '2 d' },
        { id: 'n3', code: 'older-than', value: '70 d' },
        { id: 'n4', code: 'lighter-than', value: '3 kg' },
        { id: 'n5', code: 'heavier-than', value: '60 kg' },
        { id: 'n6', code: 'pregnant-from-to', from: '0 d', to: '35 d' },
        { id: 'n7', code: 'before-lambing', value: '28 d' },
        { id: 'n8', code: 'milking' },
        { id: 'n9', code: 'condition-under', value: '2.5' },
        { id: 'n10', code: 'shorn-within', value: '14 d' },
        { id: 'n11', code: 'same-substance-within', value: '21 d' },
        { id: 'n12', code: 'not-with', value: 'tessel' },
      ],
    },
    gives: [
      ['2 mL', '4.5 mL, in 2 places', 'No dose. The label is not for animals over 60 kg.'],
      ['1 mL', '2.3 mL', '4 mL'],
    ],
    reads: [
      'To begin. For lambs and ewes, into the muscle, against joint ill: ostrane, 10 milligrams for each kilogram. Not over 60 kg, not younger than 2 days, not older than 70 days. At most 3 mL in one place. Then go on with: To go on.',
      'To go on. For any sheep, under the skin: pellin, 1 milligram for each kilogram.',
      'Meat, for lambs: 28 days after the last dose.',
      'Milk: 36 hours after lambing or 35 days after the last dose, whichever is later.',
      'Meat, for the dose To go on: 42 days after the last dose.',
      'Meat, for export: 60 days after the last dose.',
      'Not for rams.',
      'Not in ewes from 0 days after the ram went in to 35 days after he came out.',
      'Not together with tessel.',
    ],
    again: {
      'Rate of To begin, ostrane': '10 mg/kg',
      'Rate of To go on, pellin': '1 mg/kg',
      'Strength of ostrane': '10 %',
      'Strength of pellin': '2 %',
      'Meat period, for lambs': '28 d',
      'Meat period, for the dose To go on': '42 d',
      'Meat period, for export': '60 d',
    },
  },
];
