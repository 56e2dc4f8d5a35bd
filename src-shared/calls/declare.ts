import { CONTENTS, FACTS } from '../declare/contents.ts';
import { PURPOSES } from '../declare/purposes.ts';
import { declarationLineSchema } from '../entries/declared.ts';
import { produceSchema } from '../entries/parts.ts';
import { DESTINATIONS } from '../withdrawal/verdict.ts';
import { entryName } from './book.ts';
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
const factText = z.string().trim().max(600);
const declareAsk = {
  holding: idSchema,
  purpose: z.enum(PURPOSES).default('slaughter'),
  /** Which text says what it must say. The screens offer the one of the holding's law. */
  content: z.enum(CONTENTS).default('plain'),
  /** Of slaughter and of milk: where it goes. */
  destination: z.enum(DESTINATIONS).default('domestic'),
  to: typed,
  /** The holding they go to, on a transfer. */
  toHolding: idSchema.optional(),
  /** Day or day and time of departure; of milk and shearing, of its beginning. */
  departs: localSchema,
  /** The abattoir agreed not to slaughter before this. */
  notBefore: z.strictObject({ at: localSchema, agreedWith: typed, agreedOn: localSchema }).optional(),
  /** List treatments whose period ended within so many days before; absent: all that the book has. */
  relevantDays: z.number().int().min(1).max(3650).optional(),
  /** What only the keeper can say, by what is asked. */
  facts: z.partialRecord(z.enum(FACTS), factText).default({}),
  subjects: z
    .array(z.strictObject({ subject: subjectSchema, heads: z.number().int().min(1).optional() }))
    .min(1)
    .max(5000),
  accompanied: accompaniedAsk,
};
const toldRow = z.strictObject({
  texts: z.array(z.string()),
  who: z.string(),
  how: z.string(),
  when: z.string(),
  by: z.string(),
});
/** Of a transfer paper: what became of those on it by the book. */
const transferRow = z.strictObject({
  from: z.string(),
  to: z.string(),
  /** They leave only later: nothing can be moved yet. */
  isStillHere: z.boolean(),
  moved: z
    .strictObject({
      entry: entryName,
      local: z.string(),
      by: z.string(),
      heads: z.number().int(),
      /** Heads split off a lot that stays, as lots of their own. */
      parts: z.array(z.strictObject({ subject: subjectSchema, shown: z.string(), heads: z.number().int() })),
      /** On the paper and not moved by it, by name. */
      notMoved: z.array(z.string()),
      /** Who is elsewhere by now, in words. */
      goneOn: z.array(z.string()),
    })
    .optional(),
  /** The move that was struck out last, where none stands. */
  takenBack: z.strictObject({ why: z.string(), by: z.string(), on: z.string() }).optional(),
});
const declarationRow = z.strictObject({
  declaration: idSchema,
  number: z.number().int(),
  purpose: z.enum(PURPOSES),
  title: z.string(),
  to: z.string(),
  departs: z.string(),
  notBefore: z.string().optional(),
  heads: z.number().int(),
  state: z.enum(['standing', 'cancelled']),
  paper: z.string(),
  checkCode: z.string(),
  /** The day the computer believed when it was signed, and by whom. */
  signed: z.string(),
  signer: z.string(),
  cancelled: z.strictObject({ why: z.string(), by: z.string(), recorded: z.string() }).optional(),
  /** What is not so any more and nobody was told yet. */
  notices: z.array(z.string()),
  told: z.array(toldRow),
  transfer: transferRow.optional(),
});
const awayLine = z.strictObject({
  medicine: idSchema,
  name: z.string(),
  /** "Vermolin drench would clear 82 days after they are due away (14 Mar 2026)." */
  text: z.string(),
  /** Whole days after the day they are due away; absent when time never clears it. */
  daysAfter: z.number().int().optional(),
  clear: z.string().optional(),
});

