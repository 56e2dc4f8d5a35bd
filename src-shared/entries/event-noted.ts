import { z } from 'zod';
import { entryKind } from './kind.ts';
import { idSchema, subjectSchema } from './parts.ts';

/** What a hold may wait for, and what tells whether an animal gives milk. */
export const EVENTS_NOTED = ['lambing', 'removal', 'end-of-release', 'in-milk', 'dry'] as const;

/**
 * Something that holds are counted from, or sleep until, has happened to an animal or to everyone in a lot. The ends
 * that follow from it are entries of their own (`hold-settled`), and count only while this one stands.
 */
export const eventNoted = entryKind({
  kind: 'event-noted',
  version: 1,
  schema: z.strictObject({
    event: idSchema,
    subject: subjectSchema,
    what: z.enum(EVENTS_NOTED),
    /** Whether it gives milk from then on; absent where that is not changed by it. */
    milking: z.boolean().optional(),
    note: z.string().trim().min(1).max(400).optional(),
  }),
  subjects: (data) => [data.subject],
  fold(entry, subject) {
    const { event, what, milking } = entry.data;
    const [table = '', id = ''] = [
      subject.slice(0, subject.indexOf(':')),
      subject.slice(subject.indexOf(':') + 1),
    ];
    const { at, local } = entry.happened;
    return [
      { op: 'put', table: 'event', row: { id: event, what, at, local, seq: entry.seq } },
      ...(milking === undefined
        ? []
        : [{ op: 'change' as const, table, key: { id }, set: { milking: milking ? 1 : 0 } }]),
    ];
  },
  line: (data) => LINES[data.what],
});

const LINES: Readonly<Record<(typeof EVENTS_NOTED)[number], string>> = {
  lambing: 'Lambed',
  removal: 'Device taken out',
  'end-of-release': 'Release of the device has ended',
  'in-milk': 'Came into milk',
  dry: 'Gives no milk any more',
};
