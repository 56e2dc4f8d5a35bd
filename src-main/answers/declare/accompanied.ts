import { Refusal } from '../../../src-shared/refusal.ts';
import type { Reader } from '../../store/store.ts';
import type { HoldRow } from '../reading/holds.ts';
import { printLocal } from '../reading/labels.ts';
import { lossesIn, sayPlace } from '../reading/needles.ts';
import type { SubjectRow } from '../reading/subjects.ts';
import type { DeclarationLine } from './lines.ts';

/** Somebody that may carry a needle and is to go: how it is marked, and who was told at the abattoir. */
export type AccompaniedAsk = { subject: string; mark: string; told: string };
type Accompanied = NonNullable<DeclarationLine['accompanied']>;

/**
 * The accompanied line of an animal that nothing but a needle holds; nothing when it is not held by one, or held by
 * something else as well. Refuses (`accompanied-by-name`) a lot: nobody could tell which of its heads it is.
 */
export function accompaniedBy(
  tx: Reader,
  row: SubjectRow,
  barring: readonly HoldRow[],
  ask: AccompaniedAsk,
): Accompanied | undefined {
  if (barring.length === 0 || barring.some(({ cause }) => cause !== 'broken-needle')) return undefined;
  if (!row.subject.startsWith('animal:')) {
    throw new Refusal(
      'accompanied-by-name',
      `${row.shown} is a lot, and one that may carry a needle goes by its own name.`,
      {
        field: 'accompanied',
        next: 'Give it a tag out of the lot under Flock, and put that animal on the list.',
      },
    );
  }
  const sources = [...new Set(barring.map(({ source }) => source))];
  const losses = lossesIn(tx);
  const says = sources.map((source) => {
    const data = losses.find(({ data: { loss } }) => `hold:${loss}` === source)?.data;
    if (data === undefined) return 'a needle, place not known';
    const which = data.needle === undefined ? 'a needle' : `a needle ${data.needle}`;
    // Nobody knows in which of those who were treated it is: this one may carry it, anywhere it was injected.
    const perhaps = data.subject === undefined && data.of === undefined ? 'perhaps ' : '';
    return `${perhaps}${which}, ${sayPlace(data.site, data.side)}, noticed ${printLocal(data.noticed.local)}`;
  });
  return { holds: sources, says: says.join('; '), mark: ask.mark, told: ask.told };
}

/** Said among the sentences of a declaration; nothing when nobody goes so. */
export function sayAccompanied(lines: readonly DeclarationLine[]): string[] {
  const names = lines.filter(({ accompanied }) => accompanied !== undefined).map(({ shown }) => shown);
  if (names.length === 0) return [];
  const many = names.length > 1;
  return [
    `${names.join(', ')} ${many ? 'go' : 'goes'} accompanied: ${many ? 'they' : 'it'} may carry a broken needle, ${many ? 'are' : 'is'} marked, and the abattoir is told where to look.`,
  ];
}
