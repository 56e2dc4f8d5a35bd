/**
 * What must come of the day, reckoned by hand from the labels and the weights in fixture.ts before the program was
 * asked. Every number is written out, with the arithmetic beside it. One pound is 0.45359237 kg.
 */

export type DoseExpected = {
  animal: string;
  exact: string;
  draw: string;
  sites: readonly string[];
  from: readonly (readonly [label: string, take: string])[];
};

/**
 * 3000 IU for each lb ÷ 300,000 IU in each mL = 0.01 mL for each lb, that is lb ÷ 100. Marks of 0.1 mL, nearest,
 * ties up; at most 2 mL a site. The 6 mL bottle expires first, so it goes first.
 */
export const INJECTED: readonly DoseExpected[] = [
  // 137 ÷ 100 = 1.37 → 1.4; 6 − 1.4 = 4.6 left
  {
    animal: 'UK 0 700123 00001',
    exact: '1.37 mL',
    draw: '1.4 mL',
    sites: ['1.4 mL'],
    from: [['OR-51-1', '1.4 mL']],
  },
  // 150 ÷ 100 = 1.5; 4.6 − 1.5 = 3.1 left
  {
    animal: 'UK 0 700123 00002',
    exact: '1.5 mL',
    draw: '1.5 mL',
    sites: ['1.5 mL'],
    from: [['OR-51-1', '1.5 mL']],
  },
  // 62 kg ÷ 0.45359237 = 136.6866025546 lb → 1.366866025546 → 1.4; 3.1 − 1.4 = 1.7 left
  {
    animal: 'UK 0 700123 00003',
    exact: '1.36686603 mL',
    draw: '1.4 mL',
    sites: ['1.4 mL'],
    from: [['OR-51-1', '1.4 mL']],
  },
  // 71.5 kg ÷ 0.45359237 = 157.630517462 lb → 1.576305174621 → 1.6; 1.7 − 1.6 = 0.1 left
  {
    animal: 'UK 0 700123 00004',
    exact: '1.57630517 mL',
    draw: '1.6 mL',
    sites: ['1.6 mL'],
    from: [['OR-51-1', '1.6 mL']],
  },
  // 165 ÷ 100 = 1.65, halfway, so up: 1.7; the last 0.1 of the small bottle and 1.7 − 0.1 = 1.6 of a new one
  {
    animal: 'UK 0 700123 00005',
    exact: '1.65 mL',
    draw: '1.7 mL',
    sites: ['1.7 mL'],
    from: [
      ['OR-51-1', '0.1 mL'],
      ['OR-77-1', '1.6 mL'],
    ],
  },
  // 96 kg ÷ 0.45359237 = 211.643771697 lb → 2.116437716974 → 2.1; over 2 mL, so two sites, 1.1 + 1
  {
    animal: 'UK 0 700123 00006',
    exact: '2.11643772 mL',
    draw: '2.1 mL',
    sites: ['1.1 mL', '1 mL'],
    from: [['OR-77-1', '2.1 mL']],
  },
  // 50 ÷ 100 = 0.5
  {
    animal: 'UK 0 700123 00008',
    exact: '0.5 mL',
    draw: '0.5 mL',
    sites: ['0.5 mL'],
    from: [['OR-77-1', '0.5 mL']],
  },
];

/** 1.4 + 1.5 + 1.4 + 1.6 + 1.7 + 2.1 + 0.5 = 10.2; the 6 mL bottle whole, and 10.2 − 6 = 4.2 of the next. */
export const INJECTION_PLAN = {
  needs: '10.2 mL',
  draws: [
    ['OR-51-1', '6 mL'],
    ['OR-77-1', '4.2 mL'],
  ],
};

