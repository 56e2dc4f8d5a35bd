import { z } from 'zod';
import { entryKind } from './kind.ts';
import { idSchema, subjectSchema, weightSchema } from './parts.ts';

export const WEIGHED_HOW = ['crate', 'scale', 'tape', 'eye'] as const;

/** A weight as entered, with how it is known. For a lot it is the weight a head. */
export const weighed = entryKind({
  kind: 'weighed',
  version: 1,
  schema: z.strictObject({
    subject: subjectSchema,
    weight: weightSchema,
    how: z.enum(WEIGHED_HOW),
    /** What the tape showed, where the weight was worked out from it. */
    tape: z.strictObject({ girth: z.string().max(40), length: z.string().max(40) }).optional(),
    import: idSchema.optional(),
  }),
  subjects: (data) => [data.subject],
  fold(entry, subject) {
    const { weight, how } = entry.data;
    const table = subject.startsWith('lot:') ? 'lot' : 'animal';
    return [
      {
        op: 'put',
        table: 'weighing',
        row: {
          seq: entry.seq,
          at: entry.happened.at,
          local: entry.happened.local,
          value: weight.value,
          unit: weight.unit,
          how,
        },
      },
      {
        op: 'change',
        table,
        key: { id: subject.slice(subject.indexOf(':') + 1) },
        set: {
          weight: weight.value,
          weight_unit: weight.unit,
          weighed_on: entry.happened.local,
          weighed_how: how,
        },
      },
    ];
  },
  line: (data) => `Weighed ${data.weight.value} ${data.weight.unit} (${data.how})`,
});
