import { z } from 'zod';
import { CONTENTS } from '../declare/contents.ts';
import { PURPOSE_RULES, PURPOSES } from '../declare/purposes.ts';
import { DESTINATIONS } from '../withdrawal/verdict.ts';
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

/** Agreed with an abattoir: not to be slaughtered before, with whom, and when that was agreed. */
const notBeforeSchema = z.strictObject({
  local: localSchema,
  at: instantSchema,
  agreedWith: nameSchema,
  agreedOn: localSchema,
});

export const declarationLineSchema = z.strictObject({
  subject: subjectSchema,
  shown: nameSchema,
  class: z.string(),
  heads: headsSchema,
  /** When the produce it must be clear of cleared, if anything ever ran. */
  clearSince: instantSchema.optional(),
  accompanied: accompaniedSchema.optional(),
  /** What still ran when it left, in words, on a paper that says so. */
  runs: z.array(textSchema).max(200).optional(),
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
    purpose: z.enum(PURPOSES),
    /** What a text of law asks it to say, and where the produce goes. Absent: as it was before there was a choice. */
    content: z.enum(CONTENTS).optional(),
    destination: z.enum(DESTINATIONS).optional(),
    /** The abattoir agreed not to slaughter before this; its paper prints it. */
    notBefore: notBeforeSchema.optional(),
    /** Treatments are listed whose period ended within so many days before; absent, all that the book had. */
    relevantDays: z.number().int().min(1).max(3650).optional(),
    /** The holding they go to, on a transfer. */
    toHolding: idSchema.optional(),
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
    /** What only the keeper can say, by its code (FACTS). */
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
  line: (data) => `${PURPOSE_RULES[data.purpose].title} ${data.number} to ${data.to}`,
});
