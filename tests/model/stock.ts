import type { AmountData } from '../../src-shared/entries/parts.ts';
import { type Fact, factsOf } from './facts.ts';

/** Whole microlitres, micrograms or pieces. */
const units = (amount: AmountData): bigint =>
  BigInt(
    'microlitres' in amount ? amount.microlitres : 'micrograms' in amount ? amount.micrograms : amount.pieces,
  );

type Moved = { container: string; by: bigint } | { container: string; found: bigint };

/** How stock is kept; a deliberate fault replaces one of these. */
export type StockRules = { countsCount: boolean; lossesCount: boolean };
export const STOCK_RULES: StockRules = { countsCount: true, lossesCount: true };

function movesOf(fact: Fact, rules: StockRules): Moved[] {
  const [received] = factsOf([fact], 'batch-received');
  if (received)
    return received.data.containers.map(({ container, amount }) => ({ container, by: units(amount) }));
  const [made] = factsOf([fact], 'container-made-up');
  if (made) {
    const { container, amount, from } = made.data;
    return [
      { container, by: units(amount) },
      ...from.map((one) => ({ container: one.container, by: -units(one.amount) })),
    ];
  }
  const [given] = factsOf([fact], 'administered');
  if (given) {
    if (given.data.source.kind !== 'ours') return [];
    return given.data.source.draws.map(({ container, amount, leaked, lost }) => ({
      container,
      by:
        -units(amount) -
        (leaked && rules.lossesCount ? units(leaked) : 0n) -
        (lost && rules.lossesCount ? units(lost) : 0n),
    }));
  }
  const [moved] = factsOf([fact], 'stock-moved');
  if (!moved) return [];
  const { container, cause, amount } = moved.data;
  if (amount === undefined || cause === 'quarantined' || cause === 'released') return [];
  if (cause === 'counted') return rules.countsCount ? [{ container, found: units(amount) }] : [];
  return cause === 'lost' && !rules.lossesCount ? [] : [{ container, by: -units(amount) }];
}

/** What is left in each container that came in: everything that went in and out, a count setting it as it happens. */
export function balancesOf(facts: readonly Fact[], rules: StockRules): Map<string, bigint> {
  const came = new Set<string>();
  for (const { data } of factsOf(facts, 'batch-received'))
    for (const item of data.containers) came.add(item.container);
  for (const { data } of factsOf(facts, 'container-made-up')) came.add(data.container);
  const left = new Map([...came].map((container) => [container, 0n]));
  for (const fact of facts) {
    for (const move of movesOf(fact, rules)) {
      const before = left.get(move.container);
      if (before === undefined) continue;
      left.set(move.container, 'found' in move ? move.found : before + move.by);
    }
  }
  return left;
}
