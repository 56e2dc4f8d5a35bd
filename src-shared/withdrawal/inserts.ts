import type { Decision } from './decision.ts';

/**
 * The decision that counts when bottles have different inserts, with what each of them says as the first step of its
 * working: whoever asks why an animal is held reads all of them and not only the longest.
 * @param decision the strictest of what the inserts decide
 * @param each what each insert decides by itself; one without a row for export counts there by its domestic one
 */
export function namingInserts(decision: Decision, each: readonly (readonly Decision[])[]): Decision {
  const said = each.flatMap((list) => {
    const ofProduce = list.filter(({ produce }) => produce === decision.produce);
    const own =
      ofProduce.find(({ market }) => market === decision.market) ??
      ofProduce.find(({ market }) => market === 'domestic');
    return own === undefined ? [] : [periodWords(own)];
  });
  const different = [...new Set(said)];
  if (different.length < 2) return decision;
  return {
    ...decision,
    working: [{ code: 'inserts', values: { periods: different.join(' and ') } }, ...decision.working],
  };
}

/** What one insert says, short: "28 d", "36 h after lambing or 35 d after the dose", "no period". */
function periodWords({ says, period, event, periodFromDose }: Decision): string {
  if (says === 'for-life') return 'for life';
  if (says === 'not-for-this-produce') return 'never for this produce';
  if (period === undefined) return 'no period';
  const after = event === undefined ? '' : ` after ${event.replaceAll('-', ' ')}`;
  return `${period}${after}${periodFromDose === undefined ? '' : ` or ${periodFromDose} after the dose`}`;
}
