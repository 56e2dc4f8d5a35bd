import { afterEach, beforeEach } from 'vitest';
import type { Ask } from '../../src-shared/calls/all.ts';
import { DRENCH, farmDesk } from './farm-desk.ts';

/**
 * What the tests of treatments outside their label have in common: a desk with a vet, and short ways to treat.
 */
export type Terms = Ask<'check-label'>['terms'];
type Subject = `animal:${string}`;
export let desk: ReturnType<typeof farmDesk>;
export let holding = '';
export let vet = '';
let made = 0;

/** Makes the desk anew for each test of the file that calls it at its top: test files share this module. */
export function freshDesk(): void {
  beforeEach(async () => {
    desk = farmDesk('2026-05-01T09:00:00.000Z');
    ({ holding } = await desk.started());
    ({ person: vet } = await desk.ask('set-person', { name: 'Vet Cairn', roles: ['vet'] }));
  });
  afterEach(() => desk.close());
}

export async function medicineOf(more: Partial<Terms> = {}) {
  const terms = { ...DRENCH, ...more } as Terms;
  const { medicine, revision } = await desk.ask('set-label', { act: 'first', terms });
  await desk.ask('receive-batch', {
    medicine,
    number: 'B-1',
    expiry: '2027-03',
    packs: [{ count: 2, size: '1 L' }],
  });
  return { medicine, revision, terms };
}

export async function ewe(weight = '60 kg', more: object = {}): Promise<Subject> {
  made += 1;
  const tag = `UK 0 123456 ${String(made).padStart(5, '0')}`;
  const { animal } = await desk.ask('set-animal', { holding, tag, class: 'ewe', ...more });
  const subject: Subject = `animal:${animal}`;
  await desk.ask('weigh', { subject, weight, how: 'crate' });
  return subject;
}

export type Said = Partial<Omit<Ask<'record-instruction'>, 'request' | 'by'>>;
export async function told(periods: { meat?: string; milk?: string }, more: Said = {}): Promise<string> {
  const rows = Object.entries(periods).map(([produce, period]) => ({
    produce: produce as 'meat' | 'milk',
    period,
  }));
  const { instruction } = await desk.ask('record-instruction', {
    vet,
    what: 'Double dose',
    form: 'told',
    reason: 'resistance',
    periods: rows,
    ...more,
  });
  return instruction;
}

export async function treat(
  subject: Subject | `lot:${string}`,
  medicine: string,
  more: Partial<Ask<'treat'>> = {},
  single = {},
) {
  const reply = await desk.ask('treat', {
    subject,
    single: { medicine, reason: 'worms', ...single },
    ...more,
  } as Parameters<typeof desk.ask<'treat'>>[1]);
  const of = (produce: string) => reply.holds.find((hold) => hold.produce === produce);
  return { ...reply, meat: of('meat'), milk: of('milk'), codes: reply.deviations.map(({ code }) => code) };
}

export const law = (of: Ask<'set-holding'>['law'], zone = 'Europe/London') =>
  desk.ask('set-holding', {
    holding,
    name: 'Thistle Bank',
    number: 'TB 0001',
    address: '1 Thistle Bank',
    zone,
    law: of,
    counting: '24-hour',
  });

// 24-hour days in this book, given 1 May 10:00 British Summer Time.
export const AFTER = {
  d28: '2026-05-29T10:00:00+01:00',
  d42: '2026-06-12T10:00:00+01:00',
  d60: '2026-06-30T10:00:00+01:00',
};
