import { type Insert, meat, milkNo, TOO_LIGHT } from './label-insert.ts';

/** The styles that come less often. */
export const MORE_INSERTS: readonly Insert[] = [
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
      [
        '2 mL',
        '4.5 mL, in 2 places',
        'No dose. The label is not for animals over 60 kg, and this one is 80 kg.',
      ],
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
