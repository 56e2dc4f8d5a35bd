import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Ask } from '../../src-shared/calls/all.ts';
import { DRENCH, farmDesk } from './farm-desk.ts';

type Terms = Ask<'check-label'>['terms'];
type Rule = NonNullable<Terms['notIf']>[number];
let desk: ReturnType<typeof farmDesk>;
let holding = '';

beforeEach(async () => {
  desk = farmDesk('2026-09-01T09:00:00.000Z');
  ({ holding } = await desk.started());
});
afterEach(() => desk.close());

async function drench(notIf: Rule[], terms: Partial<Terms> = {}) {
  const { medicine } = await desk.ask('set-label', { act: 'first', terms: { ...DRENCH, ...terms, notIf } });
  await desk.ask('receive-batch', {
    medicine,
    number: 'B-1',
    expiry: '2028-03',
    packs: [{ count: 2, size: '1 L' }],
  });
  return medicine;
}

async function animal(tag: string, more: Partial<Ask<'set-animal'>> = {}): Promise<`animal:${string}`> {
  const { animal: id } = await desk.ask('set-animal', { holding, tag, class: 'ewe', ...more });
  const subject = `animal:${id}` as const;
  await desk.ask('weigh', { subject, weight: '60 kg', how: 'crate' });
  return subject;
}

async function lot(heads: number): Promise<`lot:${string}`> {
  const { lot: id } = await desk.ask('set-lot', { holding, name: `Lambs ${heads}`, class: 'lamb', heads });
  const subject = `lot:${id}` as const;
  await desk.ask('weigh', { subject, weight: '30 kg', how: 'eye' });
  return subject;
}

const TAG = (n: number) => `UK 0 123456 ${String(n).padStart(5, '0')}`;
const EARLY: Rule = {
  id: 'n1',
  code: 'pregnant-from-to',
  from: '0 d',
  to: '50 d',
  says: 'Not in the first 50 days of pregnancy',
};
const AGAIN: Rule = {
  id: 'n2',
  code: 'same-substance-within',
  value: '28 d',
  says: 'Not again within 28 days',
};
const RAM = { ramIn: '2026-10-20', ramOut: '2026-11-24' };
const plan = (medicine: string, subjects: string[], more: Partial<Ask<'plan-session'>> = {}) =>
  desk.ask('plan-session', {
    holding,
    subjects,
    lines: [{ medicine, reason: 'worms' }],
    ...more,
  } as Ask<'plan-session'>);
const left = (planned: Awaited<ReturnType<typeof plan>>) =>
  planned.leftOut.map(({ shown, why }) => `${shown}: ${why.text}`);