/** Bands: 40–50 lb 5 mL, to 100 lb 10 mL, to 150 lb 15 mL, then 5 mL more for each further 50 lb or part. */
export const DRENCHED: readonly DoseExpected[] = [
  // 137 lb: up to 150. The 100 mL pack: 85 left
  one('UK 0 700123 00001', '15 mL', [['TM-300-1', '15 mL']]),
  // 150 lb, on the edge: still 15. 70 left
  one('UK 0 700123 00002', '15 mL', [['TM-300-1', '15 mL']]),
  // 62 kg = 136.7 lb. 55 left
  one('UK 0 700123 00003', '15 mL', [['TM-300-1', '15 mL']]),
  // 71.5 kg = 157.6 lb: 7.6 over, one part, 15 + 5. 35 left
  one('UK 0 700123 00004', '20 mL', [['TM-300-1', '20 mL']]),
  // 165 lb: 15 over, one part. 15 left
  one('UK 0 700123 00005', '20 mL', [['TM-300-1', '20 mL']]),
  // 96 kg = 211.6 lb: 61.6 over, two parts, 15 + 10. The last 15, and 10 of the big pack: 490 left
  one('UK 0 700123 00006', '25 mL', [
    ['TM-300-1', '15 mL'],
    ['TM-412-1', '10 mL'],
  ]),
  // 200 lb: exactly 50 over, one part. 470 left
  one('UK 0 700123 00007', '20 mL', [['TM-412-1', '20 mL']]),
  // 50 lb, on the edge: 5. 465 left
  one('UK 0 700123 00008', '5 mL', [['TM-412-1', '5 mL']]),
  // 22.68 kg ÷ 0.45359237 = 50.00084 lb: over the edge, 10. 455 left
  one('UK 0 700123 00009', '10 mL', [['TM-412-1', '10 mL']]),
  // 101 lb at the race, over 100: 15 (the list had 100 lb, 10). 440 left
  one('UK 0 700123 00010', '15 mL', [['TM-412-1', '15 mL']]),
  // 40 lb, where the label begins: 5. 435 left
  one('UK 0 700123 00011', '5 mL', [['TM-412-1', '5 mL']]),
  // 19 kg = 41.9 lb: 5. 430 left
  one('UK 0 700123 00012', '5 mL', [['TM-412-1', '5 mL']]),
];

function one(animal: string, draw: string, from: DoseExpected['from']): DoseExpected {
  return { animal, exact: draw, draw, sites: [draw], from };
}

/** By the weights of the list (the wether at 100 lb gets 10): 15+15+15+20+20+25+20+5+10+10+5+5 = 165. */
export const DRENCH_PLAN = {
  needs: '165 mL',
  // 165 − 100 = 65
  draws: [
    ['TM-300-1', '100 mL'],
    ['TM-412-1', '65 mL'],
  ],
  planned: ['15', '15', '15', '20', '20', '25', '20', '5', '10', '10', '5', '5'].map((mL) => `${mL} mL`),
};

/** 12 × 2 = 24 and 40 × 2 = 80, together 104: two packs of 50 and 4 of the third. */
export const VACCINE_PLAN = {
  needs: '104 mL',
  draws: [
    ['UV-8-1', '50 mL'],
    ['UV-8-2', '50 mL'],
    ['UV-8-3', '4 mL'],
  ],
};
/** After twelve doses 50 − 24 = 26 are left in the first pack: the lot takes 26 + 50 + 4 = 80. */
export const VACCINE_LOT_DRAWS = [
  ['UV-8-1', '26 mL'],
  ['UV-8-2', '50 mL'],
  ['UV-8-3', '4 mL'],
];

/** 19 kg ÷ 0.45359237 = 41.887829815 lb → 0.41887829815 mL → 0.42 on marks of 0.01. */
export const VET_DOSE = { exact: '0.418878298 mL', draw: '0.42 mL' };

/** 1 Mar is not counted; 2 Mar to 15 Mar are 14 days; clear on the 16th. The clocks have not gone forward. */
export const CLEAR_AS_TYPED = '2026-03-16T00:00:00+00:00';
/** 2 Mar to 31 Mar are 30 days, 1 Apr to 11 Apr are 11, together 41; clear on 12 Apr, by then summer time. */
export const CLEAR_AS_PRINTED = '2026-04-12T00:00:00+01:00';
/** 2 Mar to 8 Mar are 7 days. */
export const DRENCH_CLEAR = '2026-03-09T00:00:00+00:00';

/** The eight that had the injection, the one from the vet's bottle included. */
const INJECTED_TAGS = ['00001', '00002', '00003', '00004', '00005', '00006', '00008', '00012'].map(
  (end) => `UK 0 700123 ${end}`,
);
/** The four that had only the drench and the vaccine. */
const DRENCH_ONLY = ['00007', '00009', '00010', '00011'].map((end) => `UK 0 700123 ${end}`);
const LOT = 'Hill lambs';

export type ClearExpected = { at: string; clear: readonly string[]; held: Readonly<Record<string, string>> };
const heldUntil = (tags: readonly string[], until: string) =>
  Object.fromEntries(tags.map((tag) => [tag, until]));

