import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { checkTerms } from '../../src-shared/label/check.ts';
import { type NotIfGiven, notIfFindings } from '../../src-shared/label/not-if.ts';
import type { GivenBefore, GroupDates } from '../../src-shared/label/not-if-facts.ts';
import { type LabelTerms, labelTermsSchema, NOT_IF_CODES, type NotIf } from '../../src-shared/label/terms.ts';
import { addDays, type Day } from '../../src-shared/time/day.ts';
import { seeded } from '../property/seed.ts';

const DAY = '2026-11-28' as Day;
const day = (text: string) => text as Day;

function terms(rule: Omit<NotIf, 'id'>, more: object = {}): LabelTerms {
  const read = labelTermsSchema.parse({
    name: 'Calverol',
    form: 'drench',
    kind: 'volume',
    purpose: 'parasites',
    actives: [{ substance: 'calverol', strength: '10 mg/mL' }],
    doseLines: [{ id: 'd1', route: 'oral', rate: { style: 'rate', text: '1 mg/kg' } }],
    notIf: [{ id: 'n1', ...rule }],
    ...more,
  });
  checkTerms(read);
  return read;
}

const EWE: NotIfGiven = {
  day: DAY,
  class: 'ewe',
  sex: 'female',
  weight: { value: '60', unit: 'kg' },
  born: day('2023-04-01'),
  milking: false,
  groups: [],
  given: [],
  knownSince: day('2024-01-01'),
  together: [],
};
const given = (more: Partial<NotIfGiven>): NotIfGiven => ({ ...EWE, ...more });
const group = (dates: Partial<GroupDates>): GroupDates => ({ name: 'Ram group', ...dates });
const had = (on: string, more: Partial<GivenBefore> = {}): GivenBefore => ({
  name: 'Vermolin',
  substances: ['calverol'],
  on: day(on),
  how: 'given',
  ...more,
});
const RAM = group({ ramIn: day('2026-10-20'), ramOut: day('2026-11-24') });

/** Applies how, and the words after the rule. */
function judged(rule: Omit<NotIf, 'id'>, more: Partial<NotIfGiven>, label: object = {}) {
  const [found, second] = notIfFindings(terms({ ...rule, says: 'RULE' }, label), given(more));
  expect(second).toBeUndefined();
  return found === undefined ? 'no' : `${found.applies}${found.text.replace('RULE', '')}`;
}

type Case = [Omit<NotIf, 'id'>, Partial<NotIfGiven>, string, object?];
const EARLY = { code: 'pregnant-from-to', from: '0 d', to: '50 d' } as const;
const LATE = { code: 'pregnant-from-to', from: '100 d', to: '150 d' } as const;
const LAMBING = { code: 'before-lambing', value: '14 d' } as const;
const SHORN = { code: 'shorn-within', value: '14 d' } as const;
const AGAIN = { code: 'same-substance-within', value: '28 d' } as const;
const NOT_WITH = { code: 'not-with', value: 'Tarnicol' } as const;
const TARNICOL = { name: 'Tarnicol 20 %', substances: ['tarnicolate'] };
const NO_DATES = 'check; the book has no ram or lambing dates for it';
const OTHER_TIME = 'check; the ram and lambing dates in the book are of another time';

