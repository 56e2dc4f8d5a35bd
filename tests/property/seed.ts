/**
 * Options for fast-check: the seed is FOLDBOOK_SEED or comes from the clock, and is printed, so that any run can be
 * repeated.
 */
export function seeded(name: string, numRuns = 300): { seed: number; numRuns: number } {
  const given = process.env.FOLDBOOK_SEED;
  const seed = given === undefined ? Date.now() % 2_147_483_647 : Number(given);
  if (!Number.isInteger(seed)) throw new Error(`FOLDBOOK_SEED must be a whole number, not ${given}`);
  console.log(`${name}: FOLDBOOK_SEED=${seed}`);
  return { seed, numRuns };
}
