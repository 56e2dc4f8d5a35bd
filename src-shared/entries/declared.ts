import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import {
  headsSchema,
  idSchema,
  instantSchema,
  localSchema,
  nameSchema,
  subjectSchema,
  textSchema,
} from './parts.ts';

/** Somebody that may carry a needle and goes all the same: marked, its place said, and the abattoir told. */
const accompaniedSchema = z.strictObject({
  /** Sources of the holds it goes with. */
  holds: z.array(z.string()).min(1).max(20),
  /** "18G 1 in, muscular middle of the neck, left side, noticed 2 May 2026". */
  says: textSchema,
  mark: nameSchema,
  /** Who was told at the abattoir, and how. */
  told: textSchema,
});

export const declarationLineSchema = z.strictObject({
  subject: subjectSchema,
  shown: nameSchema,
  class: z.string(),
  heads: headsSchema,
  /** When its meat clock cleared, if anything ever ran. */
  clearSince: instantSchema.optional(),
  accompanied: accompaniedSchema.optional(),
  treatments: z
    .array(
      z.strictObject({
        administration: idSchema,
        product: nameSchema,
        batch: z.string(),
        local: localSchema,
        quantity: z.string(),
        period: z.string(),
        until: z.string(),
      }),
    )
    .max(500),
});

/** A declaration as it was signed: numbered, frozen with what it was based on, its paper kept as bytes. */
export const declared = entryKind({
  kind: 'declared',
  version: 1,
  schema: z.strictObject({
    declaration: idSchema,
    number: z.number().int().min(1),
    holding: idSchema,
    purpose: z.enum(['slaughter']),
    to: nameSchema,
    departs: localSchema,
    departsAt: instantSchema,
    lines: z.array(declarationLineSchema).min(1).max(5000),
    signer: idSchema,
    question: textSchema,
    answer: z.literal('yes'),
    counting: z.string(),
    /** The head it was based on and the day the computer believed. */
    basedOn: z.strictObject({ seq: z.number().int(), hash: z.string() }),
    believed: localSchema,
    /** Content hash of the paper. */
    paper: z.string().length(64),
    facts: z.record(z.string(), z.string()).default({}),
  }),
  subjects: (data) => [subjectOf('declaration', data.declaration)],
  fold(entry) {
    const { data } = entry;
    return [
      {
        op: 'put',
        table: 'declaration',
        row: {
          id: data.declaration,
          number: data.number,
          holding: data.holding,
          to_whom: data.to,
          departs: data.departs,
          heads: data.lines.reduce((sum, line) => sum + line.heads, 0),
          state: 'standing',
          paper: data.paper,
          at: entry.happened.at,
          seq: entry.seq,
          data: JSON.stringify(data),
        },
      },
      ...data.lines.map((line) => ({
        op: 'put' as const,
        table: 'declared_line',
        row: { declaration: data.declaration, declared_subject: line.subject },
      })),
    ];
  },
  line: (data) => `Declaration ${data.number} to ${data.to}`,
});
