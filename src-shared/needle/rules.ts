import { MOSTS } from './per-site.ts';
import type { Facts, Rule } from './rule.ts';
import { GUIDES } from './rules-guides.ts';
import { LIMITS } from './rules-limits.ts';
import { PREFERENCES } from './rules-preferences.ts';
import type { Situation } from './situation.ts';

/**
 * The table of rules for choosing a needle, in the order in which they count: what the sources give, what throws a
 * needle out, what orders the rest, and how much goes into one place. Every test that takes a row out must see a
 * case change.
 */
export const RULES: readonly Rule[] = [...GUIDES, ...LIMITS, ...PREFERENCES, ...MOSTS];

/** The rows of one kind, in their order. */
export function rulesOf<K extends Rule['kind']>(
  rules: readonly Rule[],
  kind: K,
): Extract<Rule, { kind: K }>[] {
  return rules.filter((rule): rule is Extract<Rule, { kind: K }> => rule.kind === kind);
}

/** The situation with the guides that are about it. */
export function factsOf(s: Situation, rules: readonly Rule[] = RULES): Facts {
  const all = rulesOf(rules, 'guide');
  return {
    s,
    guides: all.filter((guide) => guide.applies(s)),
    ofClass: all.filter(
      (guide) => guide.applies({ ...s, route: 'sc' }) || guide.applies({ ...s, route: 'im' }),
    ),
  };
}