export const CLEAR_BEFORE: readonly ClearExpected[] = [
  {
    at: '2026-03-08T23:59',
    clear: [LOT],
    held: { ...heldUntil(DRENCH_ONLY, DRENCH_CLEAR), ...heldUntil(INJECTED_TAGS, CLEAR_AS_TYPED) },
  },
  { at: '2026-03-09', clear: [...DRENCH_ONLY, LOT], held: heldUntil(INJECTED_TAGS, CLEAR_AS_TYPED) },
  { at: '2026-03-15T23:59', clear: [...DRENCH_ONLY, LOT], held: heldUntil(INJECTED_TAGS, CLEAR_AS_TYPED) },
  { at: '2026-03-16', clear: [...INJECTED_TAGS, ...DRENCH_ONLY, LOT], held: {} },
];
export const CLEAR_AFTER: readonly ClearExpected[] = [
  { at: '2026-03-16', clear: [...DRENCH_ONLY, LOT], held: heldUntil(INJECTED_TAGS, CLEAR_AS_PRINTED) },
  { at: '2026-04-11T23:59', clear: [...DRENCH_ONLY, LOT], held: heldUntil(INJECTED_TAGS, CLEAR_AS_PRINTED) },
  { at: '2026-04-12', clear: [...INJECTED_TAGS, ...DRENCH_ONLY, LOT], held: {} },
];

/**
 * Milk of the ewe that is milked: injection 1 Mar 09:00 + 72 h = 4 Mar 09:00; drench 1 Mar 10:00 + 96 h = 5 Mar
 * 10:00, which is the later.
 */
export const MILK = {
  heldAt: '2026-03-05T09:59',
  clearAt: '2026-03-05T10:00',
  until: '2026-03-05T10:00:00+00:00',
};

/**
 * By the label as it was typed: product, produce, state, until. A zero period ends at the dose itself. The second
 * gives no milk: its milk clock runs unseen.
 */
export const HOLDS: Readonly<Record<string, readonly (readonly string[])[]>> = {
  'UK 0 700123 00001': [
    ['Orvandrex Injection', 'meat', 'until', '2026-03-16T00:00:00+00:00'],
    ['Orvandrex Injection', 'milk', 'until', '2026-03-04T09:00:00+00:00'],
    ['Tollermint Drench', 'meat', 'until', '2026-03-09T00:00:00+00:00'],
    ['Tollermint Drench', 'milk', 'until', '2026-03-05T10:00:00+00:00'],
    ['Ulverane Vaccine', 'meat', 'until', '2026-03-01T13:30:00+00:00'],
    ['Ulverane Vaccine', 'milk', 'until', '2026-03-01T13:30:00+00:00'],
  ],
  'UK 0 700123 00012': [
    ['Tollermint Drench', 'meat', 'until', '2026-03-09T00:00:00+00:00'],
    ['Tollermint Drench', 'milk', 'dormant', '2026-03-05T10:55:00+00:00'],
    ['Orvandrex Injection', 'meat', 'until', '2026-03-16T00:00:00+00:00'],
    ['Orvandrex Injection', 'milk', 'dormant', '2026-03-04T11:30:00+00:00'],
    ['Ulverane Vaccine', 'meat', 'until', '2026-03-01T13:30:00+00:00'],
    ['Ulverane Vaccine', 'milk', 'dormant', '2026-03-01T13:30:00+00:00'],
  ],
};

/** Who moves when the label is corrected: meat only, the milk period was typed rightly. */
export const MOVED = INJECTED_TAGS.map((shown) => ({
  shown,
  produce: 'meat',
  from: '16 Mar 2026, 00:00',
  to: '12 Apr 2026, 00:00',
}));

/** As the paper says the refused one. */
export const HELD_SENTENCE =
  'UK 0 700123 00005: Meat held until 12 Apr 2026, 00:00 (Orvandrex Injection, 41 d)';
export const NOTICE_NAMES = ['UK 0 700123 00002', 'UK 0 700123 00004'];

