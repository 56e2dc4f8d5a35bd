import { expect, test } from 'vitest';
import { projections, projectionVersion } from '../../src-main/store/projections.ts';
import { openStore } from '../../src-main/store/store.ts';
import { KINDS_OF_ENTRY } from '../../src-shared/entries/all.ts';
import { folder, steppingClock } from './toys.ts';

test('every projection of the program is one that a fold may write', () => {
  const place = folder();
  try {
    const parts = { kinds: new Map(Object.entries(KINDS_OF_ENTRY)), projections, projectionVersion };
    const store = openStore(place.path('b.foldbook'), parts, steppingClock(), { create: true });
    for (const { table } of projections) {
      expect(store.read.all(`SELECT * FROM ${table}`), table).toEqual([]);
    }
    store.close();
  } finally {
    place.clear();
  }
});