export const declareCalls = {
  'clear-list': reading(
    'Who is clear for this produce at a time, and who is held, until when and why.',
    z.strictObject({
      holding: idSchema.optional(),
      produce: produceSchema.default('meat'),
      /** Export and organic ask for more than people here: their own periods as well. */
      destination: z.enum(DESTINATIONS).default('domestic'),
      at: localSchema,
      group: idSchema.optional(),
      search: z.string().max(120).default(''),
    }),
    z.strictObject({
      produce: z.string(),
      destination: z.enum(DESTINATIONS),
      at: z.string(),
      clear: z.array(
        shownSubject.extend({
          since: z.string().optional(),
          /** For export: medicines of the last 12 months whose label says nothing of export. */
          silent: z.array(z.string()).optional(),
        }),
      ),
      /** The same of all who were asked about, clear or held, with the heads that had each. */
      silent: z.array(z.strictObject({ product: z.string(), heads: z.number().int() })),
      held: z.array(heldRow),
      /** Latest first: when the held may go, and who would have to stay at home for it. */
      steps: z.array(
        z.strictObject({
          at: z.string(),
          stay: z.number().int(),
          stayHeads: z.number().int(),
          staying: z.array(z.strictObject({ subject: subjectSchema, shown: z.string() })),
        }),
      ),
    }),
  ),
  'clears-before-away': reading(
    'For animals that are due away: what a medicine given now would do to that date, and which others clear sooner.',
    z.strictObject({
      subjects: z.array(subjectSchema).max(50_000).default([]),
      groups: z.array(idSchema).max(50).default([]),
      medicine: idSchema,
      /** The line of the label; absent, the first that fits. */
      doseLine: z.string().max(60).optional(),
      instruction: idSchema.optional(),
      /** When it is given; absent: now. */
      happened: localSchema.optional(),
    }),
    z.strictObject({
      /** One for each group that is due away and that it would hold beyond its date. */
      late: z.array(
        z.strictObject({
          group: idSchema,
          name: z.string(),
          dueFrom: z.string(),
          heads: z.number().int(),
          this: awayLine,
          /** The farm's other medicines for the same purpose, soonest first, that clear sooner. */
          sooner: z.array(awayLine),
        }),
      ),
    }),
  ),
  'declaration-form': reading(
    'What the form of a declaration begins with: what is asked, and what this holding said the last time.',
    z.strictObject({ holding: idSchema, purpose: z.enum(PURPOSES).default('slaughter') }),
    z.strictObject({
      content: z.enum(CONTENTS),
      relevantDays: z.number().int().optional(),
      /** Only what belongs to the holding; what is so of the animals is asked each time. */
      facts: z.partialRecord(z.enum(FACTS), z.string()),
    }),
  ),
  'preview-declaration': reading(
    'What a declaration would say, and who is refused by name with the date they clear.',
    z.strictObject(declareAsk),
    z.strictObject({
      lines: z.array(declarationLineSchema),
      refused: z.array(heldRow),
      openSessions: z.array(z.string()),
      /** What must be said and is not said yet. */
      missing: z.array(z.enum(FACTS)),
      question: z.string(),
      sentences: z.array(z.string()),
    }),
  ),
  declare: writing(
    'Signs a declaration: numbered, frozen, its paper kept as bytes.',
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
  'move-declared': writing(
    'Moves those on a signed transfer paper to the other holding, as they left. Struck out like any entry when they did not.',
    { declaration: idSchema },
    z.strictObject({
      heads: z.number().int(),
      /** Who was not moved, and why. */
      left: z.array(z.strictObject({ shown: z.string(), why: z.string() })),
    }),
  ),
  'tell-declaration': writing(
    'Whoever was given a declaration has been told what is not so any more: who, how, and when it happened.',
    {
      declaration: idSchema,
      /** The notices that were told, as they read. */
      notices: z.array(z.string().max(20_000)).min(1).max(500),
      who: typed,
      how: longText,
    },
    done,
  ),
  notices: reading(
    'Declarations that something written later has touched, and nobody was told yet: who was told what, and what is so now.',
    z.strictObject({}),
    z.strictObject({ notices: z.array(noticeRow) }),
  ),
};
