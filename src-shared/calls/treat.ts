import { deviationSchema } from '../entries/parts.ts';
import { sourceKinds } from '../entries/session-opened.ts';
import { ROUTES } from '../label/terms.ts';
import {
  idSchema,
  localSchema,
  longText,
  reading,
  shownAmount,
  shownHold,
  shownSubject,
  subjectSchema,
  typed,
  warning,
  workingLine,
  writing,
  z,
} from './call.ts';
import { closingCalls } from './treat-closing.ts';
import { courseCalls } from './treat-course.ts';
import { groupingAsk, groupShown, syringeShown } from './treat-grouping.ts';
import { whereShown } from './where.ts';

const lineAsk = z.strictObject({
  medicine: idSchema,
  /** Absent: the medicine's only dose line, or the one that fits the class. */
  doseLine: idSchema.optional(),
  source: z.enum(sourceKinds).default('ours'),
  reason: longText,
  syringe: z.strictObject({ capacity: typed, graduation: typed }).optional(),
  /** The farm's own syringe or gun; `syringe` is filled from it. */
  equipment: idSchema.optional(),
  /** For what the vet or a contractor brought. */
  batch: z.string().trim().max(40).optional(),
  instruction: idSchema.optional(),
  prescription: idSchema.optional(),
  /** How the animals are dosed together; absent: each by its own weight. */
  grouping: groupingAsk.optional(),
});
/** What ran out again of what was drawn: drops as they were counted, or how much. */
export const leakedAsk = z.union([
  z.strictObject({ drops: z.number().int().min(0).max(200) }),
  z.strictObject({ amount: typed }),
]);
/** The vet's instruction that is followed for a line, where that is not the one of the session's line; null: none. */
const runInstructions = z
  .array(z.strictObject({ line: idSchema, instruction: idSchema.nullable() }))
  .max(10)
  .default([]);
const markAsk = z.strictObject({
  colour: typed,
  place: typed,
  lastsDays: z.number().int().min(1).max(730).default(28),
});
const planAsk = {
  holding: idSchema,
  mode: z.enum(['each', 'mass']).default('each'),
  subjects: z.array(subjectSchema).max(50_000).default([]),
  groups: z.array(idSchema).max(50).default([]),
  lines: z.array(lineAsk).min(1).max(10),
};
const doseSchema = z.strictObject({
  draw: shownAmount,
  /** For `2.4 mL` from 3 sites: the text of each. */
  sites: z.array(z.string()),
  exact: z.string(),
  working: z.array(workingLine),
  warnings: z.array(warning),
});
const drawSchema = z.strictObject({
  container: idSchema,
  label: z.string(),
  batch: z.string(),
  useBy: z.string(),
  take: shownAmount,
});
/** What a line takes with everything that is lost besides, and from which containers. */
const withLosses = z.strictObject({
  total: shownAmount,
  lost: shownAmount,
  /** "146.8 mL for the animals, 3.1 mL for priming and spill: 149.9 mL in all". */
  says: z.string(),
  draws: z.array(drawSchema),
  short: shownAmount.optional(),
  working: z.array(workingLine),
});
/** A course from its first day to its last: what each day takes, losses with it, and from which containers. */
const coursePlan = z.strictObject({
  total: shownAmount,
  says: z.string(),
  /** The first local day that cannot have what it needs. */
  noneFrom: localSchema.optional(),
  short: shownAmount.optional(),
  days: z.array(
    z.strictObject({
      on: z.string(),
      local: localSchema,
      needs: shownAmount,
      draws: z.array(drawSchema),
      short: shownAmount.optional(),
    }),
  ),
});
const planRow = shownSubject.extend({
  weight: z.string().optional(),
  weighedOn: z.string().optional(),
  weighedHow: z.string().optional(),
  doses: z.array(doseSchema.nullable()),
  /** For each line its part, counted from 1; null where it is dosed by itself. */
  parts: z.array(z.number().int().nullable()).optional(),
  /** Of each vaccine, which dose of its course this is; null for a line that is none. Absent without a vaccine. */
  turns: z.array(z.string().nullable()).optional(),
  /** It has no weight yet: weigh it at the race, then its dose is worked out. */
  toWeigh: z.boolean(),
});
const leftOutRow = shownSubject.extend({ why: deviationSchema });
const planLine = z.strictObject({
  medicine: idSchema,
  name: z.string(),
  doseLine: idSchema,
  says: z.string(),
  route: z.string(),
  needs: shownAmount,
  draws: z.array(drawSchema),
  /** What is missing for the doses alone. */
  short: shownAmount.optional(),
  /** Absent where nothing is lost besides, or it is not our bottle. */
  withLosses: withLosses.optional(),
  /** Absent where no dose follows. */
  course: coursePlan.optional(),
  warnings: z.array(warning),
  grouping: groupShown.optional(),
  /** Why everyone is dosed by its own weight, where a group is not offered. */
  eachBecause: z.string().optional(),
  /** What it is best drawn up in, of what the farm has. */
  drawnUp: syringeShown.optional(),
});
const treatedRow = shownSubject.extend({
  administration: idSchema,
  entry: z.strictObject({ request: z.string(), n: z.number().int() }),
  local: z.string(),
  product: z.string(),
  quantity: z.string(),
  until: z.string(),
});
const treatedReply = z.strictObject({
  administrations: z.array(idSchema),
  /** The course it began or went on with, to name at the next dose. */
  course: idSchema.optional(),
  quantity: z.string(),
  holds: z.array(shownHold),
  draws: z.array(drawSchema),
  deviations: z.array(deviationSchema),
  working: z.array(workingLine),
});
const sessionRow = z.strictObject({
  session: idSchema,
  name: z.string(),
  mode: z.enum(['each', 'mass']),
  state: z.enum(['open', 'closed']),
  opened: z.string(),
  planned: z.number().int(),
  treated: z.number().int(),
  /** Subjects still held because they may have been treated. */
  possibly: z.number().int(),
  /** With which medicines. */
  possiblyOf: z.array(z.string()),
  lines: z.array(z.string()),
});

