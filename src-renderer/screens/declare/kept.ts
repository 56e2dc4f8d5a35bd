import type { Ask } from '../../../src-shared/calls/all.ts';

/** Who goes accompanied, with how it is marked and who was told. */
export type Kept = { subject: string; shown: string; mark: string; told: string };

/** Who goes accompanied, as the form keeps it. */
export function readKept(texts: readonly string[]): Kept[] {
  // Written by `keep` alone.
  return texts.map((text) => JSON.parse(text) as Kept);
}

/** As the form keeps it. */
export const keep = (list: readonly Kept[]): string[] => list.map((one) => JSON.stringify(one));

/** What is asked of the desk: only those of whom everything is said; the others stay held. */
export function accompaniedOf(
  texts: readonly string[],
): NonNullable<Ask<'preview-declaration'>['accompanied']> {
  return readKept(texts)
    .filter(({ mark, told }) => mark.trim() !== '' && told.trim() !== '')
    .map(({ subject, mark, told }) => ({ subject, mark: mark.trim(), told: told.trim() }));
}
