import { z } from 'zod';
import { labelTermsSchema } from '../label/terms.ts';
import { searchKey } from '../search-key.ts';
import { entryKind, subjectOf } from './kind.ts';
import { idSchema, textSchema } from './parts.ts';

/**
 * What a package insert says. Two different acts: a new insert makes a revision and leaves old treatments
 * alone; a typing error changes the same revision, and `reassessed` entries beside it move what it moved.
 */
export const labelSet = entryKind({
  kind: 'label-set',
  version: 1,
  schema: z.strictObject({
    medicine: idSchema,
    revision: idSchema,
    act: z.enum(['first', 'new-insert', 'typed-wrongly']),
    /** A draft is not dosed from by plan until rate, strength and meat period were typed a second time. */
    state: z.enum(['draft', 'confirmed']),
    terms: labelTermsSchema,
    why: textSchema.optional(),
  }),
  subjects: (data) => [subjectOf('medicine', data.medicine)],
  fold(entry, _subject, read) {
    const { medicine, revision, state, terms, act } = entry.data;
    const before = read.rows('revision');
    const same = before.find((row) => row.id === revision);
    const newest = before.reduce((most, row) => Math.max(most, Number(row.n)), 0);
    const n = same ? Number(same.n) : newest + 1;
    const put = {
      id: revision,
      medicine,
      n,
      state,
      act,
      since: entry.happened.local,
      seq: entry.seq,
      terms: JSON.stringify(terms),
    };
    const head =
      n < newest
        ? []
        : [
            {
              op: 'put' as const,
              table: 'medicine',
              row: {
                id: medicine,
                name: terms.name,
                name_key: searchKey(terms.name),
                purpose: terms.purpose,
                kind: terms.kind,
                form: terms.form,
                revision,
                state,
              },
            },
          ];
    return [{ op: 'put', table: 'revision', row: put }, ...head];
  },
  line: (data) =>
    data.act === 'typed-wrongly'
      ? `Label of ${data.terms.name} corrected: ${data.why ?? 'typed wrongly'}`
      : `Label of ${data.terms.name} entered`,
});