const CASES: readonly Case[] = [
  [{ code: 'class', value: 'ewe' }, {}, 'yes'],
  [{ code: 'class', value: 'ram' }, {}, 'no'],
  [{ code: 'class', value: 'lamb' }, { class: 'ewe-lamb' }, 'yes'],
  [{ code: 'class', value: 'ram-lamb' }, { class: 'lamb' }, 'check; the book says only that it is a lamb'],
  [{ code: 'milking' }, { milking: true }, 'yes; it is in milk by the book'],
  [{ code: 'milking' }, {}, 'no'],
  [{ code: 'lighter-than', value: '60.1 kg' }, {}, 'yes; it is 60 kg'],
  [{ code: 'lighter-than', value: '60 kg' }, {}, 'no'],
  [{ code: 'lighter-than', value: '60 kg' }, { weight: undefined }, 'check; the book has no weight'],
  [{ code: 'heavier-than', value: '132 lb' }, { weighedOn: DAY }, 'yes; it is 60 kg, weighed 28 Nov 2026'],
  [{ code: 'heavier-than', value: '133 lb' }, {}, 'no'],
  [{ code: 'heavier-than', value: '60 kg' }, { weight: undefined }, 'check; the book has no weight'],
  [
    { code: 'younger-than', value: '4 weeks' },
    { born: day('2026-11-01') },
    'yes; born 1 Nov 2026, so 27 days old',
  ],
  [{ code: 'younger-than', value: '27 d' }, { born: day('2026-11-01') }, 'no'],
  [{ code: 'younger-than', value: '27 d' }, { born: undefined }, 'check; the book has no day of birth'],
  [
    { code: 'older-than', value: '26 d' },
    { born: day('2026-11-01') },
    'yes; born 1 Nov 2026, so 27 days old',
  ],
  [{ code: 'older-than', value: '27 d' }, { born: day('2026-11-01') }, 'no'],
  [{ code: 'condition-under', value: '1.5' }, {}, 'check; the book keeps no body condition'],

  // Ram in 20 Oct to 24 Nov: on 28 Nov any stage from 4 to 39 days is possible.
  [EARLY, { groups: [RAM] }, 'yes; ram in 20 Oct 2026 to 24 Nov 2026, so day 4 to 39'],
  [{ ...EARLY, from: '39 d' }, { groups: [RAM] }, 'yes; ram in 20 Oct 2026 to 24 Nov 2026, so day 4 to 39'],
  [{ ...EARLY, from: '40 d' }, { groups: [RAM] }, 'no'],
  [{ ...EARLY, to: '4 d' }, { groups: [RAM] }, 'yes; ram in 20 Oct 2026 to 24 Nov 2026, so day 4 to 39'],
  [{ ...EARLY, to: '3 d' }, { groups: [RAM] }, 'no'],
  [LATE, { groups: [RAM] }, 'no'],
  [EARLY, { groups: [group({ ramIn: day('2026-10-20') })] }, 'yes; ram in since 20 Oct 2026, so day 0 to 39'],
  [EARLY, { groups: [group({ ramIn: day('2026-08-01') })] }, 'yes; ram in since 1 Aug 2026, so day 0 to 119'],
  [
    EARLY,
    { groups: [group({ ramIn: day('2026-10-20'), ramOut: day('2026-12-24') })] },
    'yes; ram in since 20 Oct 2026, so day 0 to 39',
  ],
  [LATE, { groups: [group({ ramOut: day('2026-11-24') })] }, 'yes; ram out 24 Nov 2026, so day 4 to 152'],
  [
    LATE,
    { groups: [group({ lambingFrom: day('2026-12-20'), lambingTo: day('2027-01-10') })] },
    'yes; lambing 20 Dec 2026 to 10 Jan 2027, so day 99 to 130',
  ],
  [EARLY, { groups: [group({ lambingFrom: day('2026-12-20'), lambingTo: day('2027-01-10') })] }, 'no'],
  [EARLY, { groups: [] }, NO_DATES],
  [EARLY, { groups: [group({ scanned: DAY, shorn: DAY } as Partial<GroupDates>)] }, NO_DATES],
  [EARLY, { groups: [group({ ramIn: day('2026-12-01') })] }, OTHER_TIME],
  [EARLY, { groups: [group({ ramIn: day('2025-10-20'), ramOut: day('2025-11-24') })] }, OTHER_TIME],
  [
    EARLY,
    { groups: [group({ ramIn: day('2025-10-20'), ramOut: day('2025-11-24') }), RAM] },
    'yes; ram in 20 Oct 2026 to 24 Nov 2026, so day 4 to 39',
  ],
  [EARLY, { groups: [RAM], class: 'wether' }, 'no'],
  [EARLY, { groups: [RAM], class: 'lamb', sex: 'male' }, 'no'],
  [
    EARLY,
    { groups: [RAM], class: 'lamb', sex: undefined },
    'yes; ram in 20 Oct 2026 to 24 Nov 2026, so day 4 to 39',
  ],

  [
    LAMBING,
    { groups: [group({ lambingFrom: day('2026-12-12'), lambingTo: day('2027-01-10') })] },
    'yes; lambing 12 Dec 2026 to 10 Jan 2027',
  ],
  [LAMBING, { groups: [group({ lambingFrom: day('2026-12-13'), lambingTo: day('2027-01-10') })] }, 'no'],
  [
    LAMBING,
    { groups: [group({ lambingFrom: day('2026-11-01'), lambingTo: DAY })] },
    'yes; lambing 1 Nov 2026 to 28 Nov 2026',
  ],
  [LAMBING, { groups: [group({ lambingFrom: day('2026-11-01'), lambingTo: day('2026-11-27') })] }, 'no'],
  [
    LAMBING,
    { groups: [group({ lambingFrom: day('2026-03-01'), lambingTo: day('2026-04-10') })] },
    OTHER_TIME,
  ],
  // 142 days after 23 Jul is 12 Dec, the first day on which she may lamb.
  [
    LAMBING,
    { groups: [group({ ramIn: day('2026-07-23'), ramOut: day('2026-08-23') })] },
    'yes; ram in 23 Jul 2026, so lambing from about 17 Dec 2026 (practice: 142 to 152 days)',
  ],
  [LAMBING, { groups: [group({ ramIn: day('2026-07-24'), ramOut: day('2026-08-23') })] }, 'no'],
  [LAMBING, { groups: [] }, NO_DATES],
  [LAMBING, { groups: [], class: 'ram' }, 'no'],

  [SHORN, { groups: [group({ shorn: day('2026-11-14') })] }, 'yes; shorn 14 Nov 2026, 14 days before'],
  [SHORN, { groups: [group({ shorn: day('2026-11-13') })] }, 'no'],
  [
    { ...SHORN, value: '36 h' },
    { groups: [group({ shorn: day('2026-11-26') })] },
    'yes; shorn 26 Nov 2026, 2 days before',
  ],
  [
    SHORN,
    { groups: [group({ shorn: day('2026-06-01') }), group({ shorn: day('2026-11-27') })] },
    'yes; shorn 27 Nov 2026, 1 day before',
  ],
  [SHORN, { groups: [group({ shorn: day('2026-12-01') })] }, 'check; the book has no day of shearing for it'],
  [SHORN, { groups: [] }, 'check; the book has no day of shearing for it'],

  [AGAIN, { given: [had('2026-10-31')] }, 'yes; it had Vermolin (calverol) on 31 Oct 2026, 28 days before'],
  [AGAIN, { given: [had('2026-10-30')] }, 'no'],
  [
    AGAIN,
    { given: [had('2026-11-20', { substances: ['Calverol acetate'] })] },
    'yes; it had Vermolin (calverol) on 20 Nov 2026, 8 days before',
  ],
  [AGAIN, { given: [had('2026-11-20', { substances: ['calverolone'] })] }, 'no'],
  [
    AGAIN,
    { given: [had('2026-11-20', { how: 'possibly' })] },
    'yes; it may have had, and counts as treated with, Vermolin (calverol) on 20 Nov 2026, 8 days before',
  ],
  [
    AGAIN,
    { given: [had('2026-11-20', { substances: [] })] },
    'check; the label of Vermolin names no active substance',
  ],
  [
    AGAIN,
    { knownSince: day('2026-11-20') },
    'check; the book has it since 20 Nov 2026, and not what it had before',
  ],
  [AGAIN, { knownSince: undefined }, 'check; the book does not say since when it is here'],
  [AGAIN, { knownSince: day('2026-11-20'), born: day('2026-11-20') }, 'no'],
  [
    AGAIN,
    { together: [{ name: 'Vermolin', substances: ['CALVEROL'] }] },
    'yes; given together with Vermolin (calverol)',
  ],
  [
    AGAIN,
    {},
    'check; its label names no active substance',
    {
      actives: [],
      doseLines: [{ id: 'd1', route: 'oral', rate: { style: 'rate', text: '1 mL per 10 kg' } }],
    },
  ],

  [NOT_WITH, { together: [TARNICOL] }, 'yes; given together with Tarnicol 20 %'],
  [
    { code: 'not-with', value: 'tarnicolate' },
    { together: [TARNICOL] },
    'yes; given together with Tarnicol 20 %',
  ],
  [
    NOT_WITH,
    { given: [had('2026-11-28', TARNICOL)] },
    'yes; it had Tarnicol 20 % on 28 Nov 2026, the same day',
  ],
  [NOT_WITH, { given: [had('2026-11-27', TARNICOL)] }, 'no'],
  [
    { ...NOT_WITH, to: '7 d' },
    { given: [had('2026-11-21', TARNICOL)] },
    'yes; it had Tarnicol 20 % on 21 Nov 2026, 7 days before',
  ],
  [{ ...NOT_WITH, to: '7 d' }, { given: [had('2026-11-20', TARNICOL)] }, 'no'],
  [
    { code: 'not-with', value: 'other drenches' },
    { together: [TARNICOL] },
    'check; it is given beside Tarnicol 20 %',
  ],
  [{ code: 'not-with', value: 'other drenches' }, {}, 'no'],
];

