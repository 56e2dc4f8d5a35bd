import { describe, expect, test } from 'vitest';
import { typeAgain } from '../../src-renderer/screens/label/again.ts';
import {
  blankLabel,
  blankLine,
  blankPeriod,
  draftOf,
  type LabelDraft,
} from '../../src-renderer/screens/label/draft.ts';
import { readDraft } from '../../src-renderer/screens/label/problems.ts';
import { sampleDoses } from '../../src-renderer/screens/label/reading.ts';
import { sayTerms } from '../../src-shared/label/say.ts';
import type { LabelTerms } from '../../src-shared/label/terms.ts';
import { attempt } from '../../src-shared/refusal.ts';

/**
 * Twelve slips of the hand, each on a label that says otherwise. Whoever types gets past the form, its questions and
 * the second typing only with what the insert says: each slip is held to the code that the screen itself runs.
 * `by` lists every means that catches it; "second typing" is the right figure typed the second time.
 */

type Means = 'refused' | 'other statement' | 'asked' | 'second typing';
type Typed = {
  strength?: string;
  salt?: string;
  strengthOf?: string;
  rate?: string;
  perVolume?: string;
  onward?: string;
  meat?: string;
  earlier?: string;
  route?: string;
};

/** The form as somebody would fill it in. */
function typedIn(typed: Typed): LabelDraft {
  const line = { ...blankLine('d1'), route: typed.route ?? 'subcutaneous' };
  const rate = { ...line.rate, text: typed.rate ?? '0.2 mg/kg', perVolume: typed.perVolume ?? '' };
  const lines = [{ ...line, rate, followedBy: typed.onward === undefined ? '' : 'd2' }];
  if (typed.onward !== undefined) lines.push({ ...line, id: 'd2', rate: { ...rate, text: typed.onward } });
  return {
    ...blankLabel,
    name: 'Calverol',
    form: 'injection',
    kind: 'volume',
    purpose: 'antibiotic',
    actives: [
      {
        substance: 'calverol',
        strength: typed.strength ?? '10 mg/mL',
        salt: typed.salt ?? '',
        strengthOf: typed.strengthOf ?? '',
      },
    ],
    doseLines: lines,
    periods: [
      { ...blankPeriod('meat'), says: 'value', value: typed.meat ?? '28 d' },
      { ...blankPeriod('milk'), says: 'not-for-this-produce' },
    ],
  };
}

function read(typed: Typed) {
  const earlier =
    typed.earlier === undefined ? [] : [termsOf({ ...typed, meat: typed.earlier, earlier: undefined })];
  return readDraft(typedIn(typed), earlier);
}
function termsOf(typed: { [K in keyof Typed]: Typed[K] | undefined }): LabelTerms {
  const given = Object.fromEntries(Object.entries(typed).filter(([, value]) => value !== undefined));
  const found = readDraft(typedIn(given));
  if ('problems' in found) throw new Error(found.problems.map((one) => one.message).join(' '));
  return found.terms;
}

/** The figure typed a second time from the insert, against what was typed first: true when something differs. */
function secondTypingDiffers(slip: LabelTerms, insert: LabelTerms): boolean {
  const right = new Map(typeAgain(insert).map((one) => [one.key, one.text]));
  return typeAgain(slip).some((one) => {
    const text = right.get(one.key);
    if (text === undefined) return true;
    // What cannot be read beside the first typing does not agree with it either.
    const outcome = attempt(() => one.agrees(text, one.key));
    return !outcome.ok || !outcome.value;
  });
}

function caughtBy(slip: Typed, insert: Typed): { by: Means[]; codes: string[]; fields: string[] } {
  const found = read(slip);
  if ('problems' in found) {
    const disagree = found.problems.some((one) =>
      / are not the same dose at this strength/.test(one.message),
    );
    return {
      by: [disagree ? 'other statement' : 'refused'],
      codes: [],
      fields: found.problems.map((one) => one.field ?? ''),
    };
  }
  const by: Means[] = [];
  if (found.questions.length > 0) by.push('asked');
  if (secondTypingDiffers(found.terms, termsOf({ ...insert, earlier: undefined }))) by.push('second typing');
  return { by, codes: found.questions.map((one) => one.code), fields: [] };
}

const FIRST = 'doseLines.0.rate.text';
const BESIDE = 'doseLines.0.rate.perVolume';

