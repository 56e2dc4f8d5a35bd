import { z } from 'zod';
import { entryKind, subjectOf } from './kind.ts';
import { idSchema, nameSchema } from './parts.ts';
import { recordRow } from './record-row.ts';

export const EQUIPMENT = ['syringe', 'gun', 'weigher'] as const;

/** A syringe, a dosing gun or a weigher of the farm, as it is called there. */
export const equipmentSet = entryKind({
  kind: 'equipment-set',
  version: 1,
  schema: z.strictObject({
    equipment: idSchema,
    what: z.enum(EQUIPMENT),
    name: nameSchema,
    /** Syringes and guns: what it holds and how far apart its marks are ("30 mL", "0.5 mL"). */
    capacity: z.string().max(120).optional(),
    graduation: z.string().max(120).optional(),
    /** Guns: what one priming takes, hose and all, as it was measured ("23.6 mL"). */
    priming: z.string().max(120).optional(),
    /** Guns: whether one can draw back with it to see that no blood comes. */
    drawsBack: z.boolean().optional(),
    /** False once it is broken, sold or laid by: it is no longer offered, and its checks stay. */
    active: z.boolean().default(true),
  }),
  subjects: (data) => [subjectOf('equipment', data.equipment)],
  fold: (entry) => [recordRow('equipment', entry.data.equipment, entry.data.name, entry)],
  line: (data) =>
    `${data.what === 'gun' ? 'Dosing gun' : data.what}: ${data.name}${data.active ? '' : ', no longer used'}`,
});
