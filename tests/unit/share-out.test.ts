import { describe, expect, it } from 'vitest';
import { fraction } from '../../src-shared/quantity/fraction.ts';
import { shareOut } from '../../src-shared/stock/share-out.ts';

const thirds = (n: number) => Array.from({ length: n }, () => fraction(100, 3n));

describe('money shared out in whole units', () => {
  it.each([
    ['nothing', [], []],
    ['whole parts stay', [fraction(5), fraction(0), fraction(7)], [5, 0, 7]],
    ['three thirds of 100 are 100', thirds(3), [34, 33, 33]],
    ['two thirds of 100 are 67', thirds(2), [34, 33]],
    ['a half goes up', [fraction(1, 2n)], [1]],
    ['who lost most gets it', [fraction(12, 10n), fraction(17, 10n), fraction(11, 10n)], [1, 2, 1]],
  ])('%s', (_name, parts, units) => {
    expect(shareOut(parts)).toEqual(units);
  });
});