/** Columns: label | received | left | state | last day of use. */
export const CABINET = table(`
  OR-51-1  | 6 mL   | 0.2 mL  | open     | 28 Mar 2026
  OR-77-1  | 50 mL  | 45.8 mL | open     | 28 Mar 2026
  OR-77-2  | 50 mL  | 50 mL   | sealed   | 31 Mar 2027
  TM-300-1 | 100 mL | 0 mL    | empty    | 29 May 2026
  TM-412-1 | 500 mL | 430 mL  | open     | 29 May 2026
  UV-8-1   | 50 mL  | 0 mL    | empty    | 1 Mar 2026, until 23:30
  UV-8-2   | 50 mL  | 0 mL    | empty    | 1 Mar 2026, until 23:30
  UV-8-3   | 50 mL  | 0 mL    | disposed | 1 Mar 2026, until 23:30
`);
// OR-51-1: 6 − 1.4 − 1.5 − 1.4 − 1.6 − 0.1 = 0, and the correction gives 1.5 − 1.3 = 0.2 back.
// OR-77-1: 50 − 1.6 − 2.1 − 0.5 = 45.8. Both opened 1 Mar: 28 days, 1 Mar to 28 Mar. OR-77-2 prints a month.
// TM: opened 1 Mar, 90 days, 1 Mar to 29 May (31 + 30 + 29). 500 − 10 − 20 − 5 − 10 − 15 − 5 − 5 = 430.
// UV-8: opened 13:30, ten hours. The third: 50 − 4 − 3 for priming = 43, poured away next morning.
export const DISCARDED_AMOUNT = '43 mL';

/**
 * The treatment record after the label was corrected, as printed. Columns: date | animal or lot | heads | product |
 * batch | dose a head | in all | meat period | meat until | milk period | milk until | state.
 * In the animals that give no milk the clock runs unseen, and the paper says so with a star here.
 */
