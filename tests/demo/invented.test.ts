import { describe, expect, test } from 'vitest';
import { ABATTOIR, MART, PEOPLE, START } from '../../demo/farm.ts';
import { chipOf, NAMED, tagOf } from '../../demo/flock/animals.ts';
import { MEDICINES } from '../../demo/medicines/all.ts';
import { randomOf } from '../../demo/random.ts';
import { checkTerms } from '../../src-shared/label/check.ts';
import { labelTermsSchema } from '../../src-shared/label/terms.ts';
import { importsOf, sources } from '../tidy/sources.ts';

/** Stems by which the names of real substances are made; an invented one must not look like kin of any. */
const STEMS =
  /mectin|dectin|bendazol|cyclin|cillin|mycin|micin|floxacin|profen|oxicam|misole|antel|sulf|\bcef|closan|rtnal|azuril|methrin|zinon|sone\b|solone|coxib|caine|xylaz|azine\b|azole\b|oxytoc|prost|gest|vitam|selen|cobalt|iod|zinc/i;

test('no substance and no medicine is named like a real one', () => {
  for (const terms of Object.values(MEDICINES)) {
    for (const name of [terms.name, ...terms.actives.map((active) => active.substance)]) {
      expect(name).not.toMatch(STEMS);
    }
  }
});

test('firms say that they are invented, numbers are from the range kept for fiction, no address can be written to', () => {
  for (const name of [ABATTOIR, MART, PEOPLE.stores.name, PEOPLE.dispensary.name])
    expect(name).toContain('DEMO');
  expect(START.business.demo).toBe(true);
  for (const part of [START.business, START.holding]) {
    expect(part.name).toContain('DEMO');
    expect(part.address).toContain('DEMO');
  }
  const people: { phone?: string; address?: string }[] = [START.keeper, ...Object.values(PEOPLE)];
  for (const { phone, address } of [START.business, ...people]) {
    if (phone !== undefined) expect(phone).toMatch(/^01632 960\d{3}$/);
    if (address !== undefined) expect(address).toContain('DEMO');
  }
  expect(START.business.email).toMatch(/\.invalid$/);
});

test('every label of the demo is one the desk takes', () => {
  for (const terms of Object.values(MEDICINES)) checkTerms(labelTermsSchema.parse(terms));
});

test('no two animals have one tag, and a chip is its tag', () => {
  const tags = NAMED.map(tagOf);
  expect(new Set(tags).size).toBe(tags.length);
  for (const animal of NAMED) expect(chipOf(animal)).toBe(`826${tagOf(animal).replace(/\D/g, '')}`);
});

test('nothing of the demo gets into a book past the calls', () => {
  const reached = sources(['demo'])
    .flatMap(importsOf)
    .filter(({ typeOnly, to }) => !typeOnly && to.startsWith('src-main/'))
    .map(({ from, to }) => `${from} → ${to}`)
    .sort();
  expect(reached).toEqual([
    'demo/build.ts → src-main/answers/desk.ts',
    'demo/options.ts → src-main/default-book.ts',
    'demo/place.ts → src-main/answers/desk.ts',
    // Only whether a file is a book, and moving a whole one into its place.
    'demo/place.ts → src-main/store/book-file.ts',
  ]);
});

describe('the generator of numbers', () => {
  test('gives the same row for the same seed and another for another', () => {
    const row = (seed: number) => {
      const random = randomOf(seed);
      return Array.from({ length: 20 }, () => random.whole(1, 1000));
    };
    expect(row(1)).toEqual(row(1));
    expect(row(1)).not.toEqual(row(2));
  });

  test('keeps its bounds, both ends included', () => {
    const random = randomOf(3);
    const drawn = Array.from({ length: 2000 }, () => random.whole(1, 3));
    expect(new Set(drawn)).toEqual(new Set([1, 2, 3]));
    const around = Array.from({ length: 2000 }, () => random.around());
    expect(Math.min(...around)).toBeGreaterThanOrEqual(-1);
    expect(Math.max(...around)).toBeLessThanOrEqual(1);
    expect(() => random.pick([])).toThrow(RangeError);
  });
});