export const treatCalls = {
  'plan-session': reading(
    'Each dose with its working, the containers earliest use-by first, and who is left out and why. Writes nothing.',
    z.strictObject({
      ...planAsk,
      on: localSchema.optional(),
      /** What the one subject of the plan weighs now, before it is in the book. */
      weight: typed.optional(),
      /** The days of every dose of the course that begins, where a person planned them; absent: as the label repeats it. */
      courseDays: z.array(localSchema).min(2).max(60).optional(),
    }),
    z.strictObject({
      rows: z.array(planRow),
      leftOut: z.array(leftOutRow),
      lines: z.array(planLine),
      warnings: z.array(warning),
    }),
  ),
  'open-session': writing(
    'Opens work at the race: what plan-session showed becomes the work sheet.',
    {
      ...planAsk,
      name: typed,
      mark: markAsk.optional(),
      sharpsOut: z.number().int().min(0).max(100_000).optional(),
    },
    z.strictObject({ session: idSchema, planned: z.number().int(), leftOut: z.number().int() }),
  ),
  sessions: reading(
    'Sessions, newest first.',
    z.strictObject({
      state: z.enum(['open', 'closed', 'all']).default('all'),
      limit: z.number().int().min(1).max(500).default(100),
    }),
    z.strictObject({ sessions: z.array(sessionRow) }),
  ),
  session: reading(
    'One session: what is planned, who was treated, the last ones first.',
    z.strictObject({ session: idSchema }),
    z.strictObject({
      session: sessionRow,
      lines: z.array(
        planLine.extend({
          line: idSchema,
          source: z.enum(sourceKinds),
          syringe: z.strictObject({ capacity: z.string(), graduation: z.string() }).optional(),
          equipment: idSchema.optional(),
          /** The vet's instruction that the whole session follows. */
          instruction: idSchema.optional(),
        }),
      ),
      sharpsOut: z.number().int().optional(),
      closing: z
        .strictObject({
          local: z.string(),
          headsThrough: z.number().int(),
          sharpsBack: z.number().int().optional(),
          note: z.string().optional(),
        })
        .optional(),
      mark: markAsk.optional(),
      waiting: z.array(
        shownSubject.extend({
          /** For each line its part, counted from 1; null where it is dosed by itself. */
          parts: z.array(z.number().int().nullable()).optional(),
          weight: z.string().optional(),
          weighedOn: z.string().optional(),
          weighedHow: z.string().optional(),
          /** The lines that are planned for it and not recorded. */
          left: z.array(idSchema),
          /** Another line is recorded: it went through. */
          isPartly: z.boolean(),
          /** Why an earlier run left it out, where that speaks of all it waits for. */
          leftOut: z.string().optional(),
        }),
      ),
      /** Lots of which only some heads are recorded: `heads` more may come through. */
      inPart: z.array(shownSubject.extend({ of: z.array(z.string()) })),
      leftOut: z.array(leftOutRow),
      last: z.array(treatedRow),
      /** Who may have been given what is not recorded, and of which medicines. */
      possibly: z.array(shownSubject.extend({ hold: idSchema, why: z.string(), of: z.array(z.string()) })),
    }),
  ),
  'work-sheet': reading(
    'The work sheet of an open session as a PDF: what to take, what each gets, what to look at, who is left out and why.',
    z.strictObject({ session: idSchema, paper: z.enum(['a4', 'letter']).optional() }),
    z.strictObject({
      paper: z.string(),
      rows: z.number().int(),
      leftOut: z.number().int(),
      checkCode: z.string(),
    }),
  ),
  'dose-for': reading(
    'What one subject gets in a session, with every stop: already treated, wrong class, weight jump, kg for lb.',
    z.strictObject({
      session: idSchema,
      subject: subjectSchema,
      weight: typed.optional(),
      /** The needle only from those that lie in the drawer by the book. */
      fromDrawer: z.boolean().optional(),
      instructions: runInstructions,
    }),
    z.strictObject({
      who: shownSubject.extend({
        weight: z.string().optional(),
        weighedOn: z.string().optional(),
        weighedHow: z.string().optional(),
        /** What it may weigh today, said as the prediction it is; the doses are by `weight`. */
        predicted: z.string().optional(),
      }),
      doses: z.array(
        z.strictObject({
          line: idSchema,
          name: z.string(),
          route: z.string(),
          dose: doseSchema.nullable(),
          refused: z.strictObject({ code: z.string(), text: z.string() }).optional(),
          /** What the label bars and the book cannot judge: to be looked at first. */
          checks: z.array(z.string()).optional(),
          /** Its part of the group, and the weight it is dosed to. */
          group: z
            .strictObject({
              part: z.number().int(),
              of: z.number().int(),
              to: z.string(),
              says: z.string(),
            })
            .optional(),
          /** What recording it starts: the holds, in words, and which dose of a course it is. */
          foreseen: z
            .strictObject({
              meat: z.string(),
              holds: z.array(shownHold),
              course: z.strictObject({ course: idSchema.optional(), says: z.string() }).optional(),
            })
            .optional(),
          draws: z.array(drawSchema),
          /** Where it is suggested to go, and with which needle: what the book will have unless something else is said. */
          where: whereShown.optional(),
        }),
      ),
      /** Said beside the weight when it is too old to dose by: weigh again. */
      oldWeight: z.string().optional(),
      /** Codes that `treat` wants confirmed before it writes. */
      stops: z.array(warning),
    }),
  ),
  treat: writing(
    'One administration as it happened. What really happened is never refused: it is taken with a named deviation.',
    {
      session: idSchema.optional(),
      /** In a session: its lines; absent all of them. */
      lines: z.array(idSchema).max(10).optional(),
      /** Outside a session. */
      single: lineAsk.optional(),
      subject: subjectSchema,
      heads: z.number().int().min(1).max(1_000_000).optional(),
      weight: typed.optional(),
      weightHow: z.enum(['crate', 'scale', 'tape', 'eye']).default('scale'),
      /** What went in, when it was not what was worked out ("3.2 mL"), a head. */
      given: typed.optional(),
      /** The way it went in, when that was not the one of the dose line. */
      route: z.enum(ROUTES).optional(),
      /** The vet's instruction this treatment follows, where that is not the one of the session's line. */
      instruction: idSchema.optional(),
      containers: z.array(idSchema).max(20).optional(),
      site: z.string().trim().max(80).optional(),
      side: z.enum(['left', 'right', 'both']).optional(),
      needle: z.string().trim().max(40).optional(),
      givenBy: idSchema.optional(),
      lost: z.strictObject({ amount: typed, why: typed }).optional(),
      leaked: leakedAsk.optional(),
      /** Starts a course (days of all doses), or goes on with one. */
      course: z
        .union([
          z.strictObject({ planned: z.array(localSchema).min(2).max(60) }),
          z.strictObject({ course: idSchema }),
        ])
        .optional(),
    },
    treatedReply,
  ),
  'treat-many': writing(
    'A mass run: everyone planned but the exceptions, lots by tally, with or without a mark.',
    {
      session: idSchema,
      lines: z.array(idSchema).max(10).optional(),
      except: z
        .array(z.strictObject({ subject: subjectSchema, why: typed }))
        .max(50_000)
        .default([]),
      /** Heads done in a lot, when not all of them. Marked: they become a lot of their own; unmarked: all are held. */
      tally: z
        .array(
          z.strictObject({ subject: subjectSchema, heads: z.number().int().min(1), marked: z.boolean() }),
        )
        .max(500)
        .default([]),
      instructions: runInstructions,
      given: typed.optional(),
      /** Place, side and needle, when they were the same for all. */
      site: z.string().trim().max(80).optional(),
      side: z.enum(['left', 'right', 'both']).optional(),
      needle: z.string().trim().max(40).optional(),
      givenBy: idSchema.optional(),
      lost: z.strictObject({ amount: typed, why: typed }).optional(),
    },
    treatedReply.extend({ heads: z.number().int() }),
  ),
  ...closingCalls,
  ...courseCalls,
};
export { doseSchema, planAsk, planLine, planRow, treatedRow };