export const BOOK = table(`
  1 Mar 2026, 09:00 | UK 0 700123 00001 | 1  | Orvandrex Injection | OR-51          | 1.4 mL  | 1.4 mL  | 41 d | 12 Apr 2026, 00:00 | 72 h | 4 Mar 2026, 09:00  | stands
  1 Mar 2026, 09:05 | UK 0 700123 00002 | 1  | Orvandrex Injection | OR-51          | 1.5 mL  | 1.5 mL  | 14 d | 16 Mar 2026, 00:00 | 72 h | *4 Mar 2026, 09:05 | struck
  1 Mar 2026, 09:05 | UK 0 700123 00002 | 1  | Orvandrex Injection | OR-51          | 1.3 mL  | 1.3 mL  | 41 d | 12 Apr 2026, 00:00 | 72 h | *4 Mar 2026, 09:05 | stands
  1 Mar 2026, 09:10 | UK 0 700123 00003 | 1  | Orvandrex Injection | OR-51          | 1.4 mL  | 1.4 mL  | 41 d | 12 Apr 2026, 00:00 | 72 h | *4 Mar 2026, 09:10 | stands
  1 Mar 2026, 09:15 | UK 0 700123 00004 | 1  | Orvandrex Injection | OR-51          | 1.6 mL  | 1.6 mL  | 41 d | 12 Apr 2026, 00:00 | 72 h | *4 Mar 2026, 09:15 | stands
  1 Mar 2026, 09:20 | UK 0 700123 00005 | 1  | Orvandrex Injection | OR-51, OR-77   | 1.7 mL  | 1.7 mL  | 41 d | 12 Apr 2026, 00:00 | 72 h | *4 Mar 2026, 09:20 | stands
  1 Mar 2026, 09:25 | UK 0 700123 00006 | 1  | Orvandrex Injection | OR-77          | 2.1 mL  | 2.1 mL  | 41 d | 12 Apr 2026, 00:00 | 72 h | *4 Mar 2026, 09:25 | stands
  1 Mar 2026, 09:30 | UK 0 700123 00008 | 1  | Orvandrex Injection | OR-77          | 0.5 mL  | 0.5 mL  | 41 d | 12 Apr 2026, 00:00 | 72 h | *4 Mar 2026, 09:30 | stands
  1 Mar 2026, 10:00 | UK 0 700123 00001 | 1  | Tollermint Drench   | TM-300         | 15 mL   | 15 mL   | 7 d  | 9 Mar 2026, 00:00  | 96 h | 5 Mar 2026, 10:00  | stands
  1 Mar 2026, 10:05 | UK 0 700123 00002 | 1  | Tollermint Drench   | TM-300         | 15 mL   | 15 mL   | 7 d  | 9 Mar 2026, 00:00  | 96 h | *5 Mar 2026, 10:05 | stands
  1 Mar 2026, 10:10 | UK 0 700123 00003 | 1  | Tollermint Drench   | TM-300         | 15 mL   | 15 mL   | 7 d  | 9 Mar 2026, 00:00  | 96 h | *5 Mar 2026, 10:10 | stands
  1 Mar 2026, 10:15 | UK 0 700123 00004 | 1  | Tollermint Drench   | TM-300         | 20 mL   | 20 mL   | 7 d  | 9 Mar 2026, 00:00  | 96 h | *5 Mar 2026, 10:15 | stands
  1 Mar 2026, 10:20 | UK 0 700123 00005 | 1  | Tollermint Drench   | TM-300         | 20 mL   | 20 mL   | 7 d  | 9 Mar 2026, 00:00  | 96 h | *5 Mar 2026, 10:20 | stands
  1 Mar 2026, 10:25 | UK 0 700123 00006 | 1  | Tollermint Drench   | TM-300, TM-412 | 25 mL   | 25 mL   | 7 d  | 9 Mar 2026, 00:00  | 96 h | *5 Mar 2026, 10:25 | stands
  1 Mar 2026, 10:30 | UK 0 700123 00007 | 1  | Tollermint Drench   | TM-412         | 20 mL   | 20 mL   | 7 d  | 9 Mar 2026, 00:00  | 96 h | *5 Mar 2026, 10:30 | stands
  1 Mar 2026, 10:35 | UK 0 700123 00008 | 1  | Tollermint Drench   | TM-412         | 5 mL    | 5 mL    | 7 d  | 9 Mar 2026, 00:00  | 96 h | *5 Mar 2026, 10:35 | stands
  1 Mar 2026, 10:40 | UK 0 700123 00009 | 1  | Tollermint Drench   | TM-412         | 10 mL   | 10 mL   | 7 d  | 9 Mar 2026, 00:00  | 96 h | *5 Mar 2026, 10:40 | stands
  1 Mar 2026, 10:45 | UK 0 700123 00010 | 1  | Tollermint Drench   | TM-412         | 15 mL   | 15 mL   | 7 d  | 9 Mar 2026, 00:00  | 96 h | *5 Mar 2026, 10:45 | stands
  1 Mar 2026, 10:50 | UK 0 700123 00011 | 1  | Tollermint Drench   | TM-412         | 5 mL    | 5 mL    | 7 d  | 9 Mar 2026, 00:00  | 96 h | *5 Mar 2026, 10:50 | stands
  1 Mar 2026, 10:55 | UK 0 700123 00012 | 1  | Tollermint Drench   | TM-412         | 5 mL    | 5 mL    | 7 d  | 9 Mar 2026, 00:00  | 96 h | *5 Mar 2026, 10:55 | stands
  1 Mar 2026, 11:30 | UK 0 700123 00012 | 1  | Orvandrex Injection | VX-900         | 0.42 mL | 0.42 mL | 41 d | 12 Apr 2026, 00:00 | 72 h | *4 Mar 2026, 11:30 | stands
  1 Mar 2026, 13:30 | UK 0 700123 00001 | 1  | Ulverane Vaccine    | UV-8           | 2 mL    | 2 mL    | zero | 1 Mar 2026, 13:30  | zero | 1 Mar 2026, 13:30  | stands
  1 Mar 2026, 13:30 | UK 0 700123 00002 | 1  | Ulverane Vaccine    | UV-8           | 2 mL    | 2 mL    | zero | 1 Mar 2026, 13:30  | zero | *1 Mar 2026, 13:30 | stands
  1 Mar 2026, 13:30 | UK 0 700123 00003 | 1  | Ulverane Vaccine    | UV-8           | 2 mL    | 2 mL    | zero | 1 Mar 2026, 13:30  | zero | *1 Mar 2026, 13:30 | stands
  1 Mar 2026, 13:30 | UK 0 700123 00004 | 1  | Ulverane Vaccine    | UV-8           | 2 mL    | 2 mL    | zero | 1 Mar 2026, 13:30  | zero | *1 Mar 2026, 13:30 | stands
  1 Mar 2026, 13:30 | UK 0 700123 00005 | 1  | Ulverane Vaccine    | UV-8           | 2 mL    | 2 mL    | zero | 1 Mar 2026, 13:30  | zero | *1 Mar 2026, 13:30 | stands
  1 Mar 2026, 13:30 | UK 0 700123 00006 | 1  | Ulverane Vaccine    | UV-8           | 2 mL    | 2 mL    | zero | 1 Mar 2026, 13:30  | zero | *1 Mar 2026, 13:30 | stands
  1 Mar 2026, 13:30 | UK 0 700123 00007 | 1  | Ulverane Vaccine    | UV-8           | 2 mL    | 2 mL    | zero | 1 Mar 2026, 13:30  | zero | *1 Mar 2026, 13:30 | stands
  1 Mar 2026, 13:30 | UK 0 700123 00008 | 1  | Ulverane Vaccine    | UV-8           | 2 mL    | 2 mL    | zero | 1 Mar 2026, 13:30  | zero | *1 Mar 2026, 13:30 | stands
  1 Mar 2026, 13:30 | UK 0 700123 00009 | 1  | Ulverane Vaccine    | UV-8           | 2 mL    | 2 mL    | zero | 1 Mar 2026, 13:30  | zero | *1 Mar 2026, 13:30 | stands
  1 Mar 2026, 13:30 | UK 0 700123 00010 | 1  | Ulverane Vaccine    | UV-8           | 2 mL    | 2 mL    | zero | 1 Mar 2026, 13:30  | zero | *1 Mar 2026, 13:30 | stands
  1 Mar 2026, 13:30 | UK 0 700123 00011 | 1  | Ulverane Vaccine    | UV-8           | 2 mL    | 2 mL    | zero | 1 Mar 2026, 13:30  | zero | *1 Mar 2026, 13:30 | stands
  1 Mar 2026, 13:30 | UK 0 700123 00012 | 1  | Ulverane Vaccine    | UV-8           | 2 mL    | 2 mL    | zero | 1 Mar 2026, 13:30  | zero | *1 Mar 2026, 13:30 | stands
  1 Mar 2026, 13:30 | Hill lambs        | 40 | Ulverane Vaccine    | UV-8           | 2 mL    | 80 mL   | zero | 1 Mar 2026, 13:30  | zero | *1 Mar 2026, 13:30 | stands
`);
/** 8 of the injection with the struck one, 12 of the drench, 1 of the vet's, 13 of the vaccine: 34. */
export const BOOK_COUNT = 34;

