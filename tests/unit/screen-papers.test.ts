import { expect, test } from 'vitest';
import {
  type Instruction,
  instructionWords,
  isOver,
  prescriptionWords,
  readBackPeriod,
  sayDrawn,
} from '../../src-renderer/screens/papers/words.ts';

const ordered: Instruction = {
  instruction: 'i1',
  vet: 'v1',
  vetName: 'Dr Wren',
  medicine: 'm1',
  medicineName: 'Orvandrex injection',
  what: 'Twice the dose, once',
  subjects: ['animal:1', 'animal:2'],
  subjectNames: ['0052', '0118'],
  periods: [
    { produce: 'meat', period: '62 d' },
    { produce: 'milk', period: '72 h' },
  ],
  form: 'written',
  reason: 'No answer to the usual dose.',
  given: '2026-03-17',
  validUntil: '2026-03-31',
};

test('an order of the vet is said with its animals, periods, reason and last day', () => {
  expect(instructionWords(ordered, '2026-03-31')).toEqual({
    margin: 'Written',
    text: 'Dr Wren wrote on Tuesday 17 March 2026: Twice the dose, once.',
    small:
      'With Orvandrex injection. For 0052 and 0118. Period from the vet: meat 62 days and milk 72 hours. ' +
      'Why: No answer to the usual dose. It is good until Tuesday 31 March 2026.',
  });
});

test('the day after its last day an order has ended, and says so in the margin and in its sentence', () => {
  const words = instructionWords(ordered, '2026-04-01');
  expect(words.margin).toBe('Ended');
  expect(words.small).toContain('It ended on Tuesday 31 March 2026.');
  expect(isOver(undefined, '2999-01-01')).toBe(false);
});

test('an order that names no medicine, animal, period or last day says what was not named', () => {
  const { medicine: _m, medicineName: _n, validUntil: _v, ...bare } = ordered;
  const words = instructionWords(
    { ...bare, form: 'told', subjects: [], subjectNames: [], periods: [] },
    '2026-04-01',
  );
  expect(words.margin).toBe('Told');
  expect(words.text).toContain('Dr Wren said on');
  expect(words.small).toBe('No period was named. Why: No answer to the usual dose. No last day was named.');
});

test('more than six animals are counted', () => {
  const names = ['1', '2', '3', '4', '5', '6', '7'];
  expect(instructionWords({ ...ordered, subjectNames: names }, '2026-03-20').small).toContain(
    'For 7 animals or lots.',
  );
  expect(instructionWords({ ...ordered, subjectNames: names.slice(1) }, '2026-03-20').small).toContain(
    'For 2, 3, 4, 5, 6 and 7.',
  );
});

test('a prescription is said with what stands on it and nothing else', () => {
  const paper = {
    number: 'RX 7',
    vetName: 'Dr Wren',
    medicineName: 'Orvandrex injection',
    written: '2026-05-01',
    state: 'open',
    drawn: 'none',
    copies: 1,
  } as const;
  expect(prescriptionWords(paper, '2026-05-02')).toEqual({
    margin: 'Written',
    text: 'Prescription RX 7 of Dr Wren is for Orvandrex injection, written on Friday 1 May 2026.',
    small: 'Nothing came in on it yet. No last day was named.',
  });
  const full = {
    ...paper,
    quantity: { text: '200 mL' },
    animals: 'Lame ewes',
    dose: '1 mL for 10 kg',
    validUntil: '2026-05-31',
    drawn: '50 mL',
    left: '150 mL',
    copies: 0,
  };
  expect(prescriptionWords(full, '2026-05-31').margin).toBe('Valid');
  expect(prescriptionWords({ ...full, state: 'expired' }, '2026-06-01')).toEqual({
    margin: 'Ended',
    text: 'Prescription RX 7 of Dr Wren is for 200 mL of Orvandrex injection, written on Friday 1 May 2026.',
    small:
      'For: Lame ewes. Dose: 1 mL for 10 kg. 50 mL came in on it, 150 mL is left. It ended on Sunday 31 May 2026. ' +
      'No copy of it is kept.',
  });
});

test('what came in on a prescription is said as far as it is known', () => {
  expect(sayDrawn({ drawn: '50 mL' })).toBe('50 mL came in on it; it names no quantity.');
  expect(sayDrawn({ drawn: '200 mL', left: 'none' })).toBe('All of it came in.');
  expect(sayDrawn({ drawn: '260 mL', left: 'none', over: '60 mL' })).toBe(
    '260 mL came in on it, 60 mL more than it is for.',
  );
});

test('a period is read back in words, and what is none is not', () => {
  expect(readBackPeriod('6 weeks')).toEqual({ readBack: '42 days' });
  expect(readBackPeriod('28')).toEqual({});
});
