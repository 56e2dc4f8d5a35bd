/**
 * A small generator of numbers that look random and are the same each time (mulberry32): the demo farm has to come
 * out the same to the last bit, on every computer.
 */
export type Random = {
  /** 0 up to, but not, 1. */
  next(): number;
  /** A whole number from `least` to `most`, both included. */
  whole(least: number, most: number): number;
  /** Around 0, from -1 to 1, the middle more often than the ends. */
  around(): number;
  pick<T>(from: readonly T[]): T;
};

/** The generator that this seed starts. Throws RangeError when asked to pick from nothing. */
export function randomOf(seed: number): Random {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
  const whole = (least: number, most: number) => least + Math.floor(next() * (most - least + 1));
  return {
    next,
    whole,
    around: () => (next() + next() + next()) / 1.5 - 1,
    pick(from) {
      if (from.length === 0) throw new RangeError('There is nothing to pick from.');
      return from[whole(0, from.length - 1)] as (typeof from)[number];
    },
  };
}
