import { expect, test } from 'vitest';
import { folder } from '../store/toys.ts';
import { killAgainAndAgain } from './kill.ts';

test('a killed program loses nothing it had acknowledged', async () => {
  const place = folder();
  try {
    // Early, late and between, each after another number of calls; `npm run faults` kills many more.
    const kills = Array.from({ length: 12 }, (_, i) => 1 + ((i * 7) % 23));
    const acknowledged = await killAgainAndAgain(place.path('k.foldbook'), kills);
    expect(acknowledged).toBeGreaterThanOrEqual(kills.reduce((sum, each) => sum + each, 0));
  } finally {
    place.clear();
  }
}, 120_000);
