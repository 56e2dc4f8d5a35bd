import { describe, expect, test } from 'vitest';
import { workOut } from '../../src-shared/calls/work-out.ts';
import { lawOn, severalAtOnce } from '../../src-shared/withdrawal/off-label-laws.ts';
import { refused } from '../unit/refused.ts';

/**
 * Least periods after a treatment outside its label, against the laws.
 * EU: Regulation (EU) 2019/6 Article 115 (read). GB: Veterinary Medicines Regulations 2013 Schedule 4 paragraph 2 since
 * 17 May 2024 (milk read, meat second-hand, zero and another family from memory) and before it (read).
 * New Zealand default periods (read in older copies, not confirmed). 21 CFR 530.20(a)(2) (read).
 */
const ask = (law: string, produce: string, more: object, on = '2026-06-01') =>
  workOut('off-label', { law, on, produce, ...more });
const least = (...of: Parameters<typeof ask>) => ask(...of).minimum;
const codes = (reply: Record<string, unknown>) =>
  (reply.warnings as { code: string }[]).map(({ code }) => code);

describe('the longest period × 1.5, a part of a day rounded up (Article 115(2))', () => {
  const rows: readonly [number, number][] = [
    [1, 2],
    [3, 5],
    [5, 8],
    [7, 11],
    [9, 14],
    [14, 21],
    [21, 32],
    [28, 42],
    [35, 53],
    [49, 74],
  ];
  test.each(rows)('%i d → %i d', (printed, minimum) => {
    for (const law of ['eu', 'ni', 'gb']) {
      for (const produce of ['meat', 'milk'])
        expect(least(law, produce, { longest: `${printed} d` })).toBe(`${minimum} d`);
    }
  });

  test.each([
    [36, 3],
    [48, 3],
    [60, 4],
    [72, 5],
    [96, 6],
    [108, 7],
  ])('milk, %i h → %i d', (hours, days) => {
    for (const law of ['eu', 'ni', 'gb'])
      expect(least(law, 'milk', { longest: `${hours} h` })).toBe(`${days} d`);
  });
});

describe('what the label does not print', () => {
  test.each(['eu', 'ni', 'gb'])('%s: not authorised for food or milk animals: 28 d and 7 d', (law) => {
    expect(least(law, 'meat', { notAuthorised: true })).toBe('28 d');
    expect(least(law, 'milk', { notAuthorised: true })).toBe('7 d');
  });

  test.each(['eu', 'ni', 'gb'])(
    '%s: zero is 1 d for another family in meat, 0 d for cattle in sheep (Bovidae), and 1 d in milk whatever the family',
    (law) => {
      expect(least(law, 'meat', { zero: true, otherFamily: true })).toBe('1 d');
      expect(least(law, 'meat', { zero: true, otherFamily: false })).toBe('0 d');
      expect(least(law, 'milk', { zero: true, otherFamily: true })).toBe('1 d');
      expect(least(law, 'milk', { zero: true, otherFamily: false })).toBe('1 d');
      expect(least(law, 'meat', { longest: '0 d', otherFamily: true })).toBe('1 d');
    },
  );

  test('where nobody says which family, the same is taken and said', () => {
    expect(codes(ask('eu', 'meat', { zero: true }))).toEqual(['family-taken-as-same']);
    expect(codes(ask('eu', 'meat', { zero: true, otherFamily: false }))).toEqual([]);
  });
});

describe('the species on the label: Article 115 has an exception, the paragraph for Great Britain has none (derived)', () => {
  const both = { longest: '49 d', species: '28 d' };
  test('cattle 49 d and sheep 28 d, double dose in a sheep', () => {
    for (const law of ['eu', 'ni']) {
      expect(ask(law, 'meat', both)).toMatchObject({ vetMustState: true, floor: '28 d' });
      expect(least(law, 'meat', both)).toBeUndefined();
    }
    expect(least('gb', 'meat', both)).toBe('74 d');
  });

  test('cattle 49 d alone is 74 d in both', () => {
    for (const law of ['eu', 'ni', 'gb']) expect(least(law, 'meat', { longest: '49 d' })).toBe('74 d');
  });

  test('a zero for sheep is a period too', () => {
    expect(ask('eu', 'meat', { species: '0 d' })).toMatchObject({ vetMustState: true, floor: '0 d' });
    expect(least('gb', 'meat', { species: '0 d', otherFamily: false })).toBe('0 d');
    expect(least('gb', 'milk', { species: '0 d' })).toBe('1 d');
  });
});

