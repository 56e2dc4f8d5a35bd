import type { AmountData } from '../../src-shared/entries/parts.ts';
import { type Fact, factsOf } from './facts.ts';

/** Whole microlitres, micrograms or pieces. */
const units = (amount: AmountData): bigint =>
  BigInt(
    'microlitres' in amount ? amount.microlitres : 'micrograms' in amount ? amount.micrograms : amount.pieces,
  );

/** Every way in which what is in a container changes. */
export const MOVES = [
  'received',
  'made-up',
  'used-to-make',
  'drawn',
  'lost',
  'disposed',
  'returned',
  'counted',
] as const;
export type Move = (typeof MOVES)[number];

type Moved = { container: string; why: Move } & ({ by: bigint } | { found: bigint });

/** How stock is kept; a deliberate fault replaces it: what a move of a kind comes to, and what it is booked as. */
export type StockRules = { movesBy(why: Move, by: bigint): bigint; bookedAs(why: Move): Move };
export const STOCK_RULES: StockRules = { movesBy: (_why, by) => by, bookedAs: (why) => why };

function movesOf(fact: Fact): Moved[] {
  const [received] = factsOf([fact], 'batch-received');
  if (received) {
    return received.data.containers.map(({ container, amount }) => ({
      container,
      why: 'received',
      by: units(amount),
    }));
  }
  const [made] = factsOf([fact], 'container-made-up');
  if (made) {
    const { container, amount, from } = made.data;
    return [
      { container, why: 'made-up', by: units(amount) },
      ...from.map(
        (one): Moved => ({ container: one.container, why: 'used-to-make', by: -units(one.amount) }),
      ),
    ];
  }
  const [given] = factsOf([fact], 'administered');
  if (given) {
    if (given.data.source.kind !== 'ours') return [];
    return given.data.source.draws.flatMap(({ container, amount, leaked, lost }): Moved[] => [
      { container, why: 'drawn', by: -units(amount) },
      ...(leaked ? [{ container, why: 'lost' as const, by: -units(leaked) }] : []),
      ...(lost ? [{ container, why: 'lost' as const, by: -units(lost) }] : []),
    ]);
  }
  const [moved] = factsOf([fact], 'stock-moved');
  if (!moved) return [];
  const { container, cause, amount } = moved.data;
  if (amount === undefined || cause === 'quarantined' || cause === 'released' || cause === 'carried')
    return [];
  if (cause === 'counted') return [{ container, why: cause, found: units(amount) }];
  return [{ container, why: cause, by: -units(amount) }];
}

/** What is left in each container that came in, and what of it came and went in each way. */
export type Stock = { left: Map<string, bigint>; byCause: Map<string, bigint> };

/** Everything that went in and out, in order; a count sets what is there to what was found. */
export function stockOf(facts: readonly Fact[], rules: StockRules): Stock {
  const came = new Set<string>();
  for (const { data } of factsOf(facts, 'batch-received'))
    for (const item of data.containers) came.add(item.container);
  for (const { data } of factsOf(facts, 'container-made-up')) came.add(data.container);
  const left = new Map([...came].map((container) => [container, 0n]));
  const byCause = new Map<string, bigint>();
  for (const fact of facts) {
    for (const move of movesOf(fact)) {
      const before = left.get(move.container);
      if (before === undefined) continue;
      const by = rules.movesBy(move.why, 'found' in move ? move.found - before : move.by);
      left.set(move.container, before + by);
      const key = `${move.container} ${rules.bookedAs(move.why)}`;
      byCause.set(key, (byCause.get(key) ?? 0n) + by);
    }
  }
  return { left, byCause };
}

/** In which store each container stands that came in: where it was put, or was carried to last; empty where none is written. */
export function storesOf(facts: readonly Fact[]): Map<string, string> {
  const stands = new Map<string, string>();
  for (const fact of facts) {
    for (const { data } of factsOf([fact], 'batch-received'))
      for (const { container } of data.containers) stands.set(container, data.store ?? '');
    for (const { data } of factsOf([fact], 'container-made-up')) stands.set(data.container, data.store ?? '');
    for (const { data } of factsOf([fact], 'stock-moved')) {
      // What is said of the time before it came says nothing of where it was put.
      if (data.cause === 'carried' && stands.has(data.container))
        stands.set(data.container, data.store ?? '');
    }
  }
  return stands;
}
