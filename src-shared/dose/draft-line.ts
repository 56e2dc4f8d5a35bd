import type { LabelTerms } from '../label/terms.ts';
import { parseAmount } from '../quantity/amount.ts';
import { type Fault, faultOf, Refusal } from '../refusal.ts';
import { doseForLine, type LineGiven } from './dose.ts';
import { type DosedAnimal, type Draft, type DraftHow, draftDoses, draftingRefused } from './draft.ts';

/** An animal, or a lot of so many heads that stand at one weight, as a label line asks about it. */
export type LineAnimal = {
  readonly id: string;
  readonly heads?: number | undefined;
  readonly given: LineGiven;
};

/** Who is in no part, and why: by name on the plan, never silently. */
export type LeftOut = { readonly id: string; readonly fault: Fault };

/**
 * Drafts animals by one line of a label. Whoever the label gives no dose (class, weight, age, no weight known) is left
 * out by name. All must be given one container strength: one draft is one container. Refuses `drafting-not-offered`,
 * `dose-line-unknown`, `nobody-to-draft` when all are left out, and what `draftDoses` refuses.
 */
export function draftForLine(
  terms: LabelTerms,
  doseLine: string,
  animals: readonly LineAnimal[],
  how: Omit<DraftHow, 'most' | 'piece'>,
): Draft & { readonly leftOut: readonly LeftOut[] } {
  const refused = draftingRefused(terms);
  if (refused !== undefined) throw refused;
  const line = terms.doseLines.find(({ id }) => id === doseLine);
  if (line === undefined) {
    throw new Refusal('dose-line-unknown', 'Dose line: the label has no such line.', { field: 'doseLine' });
  }
  const dosed: DosedAnimal[] = [];
  const leftOut: LeftOut[] = [];
  const warnings = new Map<string, { code: string; text: string }>();
  let kind = terms.kind;
  for (const { id, heads, given } of animals) {
    try {
      const answer = doseForLine(terms, doseLine, given);
      if (given.weight === undefined) {
        throw new Refusal('weight-missing', 'Weight: a group is drafted by weight, so weigh it first.', {
          field: 'weight',
        });
      }
      kind = answer.draw.kind;
      const working = answer.working.filter(({ code }) => code !== 'round' && code !== 'sites');
      dosed.push({ id, heads, weight: given.weight, exact: answer.exact, working });
      // What its own draw would be off by says nothing of the part's dose.
      for (const one of answer.warnings) if (one.code === 'age-not-known') warnings.set(one.text, one);
    } catch (thrown) {
      leftOut.push({ id, fault: faultOf(thrown) });
    }
  }
  if (dosed.length === 0) {
    throw new Refusal('nobody-to-draft', 'Animals: this line of the label gives none of them a dose.', {
      field: 'animals',
      next: leftOut[0]?.fault.message,
    });
  }
  const most =
    line.mostDose === undefined ? undefined : parseAmount(line.mostDose, 'mostDose', { piece: terms.piece });
  const draft = draftDoses(dosed, kind, { ...how, most, piece: terms.piece });
  return { ...draft, warnings: [...warnings.values(), ...draft.warnings], leftOut };
}