/**
 * 34 − 1 struck = 33 stand; heads 7 + 12 + 1 + 12 + 40 = 72. Injection 1.4 + 1.3 + 1.4 + 1.6 + 1.7 + 2.1 + 0.5 + 0.42
 * = 10.42; drench 15 × 4 + 20 × 3 + 25 + 10 + 5 × 3 = 170; vaccine 52 × 2 = 104.
 */
export const TOTALS = {
  said: '33 treatments stand, 72 head treated in all; 1 struck line is shown and not counted.',
  products: table(`
    Orvandrex Injection | 8  | 8  | 10.42 mL
    Tollermint Drench   | 12 | 12 | 170 mL
    Ulverane Vaccine    | 13 | 52 | 104 mL
  `),
};

/** Columns: animal or lot | heads | product | batch | given | quantity | period | meat held until. */
export const FIRST_PAPER = table(`
  UK 0 700123 00002 | 1  | Orvandrex Injection | OR-51  | 1 Mar 2026, 09:05 | 1.3 mL | 14 d | 16 Mar 2026, 00:00
  UK 0 700123 00002 | 1  | Tollermint Drench   | TM-300 | 1 Mar 2026, 10:05 | 15 mL  | 7 d  | 9 Mar 2026, 00:00
  UK 0 700123 00004 | 1  | Orvandrex Injection | OR-51  | 1 Mar 2026, 09:15 | 1.6 mL | 14 d | 16 Mar 2026, 00:00
  UK 0 700123 00004 | 1  | Tollermint Drench   | TM-300 | 1 Mar 2026, 10:15 | 20 mL  | 7 d  | 9 Mar 2026, 00:00
  UK 0 700123 00009 | 1  | Tollermint Drench   | TM-412 | 1 Mar 2026, 10:40 | 10 mL  | 7 d  | 9 Mar 2026, 00:00
  Hill lambs        | 10 | nothing             |        |                   |        |      |
`);
/** Two treatments of two ewes, one of the ewe lamb, one line of the lot. 1 + 1 + 1 + 10 heads. */
export const FIRST_COUNT = 6;
export const FIRST_HEADS = '13 head are declared: 2 ewes, 1 ewe lamb, 10 lambs.';

export const SECOND_PAPER = table(`
  UK 0 700123 00010 | 1  | Tollermint Drench | TM-412 | 1 Mar 2026, 10:45 | 15 mL | 7 d | 9 Mar 2026, 00:00
  Hill lambs        | 30 | nothing           |        |                   |       |     |
`);
export const SECOND_COUNT = 2;

/** Rows of cells from a table typed with bars. */
function table(text: string): string[][] {
  return text
    .trim()
    .split('\n')
    .map((line) => line.split('|').map((cell) => cell.trim()));
}
