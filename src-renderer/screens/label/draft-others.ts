import { z } from 'zod';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';

/** The rows for other animals while a label is being typed. */
export const otherDraft = z.strictObject({
  animal: z.string(),
  otherFamily: z.boolean(),
  produce: z.string(),
  says: z.string(),
  value: z.string(),
});
export type OtherDraft = z.infer<typeof otherDraft>;

/** A row for other animals that says nothing yet. */
export const blankOther: OtherDraft = {
  animal: '',
  otherFamily: false,
  produce: 'meat',
  says: '',
  value: '',
};

/** The rows of a label on record, as they would have been typed. */
export function othersOf(terms: LabelTerms): OtherDraft[] {
  return (terms.others ?? []).map((row) => ({ ...row, value: row.value ?? '' }));
}

/** The rows in the shape of terms. None says the same as not said, and older labels do not have it. */
export function rawOthers(rows: readonly OtherDraft[]): Record<string, unknown>[] | undefined {
  if (rows.length === 0) return undefined;
  return rows.map(({ value, ...row }) => (row.says === 'value' ? { ...row, value } : row));
}

/** What is said of lambs that suck, while a label is being typed. */
export const sucklingDraft = z.strictObject({ says: z.string(), value: z.string() });

/** Nothing said of lambs that suck. */
export const blankSuckling = { says: '', value: '' };

/** The word on sucking lambs in the shape of terms; nothing where the label is silent. */
export function rawSuckling({
  says,
  value,
}: z.infer<typeof sucklingDraft>): Record<string, unknown> | undefined {
  if (says === '') return undefined;
  return says === 'value' && value.trim() !== '' ? { says, value } : { says };
}

/** An object without its empty texts and without parts that hold nothing. */
export function filled(values: Readonly<Record<string, unknown>>): Record<string, unknown> {
  return Object.fromEntries(
    Object.entries(values).filter(([, value]) => {
      if (value === undefined) return false;
      return typeof value !== 'string' || value.trim() !== '';
    }),
  );
}
