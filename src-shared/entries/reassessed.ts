import { z } from 'zod';
import { entryKind } from './kind.ts';
import { holdSchema, subjectSchema, textSchema } from './parts.ts';

/**
 * What an earlier decision is now: a label that was typed wrongly, a course that ended, a lambing that is
 * known. The old entry stays as it was written; its holds are replaced by these from where it stands.
 */
export const reassessed = entryKind({
  kind: 'reassessed',
  version: 1,
  schema: z.strictObject({
    /** What decided it first: "administration:ID", or "hold:ID" for one held as possibly treated. */
    source: z.string().regex(/^(administration|hold):.{1,60}$/),
    subject: subjectSchema,
    holds: z.array(holdSchema).max(20),
    why: textSchema,
  }),
  subjects: (data) => [data.subject],
  fold(entry, _subject, read) {
    const { source } = entry.data;
    const standing = read.rows('hold', { source });
    // Voided meanwhile: there is nothing left to decide anew.
    if (standing.length === 0) return [];
    // Decided again since, by a correction of the treatment itself.
    if (standing.some((row) => Number(row.seq) > entry.seq)) return [];
    // Ended by its answer, which may be dated before this decision: deciding anew does not bring it back.
    if (source.startsWith('hold:') && standing.every((row) => row.state === 'none')) return [];
    return [
      ...standing.map((row) => ({
        op: 'remove' as const,
        table: 'hold',
        key: {
          source,
          produce: row.produce ?? null,
          market: row.market ?? null,
          clock: row.clock ?? null,
        },
      })),
      ...entry.data.holds.map((hold) => ({
        op: 'put' as const,
        table: 'hold',
        row: {
          source,
          cause: standing[0]?.cause ?? 'treatment',
          produce: hold.produce,
          market: hold.market,
          clock: hold.clock,
          state: hold.state,
          until: hold.until ?? null,
          event: hold.event ?? null,
          period: hold.period ?? null,
          // The hold began with the treatment, so that lots split off since then carry it too.
          from_at: standing[0]?.from_at ?? entry.happened.at,
          seq: entry.seq,
          data: JSON.stringify(hold),
          possible: standing[0]?.possible ?? null,
        },
      })),
    ];
  },
  line: (data) => `Decided anew: ${data.why}`,
});