describe('planning leaves out by name, with the dates', () => {
  test('a ewe in the first days of pregnancy, by the days the ram was in with her group', async () => {
    const medicine = await drench([EARLY]);
    const [ewe, ram, other] = [
      await animal(TAG(1)),
      await animal(TAG(2), { class: 'ram' }),
      await animal(TAG(3)),
    ];
    await desk.ask('set-group', { holding, name: 'Hill ewes', add: [ewe, ram], dates: RAM });
    desk.at('2026-11-28T09:00:00.000Z');
    const planned = await plan(medicine, [ewe, ram, other]);
    expect(left(planned)).toEqual([
      `${TAG(1)}: Not in the first 50 days of pregnancy; ram in 20 Oct 2026 to 24 Nov 2026, so day 4 to 39`,
    ]);
    expect(planned.rows.map((row) => row.subject)).toEqual([ram, other]);
    // Of the third the book knows nothing: she is planned, and looked at.
    expect(planned.lines[0]?.warnings.map(({ text }) => text)).toEqual([
      'Check before dosing: Not in the first 50 days of pregnancy (1 of the 2 animals and lots)',
    ]);
  });

  test('one that left the group since the ram was in, and one that is still to be weighed', async () => {
    const medicine = await drench([EARLY]);
    const { animal: id } = await desk.ask('set-animal', { holding, tag: TAG(1), class: 'ewe' });
    const ewe = `animal:${id}` as const;
    const early = await animal(TAG(2));
    const { group } = await desk.ask('set-group', {
      holding,
      name: 'Ram ewes',
      add: [ewe, early],
      dates: RAM,
    });
    desk.at('2026-10-10T09:00:00.000Z');
    await desk.ask('set-group', { holding, group, name: 'Ram ewes', remove: [early] });
    desk.at('2026-11-25T09:00:00.000Z');
    await desk.ask('set-group', { holding, group, name: 'Ram ewes', remove: [ewe] });
    desk.at('2026-11-28T09:00:00.000Z');
    const planned = await plan(medicine, [ewe, early]);
    expect(left(planned)).toEqual([
      `${TAG(1)}: Not in the first 50 days of pregnancy; ram in 20 Oct 2026 to 24 Nov 2026, so day 4 to 39`,
    ]);
    // She left before the ram came: his days say nothing about her.
    expect(planned.rows.map((row) => row.subject)).toEqual([early]);
  });

  test('the same substance by another product, through the lot it came out of', async () => {
    const medicine = await drench([AGAIN]);
    const other = await drench([], {
      name: 'Vermolin drench',
      actives: [{ substance: 'Calverol acetate', strength: '10 mg/mL' }],
    });
    const lambs = await lot(20);
    desk.at('2026-11-01T09:00:00.000Z');
    await desk.ask('treat', { subject: lambs, single: { medicine: other, reason: 'worms' } });
    desk.at('2026-11-05T09:00:00.000Z');
    const { to: split } = await desk.ask('move-heads', {
      from: lambs.slice('lot:'.length),
      heads: 5,
      to: { newLot: 'Split off' },
    });
    await desk.ask('weigh', { subject: split, weight: '31 kg', how: 'eye' });
    const never = await lot(7);
    desk.at('2026-11-28T09:00:00.000Z');
    const planned = await plan(medicine, [split, never]);
    expect(left(planned)).toEqual([
      'Split off: Not again within 28 days; it had Vermolin drench (calverol) on 1 Nov 2026, 27 days before',
    ]);
    // The book has these seven since the fifth: what they had before nobody wrote down.
    expect(planned.lines[0]?.warnings.map(({ text }) => text)).toEqual([
      'Check before dosing: Not again within 28 days',
    ]);
    desk.at('2026-12-04T09:00:00.000Z');
    const later = await plan(medicine, [split, never]);
    expect(left(later)).toEqual([]);
    expect(later.lines[0]?.warnings).toEqual([]);
  });

  test('two medicines with the same substance in one session, and one that went through without a record', async () => {
    const medicine = await drench([AGAIN]);
    const other = await drench([], { name: 'Vermolin drench' });
    const ewe = await animal(TAG(1));
    desk.at('2026-11-01T09:00:00.000Z');
    const both = await plan(medicine, [ewe], {
      lines: [
        { medicine, reason: 'worms' },
        { medicine: other, reason: 'worms' },
      ],
    });
    expect(left(both)).toEqual([
      `${TAG(1)}: Calverol drench: Not again within 28 days; given together with Vermolin drench (calverol)`,
    ]);
    const ask = { holding, subjects: [ewe], lines: [{ medicine: other, reason: 'worms' }] };
    const { session } = await desk.ask('open-session', { ...ask, name: 'Worming' });
    await desk.ask('close-session', { session, headsThrough: 1 });
    desk.at('2026-11-10T09:00:00.000Z');
    expect(left(await plan(medicine, [ewe]))).toEqual([
      `${TAG(1)}: Not again within 28 days; it may have had, and counts as treated with, Vermolin drench (calverol) on 1 Nov 2026, 9 days before`,
    ]);
  });
});

