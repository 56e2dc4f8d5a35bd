import { CERTIFICATE_RULES } from '../entries/certificate-set.ts';
import { EVENTS_NOTED } from '../entries/event-noted.ts';
import {
  daySchema,
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

const entryName = z.strictObject({ request: z.string(), n: z.number().int() });

/** One hold with all that a person asks about it. */
const whyRow = z.strictObject({
  hold: shownHold,
  /** It bars now, or will. */
  isRunning: z.boolean(),
  /** "Treated with …, on 1 Jan 2026, 08:00". */
  reason: z.string(),
  /** Where it was put on, when that is a lot it came out of or its dam. */
  cameBy: z.string().optional(),
  /** "last dose", "lambing". */
  countedFrom: z.string().optional(),
  /** "24-hour days", "whole days", "the later of both". */
  counting: z.string().optional(),
  margin: z.string().optional(),
  /** "28 d and 42 d", where it was drawn from bottles with different inserts and the longest counts. */
  inserts: z.string().optional(),
  /** For a lamb held by its dam's treatment: by what its end goes, in a sentence. */
  young: z.string().optional(),
  /** What the label says of suckling young, for a lamb held by its dam's treatment. */
  label: z.string().optional(),
  administration: idSchema.optional(),
});
const eventRow = z.strictObject({
  event: idSchema,
  what: z.enum(EVENTS_NOTED),
  local: localSchema,
  text: z.string(),
  entry: entryName,
});
const footRow = z.strictObject({
  foot: idSchema,
  lamb: shownSubject,
  dam: shownSubject,
  from: localSchema,
  until: localSchema.optional(),
});
const certificate = z.strictObject({
  certificate: idSchema,
  of: z.string(),
  shown: z.string(),
  rules: z.enum(CERTIFICATE_RULES),
  name: z.string(),
  number: z.string().optional(),
  from: daySchema,
  until: daySchema.optional(),
  /** Whoever waits for an organic date that comes after its last day, with no certificate to follow. */
  waiting: z
    .strictObject({
      heads: z.number().int(),
      /** The last of those dates; absent where one has none. */
      last: daySchema.optional(),
      says: z.string(),
    })
    .optional(),
});
/** How an organic animal or lot stands by the count of its courses. */
const organicRow = shownSubject.extend({
  rules: z.enum(['eu-organic', 'us-organic']),
  counted: z.number().int().optional(),
  most: z.number().int().optional(),
  /** Another course that counts would end its organic status. */
  isLast: z.boolean(),
  isLost: z.boolean(),
  text: z.string(),
});

export const holdCalls = {
  'note-event': writing(
    'Lambed, device taken out, release ended, came into milk or went dry: what holds wait for, and who it happened to.',
    {
      subjects: z.array(subjectSchema).min(1).max(5000),
      what: z.enum(EVENTS_NOTED),
      note: longText.max(400).optional(),
    },
    z.strictObject({
      events: z.array(idSchema),
      /** What each of them is held by now, of the holds that waited for this. */
      settled: z.array(shownSubject.extend({ holds: z.array(shownHold) })),
    }),
  ),
  'why-held': reading(
    'Why an animal, a lot or a group is held: each hold with its reason, what it is counted from and how.',
    z.strictObject({ subject: subjectSchema.optional(), group: idSchema.optional() }),
    z.strictObject({
      now: z.string(),
      /** Those held first; at most 500. */
      subjects: z.array(
        shownSubject.extend({
          rows: z.array(whyRow),
          events: z.array(eventRow),
          sentences: z.array(z.string()),
        }),
      ),
      total: z.number().int(),
      /** For a group: each reason once, with how many it holds and until when the last of them. */
      summary: z.array(
        z.strictObject({
          text: z.string(),
          heads: z.number().int(),
          produce: z.string(),
          clock: z.string(),
          from: z.string(),
          until: z.string().optional(),
          /** They are not in milk: it holds them only if they come into milk. */
          isDormant: z.boolean(),
        }),
      ),
    }),
  ),
  'date-hold': writing(
    'A hold without an end gets one: a statement of what still runs, a stand-down signed by the keeper, or the vet’s word.',
    {
      hold: idSchema,
      subject: subjectSchema,
      how: z.enum(['statement', 'stand-down', 'vet-word']),
      /** Until when the meat is held: a day counts to its end. */
      meatUntil: localSchema.optional(),
      milkUntil: localSchema.optional(),
      /** For a stand-down: whole days from when it came. */
      days: z.number().int().min(1).max(3660).optional(),
      /** The keeper who signs a stand-down. */
      signer: idSchema.optional(),
      why: longText,
    },
    z.strictObject({ holds: z.array(shownHold) }),
  ),
  'set-at-foot': writing(
    'Lambs suck a ewe, or are weaned: what she is treated with meanwhile holds their meat too.',
    {
      foot: idSchema.optional(),
      subject: subjectSchema,
      dam: subjectSchema,
      /** Local day or time; absent: now. */
      from: localSchema.optional(),
      until: localSchema.optional(),
    },
    z.strictObject({ foot: idSchema, holds: z.array(shownHold) }),
  ),
  'at-foot': reading(
    'Who sucks whom: the lambs of a ewe, or the dam of a lamb.',
    z.strictObject({ subject: subjectSchema }),
    z.strictObject({ links: z.array(footRow) }),
  ),
  'set-certificate': writing(
    'A certificate of the holding, an animal or a lot, with its days. Organic ones begin a second clock.',
    {
      certificate: idSchema.optional(),
      of: z.string().regex(/^(holding|animal|lot):.{1,60}$/),
      rules: z.enum(CERTIFICATE_RULES),
      name: typed,
      number: z.string().trim().max(60).optional(),
      from: daySchema,
      until: daySchema.optional(),
    },
    z.strictObject({
      certificate: idSchema,
      /** Declarations that are wrong with it: whom to tell what. */
      notices: z.array(z.string()),
      /** Who waits for an organic date that it does not reach. */
      says: z.string().optional(),
    }),
  ),
  certificates: reading(
    'Certificates of holdings, animals and lots.',
    z.strictObject({ of: z.string().max(80).optional() }),
    z.strictObject({ certificates: z.array(certificate) }),
  ),
  'except-from-organic': writing(
    'A treatment that was part of a compulsory scheme does not count among the organic courses.',
    { administration: idSchema, why: longText },
    done,
  ),
  'organic-standing': reading(
    'How certified animals stand: courses in 12 months, and whether one more would end their organic status.',
    z.strictObject({
      subjects: z.array(subjectSchema).max(5000).optional(),
      group: idSchema.optional(),
      /** Only those about whom there is something to say: the next course is the last, or status is lost. */
      onlyWarned: z.boolean().default(false),
    }),
    z.strictObject({ rows: z.array(organicRow) }),
  ),
  'marks-fading': reading(
    'Marks that can be expected to fade within a week, or have, on animals and lots that are there.',
    z.strictObject({ days: z.number().int().min(0).max(60).default(7) }),
    z.strictObject({
      marks: z.array(
        shownSubject.extend({
          colour: z.string(),
          place: z.string(),
          lastsUntil: daySchema,
          isPast: z.boolean(),
          text: z.string(),
        }),
      ),
    }),
  ),
};
