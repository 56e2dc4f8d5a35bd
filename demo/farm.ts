import type { Ask } from '../src-shared/calls/all.ts';

/** The invented farm and its invented people. Telephone numbers are from the range kept for fiction. */

export const ZONE = 'Europe/London';
/** The first and the last day of the demo: two years and two days. */
export const FIRST_DAY = '2024-11-18';
export const LAST_DAY = '2026-11-20';

export const START = {
  business: {
    name: 'DEMO Skellomoor Farm',
    address: 'Skellomoor, Upper Dunnowdale, DEMO',
    phone: '01632 960101',
    email: 'skellomoor@demo.invalid',
    demo: true,
  },
  holding: {
    name: 'DEMO Skellomoor',
    number: 'DEMO/001/0001',
    address: 'Skellomoor, Upper Dunnowdale, DEMO',
    zone: ZONE,
    law: 'gb',
    milk: true,
    counting: 'later',
    places: ['Low shed', 'Hill pens', 'Dairy', 'Far bank'],
  },
  keeper: {
    name: 'Ottilie Garrowmoss',
    roles: ['owner', 'keeper'],
    address: 'Skellomoor, Upper Dunnowdale, DEMO',
    phone: '01632 960101',
  },
} as const satisfies Omit<Ask<'start-book'>, 'request' | 'by'>;

export const PEOPLE = {
  bram: { name: 'Bram Tindlehay', roles: ['shepherd'], phone: '01632 960102' },
  sorrel: { name: 'Sorrel Ackenmere', roles: ['shepherd', 'clerk'], phone: '01632 960103' },
  vet: {
    name: 'Ines Followfell',
    roles: ['vet'],
    address: 'Dunnowdale Surgery, DEMO',
    phone: '01632 960104',
    registration: 'DEMO-VET-7',
  },
  stores: {
    name: 'Pedderby & Thrusk Farm Stores (DEMO)',
    roles: ['supplier'],
    address: '2 Tollbar Row, Nether Fosswick, DEMO',
    registration: 'DEMO-SQP-12',
  },
  dispensary: {
    name: 'Dunnowdale Dispensary (DEMO)',
    roles: ['supplier'],
    address: 'Dunnowdale Surgery, DEMO',
  },
  contractor: { name: 'Jory Hexwater', roles: ['contractor'], phone: '01632 960105' },
} as const satisfies Record<string, Omit<Ask<'set-person'>, 'request' | 'by'>>;

export type PersonKey = keyof typeof PEOPLE | 'keeper';
export const ABATTOIR = 'Nether Fosswick Abattoir (DEMO)';
export const MART = 'Nether Fosswick Mart (DEMO)';
