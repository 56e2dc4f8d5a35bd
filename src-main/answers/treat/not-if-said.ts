import type { NotIfFinding } from '../../../src-shared/label/not-if.ts';
import { Refusal } from '../../../src-shared/refusal.ts';

/** Every row that bars the animal with its dates, in one text; nothing when none does. */
export function barring(findings: readonly NotIfFinding[]): string | undefined {
  const bars = findings.filter(({ applies }) => applies === 'yes').map(({ text }) => text);
  return bars.length === 0 ? undefined : bars.join('. ');
}

/** Refuses (`not-if`) when a row bars the animal. */
export function checkNotBarred(findings: readonly NotIfFinding[]): void {
  const bars = barring(findings);
  if (bars === undefined) return;
  throw new Refusal('not-if', bars, { field: 'subject', next: 'Leave it out, or ask the vet.' });
}

/** What a person must look at in one animal, each with the reason why the book cannot say it. */
export function toCheck(findings: readonly NotIfFinding[]): string[] {
  return findings.filter(({ applies }) => applies === 'check').map(({ text }) => text);
}

/**
 * What must be looked at in everybody who is planned: each row of the label once, and in how many when not in all.
 * @param each the findings of every animal and lot that stays in the plan
 */
export function checksOfAll(each: readonly (readonly NotIfFinding[])[]): string[] {
  const rows = new Map<string, { rule: string; count: number }>();
  for (const finding of each.flat()) {
    if (finding.applies !== 'check') continue;
    const known = rows.get(finding.row.id);
    rows.set(finding.row.id, { rule: finding.rule, count: (known?.count ?? 0) + 1 });
  }
  return [...rows.values()].map(({ rule, count }) =>
    count === each.length ? rule : `${rule} (${count} of the ${each.length} animals and lots)`,
  );
}
