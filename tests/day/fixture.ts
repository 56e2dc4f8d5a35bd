import type { Ask } from '../../src-shared/calls/all.ts';

/**
 * One day at an invented farm, as data: what a person types and what stands on the packs. Nothing here is worked
 * out; what must come of it stands in pencil.ts, reckoned by hand. Screens can play the same day.
 *
 * All of it happens before the clocks go forward (29 Mar 2026), so the local time of a deed is its UTC time.
 */

type Terms = Ask<'check-label'>['terms'];

export const ZONE = 'Europe/London';

export const BUSINESS = { name: 'Larkrise Sheep', address: 'Larkrise, Nether Quillow' } as const;
export const HOLDING = {
  name: 'Larkrise',
  number: '99/421/0007',
  address: 'Larkrise, Nether Quillow',
  zone: ZONE,
  law: 'gb',
  weightUnit: 'lb',
  milk: true,
  counting: 'whole-days',
} as const;
export const KEEPER = { name: 'Odelia Fenwright', roles: ['owner', 'keeper'] } satisfies {
  name: string;
  roles: ('owner' | 'keeper')[];
};
export const SHEPHERD = { name: 'Bram Tolliver', roles: ['shepherd'] } satisfies {
  name: string;
  roles: 'shepherd'[];
};
export const VET = { name: 'Isaura Quennell', roles: ['vet'] } satisfies { name: string; roles: 'vet'[] };

/** An injection labelled in pounds. The insert says 41 d; somebody types 14 d. */
const injection = (meat: string): Terms => ({
  name: 'Orvandrex Injection',
  form: 'injection',
  kind: 'volume',
  purpose: 'antibiotic',
  prescription: 'vet-prescription',
  actives: [{ substance: 'orvandrine', strength: '300000 IU/mL' }],
  doseLines: [
    {
      id: 'im',
      route: 'intramuscular',
      rate: { style: 'rate', text: '3000 IU/lb', perVolume: '1 mL per 100 lb' },
      mostPerSite: '2 mL',
    },
  ],
  periods: [
    { produce: 'meat', says: 'value', value: meat },
    { produce: 'milk', says: 'value', value: '72 h' },
  ],
  inUse: '28 d',
});
export const INJECTION_AS_TYPED = injection('14 d');
export const INJECTION_AS_PRINTED = injection('41 d');

/** A drench in bands of pounds. */
export const DRENCH: Terms = {
  name: 'Tollermint Drench',
  form: 'drench',
  kind: 'volume',
  purpose: 'parasites',
  actives: [{ substance: 'tollermicin' }],
  doseLines: [
    {
      id: 'oral',
      route: 'oral',
      rate: {
        style: 'bands',
        from: '40 lb',
        bands: [
          { upTo: '50 lb', dose: '5 mL' },
          { upTo: '100 lb', dose: '10 mL' },
          { upTo: '150 lb', dose: '15 mL' },
        ],
        furtherStep: { each: '50 lb', dose: '5 mL' },
      },
    },
  ],
  periods: [
    { produce: 'meat', says: 'value', value: '7 d' },
    { produce: 'milk', says: 'value', value: '96 h' },
  ],
  inUse: '90 d',
};

/** A vaccine per head, to be used up within hours. */
export const VACCINE: Terms = {
  name: 'Ulverane Vaccine',
  form: 'injection',
  kind: 'volume',
  purpose: 'vaccine',
  doseLines: [{ id: 'sc', route: 'subcutaneous', rate: { style: 'rate', text: '2 mL per head' } }],
  periods: [
    { produce: 'meat', says: 'zero' },
    { produce: 'milk', says: 'zero' },
  ],
  inUse: '10 h',
};

export type MedicineKey = 'injection' | 'drench' | 'vaccine';

/** Deliveries: two of the injection (one expiry by day, one by month), two of the drench, one of the vaccine. */
export const BATCHES: readonly {
  medicine: MedicineKey;
  number: string;
  expiry: string;
  packs: { count: number; size: string }[];
  supplier: string;
}[] = [
  {
    medicine: 'injection',
    number: 'OR-51',
    expiry: '2026-09-14',
    packs: [{ count: 1, size: '6 mL' }],
    supplier: 'Quennell Veterinary',
  },
  {
    medicine: 'injection',
    number: 'OR-77',
    expiry: '2027-03',
    packs: [{ count: 2, size: '50 mL' }],
    supplier: 'Quennell Veterinary',
  },
  {
    medicine: 'drench',
    number: 'TM-300',
    expiry: '2026-08',
    packs: [{ count: 1, size: '100 mL' }],
    supplier: 'Quillow Farm Stores',
  },
  {
    medicine: 'drench',
    number: 'TM-412',
    expiry: '2027-02-28',
    packs: [{ count: 1, size: '500 mL' }],
    supplier: 'Quillow Farm Stores',
  },
  {
    medicine: 'vaccine',
    number: 'UV-8',
    expiry: '2026-05',
    packs: [{ count: 3, size: '50 mL' }],
    supplier: 'Quennell Veterinary',
  },
];

