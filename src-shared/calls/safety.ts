import { emergencyNumbers } from '../entries/business-set.ts';
import { EXPOSURES } from '../entries/exposure.ts';
import { OUTCOMES, REACTIONS } from '../entries/reaction.ts';
import { done, idSchema, longText, nothing, reading, subjectSchema, typed, writing, z } from './call.ts';

const paperSize = z.enum(['a4', 'letter']).optional();
const paperMade = z.strictObject({ paper: z.string(), checkCode: z.string() });
const hazardRow = z.strictObject({
  medicine: idSchema,
  name: z.string(),
  inside: z.string(),
  isInjected: z.boolean(),
  isOily: z.boolean(),
  isVaccine: z.boolean(),
  people: z.string().optional(),
  pregnantWomen: z.string().optional(),
  other: z.string().optional(),
  /** Batches of the bottles that are open, or of those that may be. */
  batches: z.array(z.string()),
  /** Used in the session that was asked about, or in one that is open. */
  isInWork: z.boolean(),
});
const numbers = emergencyNumbers;

const exposureRow = z.strictObject({
  exposure: idSchema,
  who: z.string(),
  how: z.enum(EXPOSURES),
  product: z.string(),
  batch: z.string().optional(),
  amount: z.string().optional(),
  where: z.string().optional(),
  done: z.string(),
  told: z.string().optional(),
  local: z.string(),
  recorded: z.string(),
  by: z.string(),
  entry: z.strictObject({ request: z.string(), n: z.number().int() }),
});
const reactionRow = z.strictObject({
  reaction: idSchema,
  administration: idSchema,
  subject: subjectSchema,
  shown: z.string(),
  product: z.string(),
  batch: z.string(),
  what: z.enum(REACTIONS),
  heads: z.number().int().optional(),
  seen: z.string(),
  outcome: z.enum(OUTCOMES),
  done: z.string().optional(),
  told: z.string().optional(),
  local: z.string(),
  by: z.string(),
  /** False when the treatment has been struck out since. */
  stands: z.boolean(),
  entry: z.strictObject({ request: z.string(), n: z.number().int() }),
});

export const safetyCalls = {
  emergency: reading(
    'What to have at hand when a person came into contact with a medicine: the farm’s numbers, and what each label says of people, the worst first.',
    z.strictObject({ session: idSchema.optional() }),
    z.strictObject({
      numbers,
      vets: z.array(z.strictObject({ name: z.string(), phone: z.string().optional() })),
      /** Of the session, or of the open sessions; worst first. */
      medicines: z.array(hazardRow),
      /** True when a needle is used with one of those in work, or when nothing is in work. */
      isInjected: z.boolean(),
    }),
  ),
  'set-emergency-numbers': writing(
    'The numbers for an emergency: doctor, hospital, poison line, emergency call, and where the farm is for who comes.',
    numbers.shape,
    done,
  ),
  'emergency-paper': reading(
    'The emergency sheet as a PDF, for a session, for named medicines, or for everything in work.',
    z.strictObject({
      session: idSchema.optional(),
      medicines: z.array(idSchema).max(10).optional(),
      paper: paperSize,
    }),
    paperMade,
  ),
  'record-exposure': writing(
    'A person came into contact with a medicine: who, when, with what, how, what was done, who was told.',
    {
      who: typed,
      how: z.enum(EXPOSURES),
      /** A medicine of the book, or what it was in words. */
      medicine: idSchema.optional(),
      product: typed.optional(),
      batch: z.string().trim().max(60).optional(),
      amount: z.string().trim().max(120).optional(),
      where: z.string().trim().max(200).optional(),
      done: longText,
      told: z.string().trim().max(400).optional(),
      session: idSchema.optional(),
    },
    z.strictObject({ exposure: idSchema }),
  ),
  exposures: reading(
    'Persons who came into contact with a medicine, newest first.',
    nothing,
    z.strictObject({ exposures: z.array(exposureRow) }),
  ),
  'record-reaction': writing(
    'A reaction to one treatment, one that is suspected, or a treatment without effect.',
    {
      administration: idSchema,
      what: z.enum(REACTIONS),
      heads: z.number().int().min(1).max(1_000_000).optional(),
      seen: longText,
      outcome: z.enum(OUTCOMES).default('not-known'),
      done: longText.optional(),
      told: z.string().trim().max(400).optional(),
    },
    z.strictObject({ reaction: idSchema }),
  ),
  reactions: reading(
    'Reactions and treatments without effect, newest first: of one treatment, of one animal, or all.',
    z.strictObject({ administration: idSchema.optional(), subject: subjectSchema.optional() }),
    z.strictObject({ reactions: z.array(reactionRow) }),
  ),
  'reaction-paper': reading(
    'The report of one reaction for the vet, as a PDF.',
    z.strictObject({ reaction: idSchema, paper: paperSize }),
    paperMade,
  ),
};