/** What the insert says, what was typed instead, what catches it, and which question or which field. */
const SLIPS: readonly [string, Typed, Typed, Means[], string[]][] = [
  // 1. µg and mg
  ['µg as mg', { rate: '200 µg/kg' }, { rate: '200 mg/kg' }, ['asked', 'second typing'], ['much-injected']],
  [
    'µg as mg, printed twice',
    { rate: '200 µg/kg', perVolume: '1 mL per 50 kg' },
    { rate: '200 mg/kg', perVolume: '1 mL per 50 kg' },
    ['other statement'],
    [BESIDE],
  ],
  ['mg as µg', { rate: '0.2 mg/kg' }, { rate: '0.2 µg/kg' }, ['asked', 'second typing'], ['little-injected']],
  // 2. % and mg per mL
  ['% as mg/mL', { strength: '1 %' }, { strength: '1 mg/mL' }, ['second typing'], []],
  [
    '% as mg/mL, printed twice',
    { strength: '1 %', perVolume: '1 mL per 50 kg' },
    { strength: '1 mg/mL', perVolume: '1 mL per 50 kg' },
    ['other statement'],
    [BESIDE],
  ],
  ['mg/mL as %', { strength: '10 mg/mL' }, { strength: '10 %' }, ['second typing'], []],
  // 3. each kg and each lb
  ['lb as kg', { rate: '0.1 mg/lb' }, { rate: '0.1 mg/kg' }, ['second typing'], []],
  [
    'lb as kg, printed twice',
    { rate: '0.1 mg/lb', perVolume: '1 mL per 100 lb' },
    { rate: '0.1 mg/kg', perVolume: '1 mL per 100 lb' },
    ['other statement'],
    [BESIDE],
  ],
  // 4. each 10 kg and each kg
  [
    '10 kg as 1 kg',
    { rate: '1 mL per 10 kg' },
    { rate: '1 mL per kg' },
    ['asked', 'second typing'],
    ['much-injected'],
  ],
  ['10 kg as 1 kg, small', { rate: '0.1 mL per 10 kg' }, { rate: '0.1 mL/kg' }, ['second typing'], []],
  // 5. ten times the strength
  ['strength × 10', { strength: '10 mg/mL' }, { strength: '100 mg/mL' }, ['second typing'], []],
  [
    'strength × 10, printed twice',
    { strength: '10 mg/mL', perVolume: '1 mL per 50 kg' },
    { strength: '100 mg/mL', perVolume: '1 mL per 50 kg' },
    ['other statement'],
    [BESIDE],
  ],
  // 6. salt and base
  [
    'a salt, without saying what its strength counts',
    { strength: '10 mg/mL', salt: 'calverol hydrate', strengthOf: 'base' },
    { strength: '10 mg/mL', salt: 'calverol hydrate' },
    ['asked'],
    ['salt-or-base'],
  ],
  [
    'the strength of the salt for that of the base',
    { strength: '10 mg/mL', salt: 'calverol hydrate', strengthOf: 'base' },
    { strength: '12.4 mg/mL', salt: 'calverol hydrate', strengthOf: 'base' },
    ['second typing'],
    [],
  ],
  [
    'the strength of the salt for that of the base, printed twice',
    { strength: '10 mg/mL', salt: 'calverol hydrate', strengthOf: 'base', perVolume: '1 mL per 50 kg' },
    { strength: '12.4 mg/mL', salt: 'calverol hydrate', strengthOf: 'base', perVolume: '1 mL per 50 kg' },
    ['other statement'],
    [BESIDE],
  ],
  // 7. IU and mg
  [
    'IU as mg in the rate',
    { strength: '300000 IU/mL', rate: '3000 IU/lb' },
    { strength: '300000 IU/mL', rate: '3000 mg/lb' },
    ['refused'],
    ['actives.0.strength'],
  ],
  [
    'IU as mg in both',
    { strength: '300000 IU/mL', rate: '3000 IU/lb' },
    { strength: '300000 mg/mL', rate: '3000 mg/lb' },
    ['refused'],
    [FIRST],
  ],
  [
    'IU as mg in both, few',
    { strength: '40000 IU/mL', rate: '1000 IU/kg' },
    { strength: '40000 mg/mL', rate: '1000 mg/kg' },
    ['asked', 'second typing'],
    ['strong'],
  ],
  // 8. the decimal point
  ['decimal comma', { rate: '0.2 mg/kg' }, { rate: '0,2 mg/kg' }, ['refused'], [FIRST]],
  [
    'decimal comma in the strength',
    { strength: '2.5 %' },
    { strength: '2,5 %' },
    ['refused'],
    ['actives.0.strength'],
  ],
  ['the point lost', { rate: '0.2 mg/kg' }, { rate: '2 mg/kg' }, ['second typing'], []],
  // 9. each animal and each kg
  [
    'head as kg',
    { rate: '2 mL per head' },
    { rate: '2 mL per kg' },
    ['asked', 'second typing'],
    ['much-injected'],
  ],
  ['kg as head', { rate: '0.1 mL/kg' }, { rate: '0.1 mL per head' }, ['second typing'], []],
  // 10. two digits
  ['41 as 14 days', { meat: '41 d' }, { meat: '14 d' }, ['second typing'], []],
  [
    '41 as 14 days on a new insert',
    { meat: '41 d' },
    { meat: '14 d', earlier: '41 d' },
    ['asked', 'second typing'],
    ['shorter-period'],
  ],
  // 11. days and hours
  ['days as hours', { meat: '72 d' }, { meat: '72 h' }, ['second typing'], []],
  ['hours as days', { meat: '72 h' }, { meat: '72 d' }, ['second typing'], []],
  ['a day’s worth of hours is not a day', { meat: '24 h' }, { meat: '1 d' }, ['second typing'], []],
  [
    'days as hours on a new insert',
    { meat: '72 d' },
    { meat: '72 h', earlier: '72 d' },
    ['asked', 'second typing'],
    ['shorter-period'],
  ],
  // 12. the first dose and those that go on
  [
    'loading and maintenance swapped',
    { rate: '0.4 mg/kg', onward: '0.2 mg/kg' },
    { rate: '0.2 mg/kg', onward: '0.4 mg/kg' },
    ['asked', 'second typing'],
    ['larger-after'],
  ],
];