/** Twelve named animals. Three stand on the edge of a band in pounds, one a hair above it in kilograms. */
export const FLOCK_CSV = `Ear tag,EID,Class,Sex,Born,Weight,Weighed on
UK 0 700123 00001,826070012300001,ewe,F,2022-03-18,137 lb,2026-02-26
UK 0 700123 00002,826070012300002,ewe,F,2021-03-25,150 lb,2026-02-26
UK 0 700123 00003,826070012300003,ewe,F,2020-04-02,62 kg,2026-02-26
UK 0 700123 00004,826070012300004,ewe,F,2022-04-09,71.5 kg,2026-02-26
UK 0 700123 00005,826070012300005,ewe,F,2019-03-30,165 lb,2026-02-26
UK 0 700123 00006,826070012300006,ram,M,2021-03-11,96 kg,2026-02-26
UK 0 700123 00007,826070012300007,ram,M,2022-03-15,200 lb,2026-02-26
UK 0 700123 00008,826070012300008,ewe lamb,F,2025-10-04,50 lb,2026-02-26
UK 0 700123 00009,826070012300009,ewe lamb,F,2025-10-05,22.68 kg,2026-02-26
UK 0 700123 00010,826070012300010,wether,castrated,2025-04-20,100 lb,2026-02-26
UK 0 700123 00011,826070012300011,lamb,F,2025-11-12,40 lb,2026-02-26
UK 0 700123 00012,826070012300012,lamb,M,2025-11-14,19 kg,2026-02-26
`;

export const LOT = { name: 'Hill lambs', class: 'lamb', heads: 40 } as const;

/** She gives milk for people; all others do not. */
export const MILKED = 'UK 0 700123 00001';

/** Instants at which the computer's clock stands for what is done. Gaps stay under 14 days. */
export const CLOCK = {
  set: '2026-02-27T09:00:00.000Z',
  injectionOpens: '2026-03-01T08:50:00.000Z',
  injectionCloses: '2026-03-01T09:40:00.000Z',
  drenchOpens: '2026-03-01T09:50:00.000Z',
  drenchCloses: '2026-03-01T11:10:00.000Z',
  vet: '2026-03-01T11:30:00.000Z',
  vaccineOpens: '2026-03-01T13:20:00.000Z',
  vaccine: '2026-03-01T13:30:00.000Z',
  vaccineCloses: '2026-03-01T14:10:00.000Z',
  morningAfter: '2026-03-02T08:00:00.000Z',
  firstDeclaration: '2026-03-09T10:00:00.000Z',
  labelCorrected: '2026-03-10T10:00:00.000Z',
  papers: '2026-03-20T10:00:00.000Z',
} as const;

export type Deed = {
  /** What the reader sends or the person types. */
  read: string;
  at: string;
  /** When she is weighed at the race. */
  weight?: string;
};

const at = (time: string) => `2026-03-01T${time}:00.000Z`;

export const INJECTING = {
  name: 'Lame ewes',
  reason: 'Lameness',
  syringe: { capacity: '5 mL', graduation: '0.1 mL' },
  headsThrough: 7,
  deeds: [
    { read: 'UK 0 700123 00001', at: at('09:00') },
    { read: '826070012300002', at: at('09:05') },
    { read: '826 070012300003', at: at('09:10') },
    { read: '00004', at: at('09:15') },
    { read: 'UK0700123 00005', at: at('09:20') },
    { read: 'UK 0 700123 00006', at: at('09:25') },
    { read: 'uk 0 700123 00008', at: at('09:30') },
  ] satisfies Deed[],
};

export const DRENCHING = {
  name: 'Spring drench',
  reason: 'Worms',
  headsThrough: 12,
  deeds: [
    { read: 'UK 0 700123 00001', at: at('10:00') },
    { read: 'UK 0 700123 00002', at: at('10:05') },
    { read: 'UK 0 700123 00003', at: at('10:10') },
    { read: 'UK 0 700123 00004', at: at('10:15') },
    { read: 'UK 0 700123 00005', at: at('10:20') },
    { read: 'UK 0 700123 00006', at: at('10:25') },
    { read: 'UK 0 700123 00007', at: at('10:30') },
    { read: 'UK 0 700123 00008', at: at('10:35') },
    { read: 'UK 0 700123 00009', at: at('10:40') },
    // The list has 100 lb; the crate says a pound more, and that is the next band.
    { read: 'UK 0 700123 00010', at: at('10:45'), weight: '101 lb' },
    { read: 'UK 0 700123 00011', at: at('10:50') },
    { read: 'UK 0 700123 00012', at: at('10:55') },
  ] satisfies Deed[],
};

export const VACCINATING = {
  name: 'Boosters',
  reason: 'Yearly booster',
  /** Twelve and the forty of the lot. */
  headsThrough: 52,
  lost: { amount: '3 mL', why: 'Priming the gun' },
};

/** From the vet's own bottle: nothing leaves the cabinet. */
export const BY_THE_VET = {
  read: 'UK 0 700123 00012',
  reason: 'Swollen joint',
  batch: 'VX-900',
  syringe: { capacity: '1 mL', graduation: '0.01 mL' },
};

/** 1.5 mL was written; the plunger stuck. */
export const CORRECTION = { animal: 'UK 0 700123 00002', given: '1.3 mL', reason: 'The plunger stuck' };

export const DISCARDED = {
  label: 'UV-8-3',
  why: 'Over its ten hours',
  how: 'Back to the vet',
};

export const FIRST_DECLARATION = {
  to: 'Netherfold Abattoir',
  departs: '2026-03-16T06:00',
  going: [
    { animal: 'UK 0 700123 00002' },
    { animal: 'UK 0 700123 00004' },
    { animal: 'UK 0 700123 00009' },
    { animal: 'Hill lambs', heads: 10 },
  ],
};

export const SECOND_DECLARATION = {
  to: 'Netherfold Abattoir',
  departs: '2026-03-21T06:00',
  held: 'UK 0 700123 00005',
  going: [{ animal: 'UK 0 700123 00010' }, { animal: 'Hill lambs', heads: 30 }],
};

export const LABEL_SLIP = 'The insert says 41 d; 14 d was typed';

export const BOOK_PERIOD = { from: '2026-03-01', to: '2026-03-31' };