describe('at the race and in the book', () => {
  test('what came to apply after planning stops the dose, and recording it all the same names it', async () => {
    const medicine = await drench([AGAIN]);
    const other = await drench([], { name: 'Vermolin drench' });
    const ewe = await animal(TAG(1));
    desk.at('2026-11-01T09:00:00.000Z');
    const ask = { holding, subjects: [ewe], lines: [{ medicine, reason: 'worms' }] };
    const { session } = await desk.ask('open-session', { ...ask, name: 'Worming' });
    expect((await desk.ask('dose-for', { session, subject: ewe })).doses[0]?.dose?.draw.text).toBe('6 mL');
    desk.at('2026-11-02T09:00:00.000Z');
    await desk.ask('treat', { subject: ewe, single: { medicine: other, reason: 'worms' } });
    const text = 'Not again within 28 days; it had Vermolin drench (calverol) on 2 Nov 2026, the same day';
    const [dose] = (await desk.ask('dose-for', { session, subject: ewe })).doses;
    expect(dose).toMatchObject({ dose: null, refused: { code: 'not-if', text } });
    const reply = await desk.ask('treat', { session, subject: ewe });
    expect([reply.quantity, reply.deviations]).toEqual(['6 mL', [{ code: 'not-if', text }]]);
  });

  test('recording is never refused, whichever rows applied, and each is named', async () => {
    const rules: Rule[] = [
      EARLY,
      { id: 'a', code: 'class', value: 'ewe' },
      { id: 'b', code: 'younger-than', value: '3650 d' },
      { id: 'c', code: 'older-than', value: '1 d' },
      { id: 'd', code: 'lighter-than', value: '61 kg' },
      { id: 'e', code: 'heavier-than', value: '59 kg' },
      { id: 'f', code: 'before-lambing', value: '150 d' },
      { id: 'g', code: 'milking' },
      { id: 'h', code: 'shorn-within', value: '40 d' },
      AGAIN,
      { id: 'i', code: 'not-with', value: 'Vermolin', to: '7 d' },
      { id: 'j', code: 'condition-under', value: '2' },
    ];
    const medicine = await drench(rules);
    const other = await drench([], { name: 'Vermolin drench' });
    const ewe = await animal(TAG(1), { born: '2023-04-01', milking: true });
    await desk.ask('set-group', {
      holding,
      name: 'Ewes',
      add: [ewe],
      dates: { ...RAM, shorn: '2026-11-01' },
    });
    desk.at('2026-11-27T09:00:00.000Z');
    await desk.ask('treat', { subject: ewe, single: { medicine: other, reason: 'worms' } });
    desk.at('2026-11-28T09:00:00.000Z');
    const reply = await desk.ask('treat', { subject: ewe, single: { medicine, reason: 'worms' } });
    expect(reply.deviations.map(({ code }) => code)).toEqual(Array.from({ length: 9 }, () => 'not-if'));
    const said = reply.deviations.map(({ text }) => text).join('\n');
    for (const fact of [
      'so day 4 to 39',
      'Not for ewes',
      'born 1 Apr 2023',
      'it is 60 kg',
      'lambing from about 16 Mar 2027',
      'in milk',
      'shorn 1 Nov 2026, 27 days before',
      'Not again within 28 days; it had Vermolin drench (calverol) on 27 Nov 2026, 1 day before',
      'Not together with Vermolin; it had Vermolin drench on 27 Nov 2026, 1 day before',
    ]) {
      expect(said).toContain(fact);
    }
    expect(said).not.toContain('condition');
    // Corrected later, it is not its own earlier treatment.
    const fixed = await desk.ask('preview-correction', {
      administration: reply.administrations[0] ?? '',
      why: 'worms seen',
    });
    expect(fixed.deviations.filter(({ text }) => text.includes('Calverol drench on'))).toEqual([]);
  });

  test('the next dose of a course under way is no repeat of it; another course is', async () => {
    const medicine = await drench([AGAIN]);
    const ewe = await animal(TAG(1));
    desk.at('2026-11-01T09:00:00.000Z');
    const first = await desk.ask('treat', {
      subject: ewe,
      single: { medicine, reason: 'worms' },
      course: { planned: ['2026-11-01', '2026-11-03'] },
    });
    desk.at('2026-11-03T09:00:00.000Z');
    const course = first.course ?? '';
    const second = await desk.ask('treat', {
      subject: ewe,
      single: { medicine, reason: 'worms' },
      course: { course },
    });
    expect(second.deviations).toEqual([]);
    await desk.ask('close-course', { course, state: 'finished', why: 'both given' });
    desk.at('2026-11-10T09:00:00.000Z');
    const again = await desk.ask('treat', { subject: ewe, single: { medicine, reason: 'worms' } });
    expect(again.deviations.map(({ text }) => text)).toEqual([
      'Not again within 28 days; it had Calverol drench (calverol) on 3 Nov 2026, 7 days before',
    ]);
  });

  test('a marked part of a lot in a mass run is judged by what the whole lot had', async () => {
    const medicine = await drench([AGAIN]);
    const other = await drench([], { name: 'Vermolin drench' });
    const lambs = await lot(20);
    desk.at('2026-11-01T09:00:00.000Z');
    const { session } = await desk.ask('open-session', {
      holding,
      mode: 'mass',
      subjects: [lambs],
      lines: [{ medicine, reason: 'worms' }],
      name: 'Worming',
      mark: { colour: 'red', place: 'rump' },
    });
    await desk.ask('treat', { subject: lambs, single: { medicine: other, reason: 'worms' } });
    const reply = await desk.ask('treat-many', {
      session,
      tally: [{ subject: lambs, heads: 5, marked: true }],
      confirmed: ['outside-label'],
    });
    expect(reply.deviations.map(({ code }) => code)).toEqual(['not-if']);
  });
});
