import { expect, test } from 'vitest';
import { withHistory } from './book-place.ts';
import { answersOf, difference, linesOf } from './compare-book.ts';
import { secondModel } from './model.ts';
import { PLACES, type Script, type StepScript } from './script.ts';

/** Histories in which the book was once wrong, kept as they were found, with the right answer beside them. */
const fromDose = { milkFrom: 'last-dose' as const, milkFromDose: '3 d' as const };
const plain = {
  ...fromDose,
  purpose: 'parasites' as const,
  meat: '7 d' as const,
  milk: '3 d' as const,
  rows: [],
};
const script = (...steps: StepScript[]): Script => ({
  place: PLACES[0],
  counting: 'whole-days',
  marginDays: 0,
  labels: [plain, plain, plain],
  steps,
});
const on = (day: number, time?: '08:00' | '17:00') => ({ day, time, odd: false });
const treat = {
  do: 'treat' as const,
  subject: 0,
  second: undefined,
  line: 'first' as const,
  heads: 1,
  vets: false,
  course: undefined,
  beyond: false,
};

test('a dose dated before its delivery was entered left the bottle all the same', () => {
  const late = script(
    { do: 'receive', revision: 0, units: 10, when: on(6) },
    { ...treat, container: 3, units: 30, lost: 5, when: on(4, '08:00') },
    { do: 'stock', container: 3, cause: 'lost', units: 2, when: on(5) },
  );
  withHistory(late, (store) => {
    const book = answersOf(store.read);
    expect(book.balances.get('c3')).toBe(63n);
    expect(book.sums.get('c3')).toBe(63n);
    expect(difference(book, secondModel(linesOf(store)))).toBeUndefined();
  });
});

test('a hold that got its answer stays ended when its label is corrected later', () => {
  const answered = script(
    {
      do: 'unread',
      subjects: [0],
      lines: [{ revision: 0, line: 'first' }],
      opens: on(2, '08:00'),
      closes: on(2, '17:00'),
    },
    { do: 'label', pick: 0, label: { ...plain, meat: '3 d' } },
    { do: 'end-hold', pick: 0, when: on(3) },
  );
  withHistory(answered, (store) => {
    const book = answersOf(store.read);
    expect(book.holds.get('animal:a0')?.map((row) => row.state)).toEqual(['none', 'none']);
    expect(difference(book, secondModel(linesOf(store)))).toBeUndefined();
  });
});