describe('the day of treatment', () => {
  test('Great Britain: flat 28 d and 7 d until 16 May 2024, the new rule from 17 May 2024', () => {
    const label = { longest: '14 d' };
    expect(least('gb', 'meat', label, '2024-05-16')).toBe('28 d');
    expect(least('gb', 'meat', label, '2024-05-17')).toBe('21 d');
    expect(least('gb', 'milk', { longest: '48 h' }, '2024-05-16')).toBe('7 d');
    expect(least('gb', 'milk', { longest: '48 h' }, '2024-05-17')).toBe('3 d');
    expect(least('gb', 'meat', {}, '2024-05-16')).toBe('28 d');
  });

  test('flat, and still never below what the label prints', () => {
    expect(least('gb', 'meat', { longest: '49 d' }, '2024-05-16')).toBe('49 d');
    expect(least('gb', 'milk', { longest: '180 h' }, '2024-05-16')).toBe('180 h');
  });

  test('before the first day that is known here the vet must state it', () => {
    const reply = ask('eu', 'meat', { longest: '14 d' }, '2022-01-27');
    expect(reply).toMatchObject({ vetMustState: true, floor: '14 d' });
    expect(codes(reply)).toEqual(['law-not-known']);
    expect(least('eu', 'meat', { longest: '14 d' }, '2022-01-28')).toBe('21 d');
    expect(lawOn('gb', '2013-09-30' as never)).toBeUndefined();
  });
});

describe('elsewhere', () => {
  test('New Zealand: meat 91 d and milk 35 d can be applied, not for long-acting products, and it is not confirmed', () => {
    expect(least('nz', 'meat', { longest: '28 d' })).toBe('91 d');
    expect(least('nz', 'milk', {})).toBe('35 d');
    expect(least('nz', 'meat', { longest: '104 d' })).toBe('104 d');
    const reply = ask('nz', 'meat', {});
    expect(codes(reply)).toEqual(['not-confirmed', 'can-be-applied']);
    expect(JSON.stringify(reply.warnings)).toContain('not valid for long-acting products');
  });

  test('United States: substantially extended, no number, and it is not confirmed', () => {
    const reply = ask('us', 'meat', { longest: '8 d' });
    expect(reply).toMatchObject({ vetMustState: true, floor: '8 d' });
    expect(codes(reply)).toEqual(['not-confirmed']);
    expect(ask('us', 'milk', {}).floor).toBeUndefined();
  });

  test('another law: the vet must state it', () => {
    expect(ask('other', 'meat', { longest: '28 d' })).toMatchObject({ vetMustState: true, floor: '28 d' });
    expect(ask('other', 'meat', { species: '28 d' }).floor).toBe('28 d');
    expect(ask('other', 'meat', {})).toMatchObject({ vetMustState: true });
  });

  test('several medicines in one pass: guidance of the United States, New Zealand and Ontario (read), elsewhere a caution', () => {
    expect(severalAtOnce('us').text).toContain('may no longer hold');
    expect(severalAtOnce('nz').text).toContain('Ask the vet');
    expect(severalAtOnce('gb').text).toContain('a caution');
  });
});

describe('how it is said', () => {
  test('each number stands with its law, and how far it was confirmed', () => {
    const working = ask('gb', 'meat', { longest: '28 d' }).working as { text: string; source?: string }[];
    expect(working.map(({ text }) => text)).toEqual([
      'The longest period that the label prints for meat: 28 d',
      'The law on 1 Jun 2026: Great Britain since 17 May 2024 (in force from 17 May 2024)',
      'The law: 28 d × 1.5, a part of a day rounded up = 42 d at least',
    ]);
    expect(working.at(-1)?.source).toContain('(second-hand)');
  });

  test.each([
    ['longest', { longest: '14 d', species: '28 d' }],
    ['zero', { zero: true, longest: '14 d' }],
    ['notAuthorised', { notAuthorised: true, longest: '14 d' }],
    ['longest', {}],
    ['longest', { longest: '28' }],
    ['species', { species: 'a month' }],
    ['otherFamily', { zero: true, otherFamily: 'yes' }],
    ['produce', { produce: 'wool' }],
    ['on', { on: '1 June', longest: '1 d' }],
    ['law', { law: 'xx', longest: '1 d' }],
  ])('refuses what contradicts itself or is missing, by the name of its field: %s %j', (field, more) => {
    const fault = refused(() =>
      workOut('off-label', { law: 'eu', on: '2026-06-01', produce: 'meat', ...more }),
    );
    expect(fault.field).toBe(field);
    expect(fault.message.length).toBeGreaterThan(10);
  });
});
