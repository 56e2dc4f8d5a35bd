import { type Insert, meat, milkNo } from './label-insert.ts';
import { MORE_INSERTS } from './label-inserts-more.ts';

export type { Insert } from './label-insert.ts';

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
  ...MORE_INSERTS,
];
