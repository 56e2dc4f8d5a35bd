import { z } from 'zod';
import { dosedToSchema } from './grouping.ts';
import { holdRows } from './hold-rows.ts';
import { entryKind, subjectOf } from './kind.ts';
import {
  amountSchema,
  classSchema,
  deviationSchema,
  headsSchema,
  holdSchema,
  idSchema,
  localSchema,
  nameSchema,
  routeSchema,
  stepSchema,
  subjectSchema,
  textSchema,
  unitsOf,
  weightSchema,
} from './parts.ts';
import { moveStock } from './stock-rows.ts';

const sourceSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('ours'),
    draws: z
      .array(
        z.strictObject({
          container: idSchema,
          batch: z.string().max(40),
          revision: idSchema,
          /** What went into the animals. */
          amount: amountSchema,
          /** What was drawn for the animal and ran out again: it left the bottle, and counts as lost. */
          leaked: amountSchema.optional(),
          /** What left the bottle with it and did not: dead space, priming, spill. */
          lost: amountSchema.optional(),
          lostWhy: z.string().max(80).optional(),
        }),
      )
      .min(1)
      .max(200),
  }),
  z.strictObject({
    kind: z.enum(['vet', 'contractor', 'earlier-keeper']),
    who: nameSchema.optional(),
    revision: idSchema,
    batch: z.string().max(40).optional(),
    expiry: z.string().max(20).optional(),
  }),
]);

/** One treatment of one animal, or of one lot. */
export const administered = entryKind({
  kind: 'administered',
  version: 1,
  schema: z.strictObject({
    administration: idSchema,
    holding: idSchema,
    subject: subjectSchema,
    heads: headsSchema,
    session: idSchema.optional(),
    line: idSchema.optional(),
    medicine: idSchema,
    /** The name as it stood, so that the line can be read without the label. */
    product: nameSchema,
    doseLine: idSchema,
    source: sourceSchema,
    class: classSchema,
    weight: weightSchema.optional(),
    weightHow: z.string().max(20).optional(),
    /** When it was weighed, where that was not at the treatment. */
    weightOn: localSchema.optional(),
    /** A head, and in all. */
    dose: amountSchema,
    total: amountSchema,
    planned: amountSchema.optional(),
    /** The weight it was dosed to, when that was the heaviest of its group and not its own. */
    dosedTo: dosedToSchema.optional(),
    /** What it was drawn up in: a coarse scale explains a dose above the exact one. */
    syringe: z.strictObject({ capacity: z.string().max(120), graduation: z.string().max(120) }).optional(),
    sites: z.array(amountSchema).max(20).default([]),
    route: routeSchema,
    site: z.string().max(80).optional(),
    side: z.enum(['left', 'right', 'both']).optional(),
    needle: z.string().max(40).optional(),
    /** The farm's own syringe or gun it was given with. */
    equipment: idSchema.optional(),
    /**
     * What ran out again, in all and in drops where they were counted. `dose` and `total` stay what was drawn: a
     * leak never shortens a hold.
     */
    leaked: z
      .strictObject({ amount: amountSchema, drops: z.number().int().min(1).max(10_000).optional() })
      .optional(),
    reason: textSchema,
    givenBy: idSchema,
    instruction: idSchema.optional(),
    prescription: idSchema.optional(),
    course: z
      .strictObject({
        course: idSchema,
        n: z.number().int().min(1),
        of: z.number().int().min(1),
        plannedLast: localSchema,
      })
      .optional(),
    /** What else of this medicine it had on this local day, a head, as the book stood when this was written. */
    thatDay: z.array(amountSchema).min(1).max(50).optional(),
    deviations: z.array(deviationSchema).max(20).default([]),
    holds: z.array(holdSchema).max(20),
    working: z.array(stepSchema).max(40).default([]),
  }),
  subjects: (data) => [
    data.subject,
    ...(data.source.kind === 'ours'
      ? [...new Set(data.source.draws.map((draw) => subjectOf('container', draw.container)))]
      : []),
    ...(data.session ? [subjectOf('session', data.session)] : []),
    ...(data.course ? [subjectOf('course', data.course.course)] : []),
    ...(data.equipment ? [subjectOf('equipment', data.equipment)] : []),
  ],
  fold(entry, subject, read) {
    const { data } = entry;
    if (subject === data.subject) {
      return [
        {
          op: 'put',
          table: 'administration',
          row: {
            id: data.administration,
            seq: entry.seq,
            at: entry.happened.at,
            local: entry.happened.local,
            recorded: entry.recorded,
            by: data.givenBy,
            holding: data.holding,
            heads: data.heads,
            session: data.session ?? null,
            line: data.line ?? null,
            medicine: data.medicine,
            product: data.product,
            revision:
              data.source.kind === 'ours' ? (data.source.draws[0]?.revision ?? null) : data.source.revision,
            route: data.route,
            kind: data.total.kind,
            total: unitsOf(data.total),
            data: JSON.stringify(data),
          },
        },
        ...holdRows(`administration:${data.administration}`, 'treatment', data.holds, entry),
      ];
    }
    if (subject.startsWith('container:') && data.source.kind === 'ours') {
      const draws = data.source.draws.filter((draw) => subjectOf('container', draw.container) === subject);
      return moveStock(
        entry,
        read,
        draws.flatMap((draw) => [
          {
            cause: 'drawn' as const,
            units: -unitsOf(draw.amount),
            more: { administration: data.administration },
          },
          ...(draw.leaked
            ? [
                {
                  cause: 'lost' as const,
                  units: -unitsOf(draw.leaked),
                  more: { administration: data.administration, note: 'leaked back' },
                },
              ]
            : []),
          ...(draw.lost
            ? [
                {
                  cause: 'lost' as const,
                  units: -unitsOf(draw.lost),
                  more: { administration: data.administration, note: draw.lostWhy ?? null },
                },
              ]
            : []),
        ]),
      );
    }
    if (subject.startsWith('equipment:')) {
      return [
        {
          op: 'put',
          table: 'equipment_use',
          row: {
            administration: data.administration,
            at: entry.happened.at,
            seq: entry.seq,
            // One shot for each site of each head: what wears a gun out.
            shots: data.heads * Math.max(1, data.sites.length),
          },
        },
      ];
    }
    if (subject.startsWith('session:')) {
      return [
        {
          op: 'put',
          table: 'session_done',
          row: {
            administration: data.administration,
            treated: data.subject,
            line: data.line ?? '',
            heads: data.heads,
            at: entry.happened.at,
            seq: entry.seq,
          },
        },
      ];
    }
    return [
      {
        op: 'put',
        table: 'course_dose',
        row: {
          administration: data.administration,
          n: data.course?.n ?? 1,
          local: entry.happened.local,
          seq: entry.seq,
        },
      },
    ];
  },
  line: (data) => `${data.product} given, ${data.reason}`,
});
