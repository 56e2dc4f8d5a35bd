import { businessSet } from '../entries/business-set.ts';
import { holdingSet } from '../entries/holding-set.ts';
import { amountSchema, produceSchema } from '../entries/parts.ts';
import { ROLES } from '../entries/person-set.ts';
import { AT_FOOT_RULES } from '../withdrawal/young.ts';
import {
  daySchema,
  done,
  idSchema,
  longText,
  nothing,
  reading,
  subjectSchema,
  typed,
  writing,
  z,
} from './call.ts';

const personShape = {
  name: typed,
  roles: z.array(z.enum(ROLES)).min(1).max(7),
  address: z.string().trim().max(400).optional(),
  phone: z.string().trim().max(60).optional(),
  email: z.string().trim().max(120).optional(),
  registration: z.string().trim().max(60).optional(),
};
const businessData = businessSet.schema;
const holdingData = holdingSet.schema;
const holdingShape = {
  name: typed,
  number: typed,
  address: longText,
  zone: typed,
  law: z.enum(['eu', 'ni', 'gb', 'nz', 'us', 'other']),
  weightUnit: z.enum(['kg', 'lb']).default('kg'),
  milk: z.boolean().default(false),
  counting: z.enum(['24-hour', 'whole-days', 'later']).default('later'),
  marginDays: z.number().int().min(0).max(60).default(0),
  /** Lambs at foot of a treated ewe; absent: held as long as she is. */
  atFoot: z.enum(AT_FOOT_RULES).optional(),
  places: z.array(typed).max(50).default([]),
  paper: z.enum(['a4', 'letter']).default('a4'),
};

export const farmCalls = {
  farm: reading(
    'Business, holdings, people, the state of the clock and of the book.',
    nothing,
    z.strictObject({
      business: businessData.nullable(),
      holdings: z.array(holdingData),
      people: z.array(z.strictObject({ person: idSchema, active: z.boolean(), ...personShape })),
      head: z.strictObject({ seq: z.number().int(), checkCode: z.string() }),
      /** The last backup that was handed over to be saved, where one was: when, and up to which entry. */
      backup: z.strictObject({ day: daySchema, at: z.string(), entries: z.number().int() }).optional(),
      clock: z.strictObject({
        state: z.enum(['believed', 'doubted']),
        today: daySchema,
        why: z.string().optional(),
      }),
      counts: z.strictObject({
        animals: z.number().int(),
        lots: z.number().int(),
        groups: z.number().int(),
        medicines: z.number().int(),
        containers: z.number().int(),
        openSessions: z.number().int(),
      }),
    }),
  ),
  'start-book': writing(
    'First entries of an empty book: the business, its holding and the keeper, who is the one writing.',
    {
      business: z.strictObject({
        name: typed,
        address: longText,
        phone: z.string().trim().max(60).optional(),
        email: z.string().trim().max(120).optional(),
        demo: z.boolean().default(false),
      }),
      holding: z.strictObject(holdingShape),
      keeper: z.strictObject({
        ...personShape,
        roles: z.array(z.enum(ROLES)).min(1).default(['owner', 'keeper']),
      }),
    },
    z.strictObject({ holding: idSchema, person: idSchema }),
  ),
  'set-business': writing(
    'Changes the name and address of the business.',
    {
      name: typed,
      address: longText,
      phone: z.string().trim().max(60).optional(),
      email: z.string().trim().max(120).optional(),
    },
    done,
  ),
  'set-holding': writing(
    'Adds a holding, or changes one: number, address, zone, law, keeper, house settings.',
    { holding: idSchema.optional(), keeper: idSchema.optional(), ...holdingShape },
    z.strictObject({ holding: idSchema }),
  ),
  'set-person': writing(
    'Adds a person or firm, or changes one: shepherd, clerk, vet, supplier.',
    { person: idSchema.optional(), active: z.boolean().default(true), ...personShape },
    z.strictObject({ person: idSchema }),
  ),
  'confirm-date': writing(
    'The person confirms what day it is, when the clock of the computer is doubted.',
    { day: daySchema },
    done,
  ),
  'record-instruction': writing(
    "The vet's instruction: for whom, which periods, told or written, why.",
    {
      vet: idSchema,
      medicine: idSchema.optional(),
      what: longText,
      subjects: z.array(subjectSchema).max(5000).default([]),
      periods: z
        .array(z.strictObject({ produce: produceSchema, period: typed }))
        .max(8)
        .default([]),
      form: z.enum(['told', 'written']),
      reason: longText,
      validUntil: daySchema.optional(),
    },
    z.strictObject({ instruction: idSchema }),
  ),
  papers: reading(
    "The vet's instructions and prescriptions on record.",
    nothing,
    z.strictObject({
      /** Newest first. */
      instructions: z.array(
        z.strictObject({
          instruction: idSchema,
          vet: idSchema,
          vetName: z.string(),
          medicine: idSchema.optional(),
          medicineName: z.string().optional(),
          what: z.string(),
          subjects: z.array(subjectSchema),
          /** The animals and lots it is for, as they are called now. */
          subjectNames: z.array(z.string()),
          periods: z.array(z.strictObject({ produce: produceSchema, period: z.string() })),
          form: z.enum(['told', 'written']),
          paper: z.string().optional(),
          reason: z.string(),
          /** The day the vet said or wrote it, local to the holding. */
          given: daySchema,
          validUntil: daySchema.optional(),
        }),
      ),
      /** Newest first. */
      prescriptions: z.array(
        z.strictObject({
          prescription: idSchema,
          number: z.string(),
          vet: idSchema,
          vetName: z.string(),
          medicine: idSchema,
          medicineName: z.string(),
          quantity: amountSchema.optional(),
          quantityText: z.string().optional(),
          written: daySchema,
          validUntil: daySchema.optional(),
          animals: z.string().optional(),
          dose: z.string().optional(),
          period: z.string().optional(),
          diagnosis: z.string().optional(),
          paper: z.string().optional(),
        }),
      ),
    }),
  ),
};
