import { type BenchFarm, benchFarm } from './farm.ts';

/** Animals in the large book, and in the one that is nearly empty. */
export const LARGE_HEADS = 20_000;
export const SMALL_HEADS = 40;

/** A book in which every animal was weighed and drenched, and a second session with all of them is open. */
export type TreatedFarm = BenchFarm & { session: string; heads: number };

/** The two books most figures are about, each made when it is first asked for and gone at the end. */
export type Farms = {
  large(): Promise<TreatedFarm>;
  small(): Promise<TreatedFarm>;
  close(): Promise<void>;
};

async function treated(heads: number): Promise<TreatedFarm> {
  const farm = await benchFarm();
  await farm.take(heads);
  const medicine = await farm.stock();
  const { groups } = await farm.ask('groups', {});
  const everyone = {
    holding: farm.holding,
    groups: groups.map((group) => group.group),
    lines: [{ medicine, reason: 'Worms' }],
  };
  const { session: first } = await farm.ask('open-session', {
    ...everyone,
    name: 'All at once',
    mode: 'mass',
  });
  const { heads: done } = await farm.ask('treat-many', { session: first });
  if (done !== heads) throw new Error(`only ${done} of ${heads} were treated`);
  await farm.ask('close-session', { session: first, headsThrough: heads });
  // Of another medicine: of the same the desk would ask whether it was given twice on one day.
  const lines = [{ medicine: await farm.stock('Second drench'), reason: 'Worms' }];
  const one = { ...everyone, lines, name: 'One by one', mode: 'each' as const };
  const { session } = await farm.ask('open-session', one);
  return { ...farm, session, heads };
}

/** @param say is told that a large book is being made, which takes a while and is no part of any figure */
export function lazyFarms(say: (line: string) => void): Farms {
  let large: Promise<TreatedFarm> | undefined;
  let small: Promise<TreatedFarm> | undefined;
  return {
    large() {
      if (large === undefined) say(`  (making a book of ${LARGE_HEADS} animals, all of them treated once)`);
      large ??= treated(LARGE_HEADS);
      return large;
    },
    small() {
      small ??= treated(SMALL_HEADS);
      return small;
    },
    async close() {
      for (const farm of await Promise.all([large, small])) await farm?.close();
    },
  };
}
