import { declarationLineSchema } from '../entries/declared.ts';
import { produceSchema } from '../entries/parts.ts';
import {
  done,
  idSchema,
  localSchema,
  longText,
  reading,
  shownHold,
  shownSubject,
  subjectSchema,
  typed,
  writing,
  z,
} from './call.ts';
import { noticeRow } from './medicine.ts';

const heldRow = shownSubject.extend({
  /** When it clears, if time clears it. */
  clear: z.string().optional(),
  why: z.string(),
  holds: z.array(shownHold),
});
/** For an animal that a broken needle holds: it may go, marked, with the abattoir told. */
const accompaniedAsk = z
  .array(
    z.strictObject({
      subject: subjectSchema,
      /** How it is marked: "red cross on the back". */
      mark: typed,
      /** Who was told at the abattoir, and how: "Their office, by telephone, 4 May". */
      told: typed,
    }),
  )
  .max(100)
  .default([]);
const declareAsk = {
  holding: idSchema,
  to: typed,
  /** Day or day and time of departure. */
  departs: localSchema,
  subjects: z
    .array(z.strictObject({ subject: subjectSchema, heads: z.number().int().min(1).optional() }))
    .min(1)
    .max(5000),
  accompanied: accompaniedAsk,
};
const declarationRow = z.strictObject({
  declaration: idSchema,
  number: z.number().int(),
  to: z.string(),
  departs: z.string(),
  heads: z.number().int(),
  state: z.enum(['standing', 'cancelled']),
  paper: z.string(),
  checkCode: z.string(),
  /** The day the computer believed when it was signed, and by whom. */
  signed: z.string(),
  signer: z.string(),
  cancelled: z.strictObject({ why: z.string(), by: z.string(), recorded: z.string() }).optional(),
  notices: z.array(z.string()),
});

export const declareCalls = {
  'clear-list': reading(
    'Who is clear for this produce at a time, and who is held, until when and why.',
    z.strictObject({
      holding: idSchema.optional(),
      produce: produceSchema.default('meat'),
      at: localSchema,
      group: idSchema.optional(),
      search: z.string().max(120).default(''),
    }),
    z.strictObject({
      produce: z.string(),
      at: z.string(),
      clear: z.array(shownSubject.extend({ since: z.string().optional() })),
      held: z.array(heldRow),
    }),
  ),
  'preview-declaration': reading(
    'What a slaughter declaration would say, and who is refused by name with the date they clear.',
    z.strictObject(declareAsk),
    z.strictObject({
      lines: z.array(declarationLineSchema),
      refused: z.array(heldRow),
      openSessions: z.array(z.string()),
      question: z.string(),
      sentences: z.array(z.string()),
    }),
  ),
  declare: writing(
    'Signs a slaughter declaration: numbered, frozen, its paper kept as bytes.',
    {
      ...declareAsk,
      signer: idSchema,
      answer: z.enum(['yes', 'no']),
      paper: z.enum(['a4', 'letter']).optional(),
    },
    z.strictObject({
      declaration: idSchema,
      number: z.number().int(),
      paper: z.string(),
      checkCode: z.string(),
    }),
  ),
  declarations: reading(
    'Declarations, newest first, with what has touched them since.',
    z.strictObject({
      holding: idSchema.optional(),
      /** Only this one. */
      declaration: idSchema.optional(),
      limit: z.number().int().min(1).max(500).default(100),
    }),
    z.strictObject({ declarations: z.array(declarationRow) }),
  ),
  'cancel-declaration': writing(
    'Cancels a declaration; it stays in the book with its paper.',
    { declaration: idSchema, why: longText },
    done,
  ),
  notices: reading(
    'Declarations that something written later has touched: who was told what, and what is so now.',
    z.strictObject({}),
    z.strictObject({ notices: z.array(noticeRow) }),
  ),
};