describe('each "not if" row is judged by what the book knows, and checked by eye where it does not', () => {
  test.each(CASES.map((each) => [each[0].code, each] as const))(
    '%s',
    (_code, [rule, more, expected, label]) => {
      expect(judged(rule, more, label)).toBe(expected);
    },
  );

  test('the table has every code there is', () => {
    expect(new Set(CASES.map(([rule]) => rule.code))).toEqual(new Set(NOT_IF_CODES));
  });

  test('without words of its own a row is said in full, the facts after it', () => {
    const [found] = notIfFindings(terms(EARLY), given({ groups: [RAM] }));
    expect(found?.text).toBe(
      'Not in ewes from 0 days after the ram went in to 50 days after he came out; ram in 20 Oct 2026 to 24 Nov 2026, so day 4 to 39',
    );
    const [typed] = notIfFindings(
      terms({ ...EARLY, says: 'Not in the first 50 days.' }),
      given({ groups: [RAM] }),
    );
    expect(typed?.rule).toBe('Not in the first 50 days');
  });
});

test('more that is known of groups and treatments never turns a bar into silence', () => {
  const someDay = fc.integer({ min: -500, max: 60 }).map((n) => addDays(DAY, n));
  const may = fc.option(someDay, { nil: undefined });
  const groups = fc.array(
    fc.record({
      name: fc.constant('G'),
      ramIn: may,
      ramOut: may,
      lambingFrom: may,
      lambingTo: may,
      shorn: may,
    }),
    { maxLength: 4 },
  );
  const treatments = fc.array(
    fc.record({
      name: fc.constantFrom('Vermolin', 'Tarnicol'),
      substances: fc.constantFrom([], ['calverol'], ['tarnicolate']),
      on: someDay,
      how: fc.constantFrom('given' as const, 'possibly' as const),
    }),
    { maxLength: 4 },
  );
  const rule = fc.constantFrom(EARLY, LATE, LAMBING, SHORN, AGAIN, NOT_WITH);
  fc.assert(
    fc.property(rule, groups, groups, treatments, treatments, (each, some, moreGroups, few, moreGiven) => {
      const applies = (facts: Partial<NotIfGiven>) => notIfFindings(terms(each), given(facts))[0]?.applies;
      const before = applies({ groups: some, given: few });
      const after = applies({ groups: [...some, ...moreGroups], given: [...few, ...moreGiven] });
      if (before === 'yes') expect(after).toBe('yes');
    }),
    seeded('not-if'),
  );
});
