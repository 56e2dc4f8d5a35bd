import fc from 'fast-check';
import { folder } from '../store/toys.ts';
import { killAgainAndAgain } from './kill.ts';

/** The longer version of the kill test: `npm run faults`, or `npm run faults -- 1000` for that many kills. */
const count = Number(process.argv[2] ?? 200);
const seed = Number(process.env.FOLDBOOK_SEED ?? Date.now() % 2 ** 31);
console.log(`seed ${seed} (FOLDBOOK_SEED=${seed} kills after the same numbers of calls), ${count} kills`);

const place = folder();
try {
  const kills = fc.sample(fc.integer({ min: 1, max: 60 }), { seed, numRuns: count });
  const acknowledged = await killAgainAndAgain(place.path('k.foldbook'), kills);
  console.log(`${count} kills, ${acknowledged} acknowledged calls, none lost, the book verified after each`);
} finally {
  place.clear();
}
