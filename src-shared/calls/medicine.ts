import { labelTermsSchema } from '../label/terms.ts';
import { idSchema, localSchema, longText, reading, typed, warning, writing, z } from './call.ts';

const movedRow = z.strictObject({
  administration: idSchema,
  subject: z.string(),
  shown: z.string(),
  given: z.string(),
  produce: z.string(),
  /** As people read it: a date and time, "not stated", "for life". */
  from: z.string(),
  to: z.string(),
});
/** What another label gives a sheep of this weight. */
const doseRow = z.strictObject({
  line: z.string(),
  weight: z.string(),
  before: z.string(),
  after: z.string(),
});
const noticeRow = z.strictObject({
  declaration: idSchema,
  number: z.number().int(),
  to: z.string(),
  text: z.string(),
});

export const medicineCalls = {
  medicines: reading(
    'The medicines on record with what is left of each.',
    z.strictObject({ search: z.string().max(120).default('') }),
    z.strictObject({
      medicines: z.array(
        z.strictObject({
          medicine: idSchema,
          name: z.string(),
          purpose: z.string(),
          form: z.string(),
          kind: z.enum(['volume', 'mass', 'pieces']),
          state: z.enum(['draft', 'confirmed']),
          revision: idSchema,
          routes: z.array(z.string()),
          meat: z.string(),
          milk: z.string(),
          /** What may still be used today. */
          usable: z.string(),
          containers: z.number().int(),
          /** Who may supply it, as the label says: "vet-prescription", "not-stated". */
          prescription: labelTermsSchema.shape.prescription.unwrap(),
          /** The local day or time of the last dose that came out of a container of the farm. */
          lastGiven: localSchema.optional(),
        }),
      ),
    }),
  ),
  medicine: reading(
    'One medicine with every revision of its label.',
    z.strictObject({ medicine: idSchema }),
    z.strictObject({
      medicine: idSchema,
      name: z.string(),
      revisions: z.array(
        z.strictObject({
          revision: idSchema,
          n: z.number().int(),
          state: z.enum(['draft', 'confirmed']),
          act: z.string(),
          since: z.string(),
          terms: labelTermsSchema,
          /** The label in full words. */
          says: z.array(z.string()),
        }),
      ),
      batches: z.array(
        z.strictObject({
          batch: idSchema,
          number: z.string(),
          expiry: z.string(),
          revision: idSchema,
          received: z.string(),
        }),
      ),
    }),
  ),
  'check-label': reading(
    'Reads a label back in full words, with what there is to ask about, without writing it.',
    z.strictObject({
      terms: labelTermsSchema,
      /** The medicine it belongs to: its periods are then held beside those of the labels before. */
      medicine: idSchema.optional(),
      /** For a typing error: the revision that was typed wrongly. */
      revision: idSchema.optional(),
    }),
    z.strictObject({ says: z.array(z.string()), questions: z.array(warning) }),
  ),
  'preview-label-correction': reading(
    'Which treatments, holds and declarations would move if this revision had been typed wrongly.',
    z.strictObject({ medicine: idSchema, revision: idSchema, terms: labelTermsSchema }),
    z.strictObject({
      moved: z.array(movedRow),
      notices: z.array(noticeRow),
      differences: z.array(z.string()),
      /** What it gives 20, 45 and 80 kg otherwise than before. */
      doses: z.array(doseRow),
    }),
  ),
  'set-label': writing(
    'A first label, a new insert (a new revision; old treatments stay), or a typing error (the same revision; what it moves is decided anew).',
    {
      act: z.enum(['first', 'new-insert', 'typed-wrongly']),
      medicine: idSchema.optional(),
      /** For a typing error: the revision that was typed wrongly. */
      revision: idSchema.optional(),
      terms: labelTermsSchema,
      why: longText.optional(),
      state: z.enum(['draft', 'confirmed']).default('confirmed'),
    },
    z.strictObject({
      medicine: idSchema,
      revision: idSchema,
      moved: z.array(movedRow),
      notices: z.array(noticeRow),
      questions: z.array(warning),
    }),
  ),
};
export { noticeRow, typed };
