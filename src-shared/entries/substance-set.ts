import { z } from 'zod';
import { groupWords, SUBSTANCE_GROUPS } from '../record/use-classes.ts';
import { searchKey } from '../search-key.ts';
import { entryKind, subjectOf } from './kind.ts';
import { recordRow } from './record-row.ts';

const factor = z.string().regex(/^\d{1,3}(\.\d{1,9})?$/);

/** What a substance is called in the book: one name, and where the insert names a salt, with that salt. */
export function substanceKey({ substance, salt }: { substance: string; salt?: string | undefined }): string {
  return salt === undefined ? searchKey(substance) : `${searchKey(substance)} / ${searchKey(salt)}`;
}

/**
 * What is known of an active substance beside the labels that name it: its group, and how its strength becomes mg.
 * No insert prints this in one way, so it belongs to the substance and holds for every label that has it.
 */
export const substanceSet = entryKind({
  kind: 'substance-set',
  version: 1,
  schema: z.strictObject({
    substance: z.string().trim().min(1).max(80),
    salt: z.string().trim().min(1).max(80).optional(),
    group: z.enum(SUBSTANCE_GROUPS),
    /** mg in one IU. */
    iuToMg: factor.optional(),
    /** The part of the salt that is the substance. */
    saltFactor: factor.optional(),
  }),
  subjects: (data) => [subjectOf('substance', substanceKey(data))],
  fold: (entry) => [recordRow('substance', substanceKey(entry.data), entry.data.substance, entry)],
  line: ({ substance, salt, group }) =>
    `Substance ${substance}${salt === undefined ? '' : ` as ${salt}`}: ${groupWords(group)}`,
});
