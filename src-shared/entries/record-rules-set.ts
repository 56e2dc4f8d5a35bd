import { z } from 'zod';
import { ITEM_IDS } from '../record/items.ts';
import { entryKind, subjectOf } from './kind.ts';
import { idSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

/** Profiles a holding may choose in the place of the one that goes with its law. */
export const CHOSEN_PROFILES = ['eu', 'gb', 'ni', 'us', 'victoria', 'plain'] as const;

/** By what a holding keeps its book: a profile other than that of its law, and the farm's own assurance list. */
export const recordRulesSet = entryKind({
  kind: 'record-rules-set',
  version: 1,
  schema: z.strictObject({
    holding: idSchema,
    /** Absent: the one that goes with the law of the holding. */
    profile: z.enum(CHOSEN_PROFILES).optional(),
    /** Absent: the farm keeps no assurance list. */
    assurance: z
      .strictObject({
        items: z.array(z.enum(ITEM_IDS)).max(60),
        /** What no entry can answer, in the farm's own words. */
        own: z.array(z.string().trim().min(1).max(200)).max(30),
      })
      .optional(),
  }),
  subjects: (data) => [subjectOf('record-rules', data.holding)],
  fold: (entry) => [recordRow('record-rules', entry.data.holding, 'record', entry)],
  line: ({ profile, assurance }) =>
    [
      `What the book is kept by: ${profile ?? 'the law of the holding'}`,
      ...(assurance === undefined ? [] : [`and the farm's own list of ${assurance.items.length} items`]),
    ].join(', '),
});