describe('a slip never leaves draft unseen', () => {
  test('what is caught is the slip: as its insert has it, each label goes through without a word', () => {
    for (const [name, insert] of SLIPS) {
      const found = read({ ...insert });
      expect('problems' in found ? found.problems : found.questions, name).toEqual([]);
      const terms = termsOf({ ...insert });
      expect(secondTypingDiffers(terms, terms), name).toBe(false);
    }
  });

  test.each(SLIPS)('%s', (_name, insert, slip, by, where) => {
    const caught = caughtBy(slip, insert);
    expect(caught.by).toEqual(by);
    expect([...caught.codes, ...caught.fields]).toEqual(where);
    const first = read(slip);
    if ('problems' in first) {
      for (const { message } of first.problems) expect(message).toMatch(/^[A-Z][a-zA-Z ]+: .{10,180}\.$/);
      return;
    }
    // What got into the form is read back otherwise than the insert reads, so that it can be heard.
    const right = termsOf({ ...insert, earlier: undefined });
    expect(sayTerms(first.terms)).not.toEqual(sayTerms(right));
  });

  // IU and mg by mistake give the same mL, and so does a salt of which nothing is said.
  const seen = SLIPS.filter(([name, , slip]) => !/^IU|^a salt/.test(name) && slip.meat === undefined);
  test.each(seen)('%s: at 20, 45 and 80 kg another dose is shown, or none', (_name, insert, slip) => {
    const right = sampleDoses(typedIn(insert), 0).map((one) => one.text);
    expect(right).toHaveLength(3);
    expect(sampleDoses(typedIn(slip), 0).map((one) => one.text)).not.toEqual(right);
  });
});

describe('an IU typed as mg throughout', () => {
  test('gives the same mL, so only the asking and the second typing can catch it', () => {
    const right = termsOf({ strength: '40000 IU/mL', rate: '1000 IU/kg' });
    const [rate, strength] = typeAgain(draftAgain(right));
    expect(rate?.agrees('1000 mg/kg', 'x')).toBe(false);
    expect(strength?.agrees('40000 mg/mL', 'x')).toBe(false);
  });
});

/** Through the form and out again: what is typed a second time is asked of what the form would write. */
function draftAgain(terms: LabelTerms): LabelTerms {
  const found = readDraft(draftOf(terms));
  if ('problems' in found) throw new Error('what was read once must be read again');
  return found.terms;
}
