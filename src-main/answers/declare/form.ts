import { contentFor, contentOf, FACT_RULES, type Fact } from '../../../src-shared/declare/contents.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { Reader } from '../../store/store.ts';
import type { Answer } from '../context.ts';
import { optional } from '../optional.ts';
import { holdingOf, type Person, recordsOf } from '../reading/holding.ts';

/** Answers `declaration-form`: what this holding said the last time, and nothing of animals that have gone. */
export const declarationForm: Answer<'declaration-form'> = (context, { holding: id, purpose }) => {
  const tx = context.store.read;
  const holding = holdingOf(tx, id);
  const last = tx.get<{ data: string }>(
    "SELECT data FROM declaration WHERE holding = ? AND data ->> '$.purpose' = ? ORDER BY seq DESC LIMIT 1",
    id,
    purpose,
  );
  const before = last && (JSON.parse(last.data) as DataOf<'declared'>);
  const content = before?.content ?? contentFor(holding.law);
  const kept: Partial<Record<Fact, string>> = {};
  for (const fact of contentOf(purpose, content).facts) {
    if (!FACT_RULES[fact].isKept) continue;
    const said = before?.facts[fact] ?? (fact === 'vet' ? vetOf(tx) : undefined);
    if (said !== undefined) kept[fact] = said;
  }
  return { content, ...optional('relevantDays', before?.relevantDays), facts: kept };
};

/** The vet the book knows, where there is one alone. */
function vetOf(tx: Reader): string | undefined {
  const vets = recordsOf<Person>(tx, 'person').filter(({ roles, active }) => active && roles.includes('vet'));
  const [vet] = vets;
  if (vet === undefined || vets.length > 1) return undefined;
  return [vet.name, vet.address ?? '', vet.phone ?? ''].filter((text) => text !== '').join(', ');
}
