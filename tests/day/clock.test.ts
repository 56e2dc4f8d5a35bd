import { afterEach, expect, test } from 'vitest';
import * as day from './fixture.ts';
import { INJECTED } from './pencil.ts';
import * as play from './play.ts';

/**
 * A computer whose clock is wrong by 40 days. Nothing may be called clear by it, and nothing that happened may be
 * turned away because of it. The last entry is of 1 Mar 2026, 09:40.
 */

/** 1 Mar + 40 days: 30 more to the end of March, then 10 in April. */
const AHEAD = '2026-04-10T09:40:00.000Z';
/** 1 Mar − 40 days: the 28 of February, then 12 back from 1 Feb, that is 20 Jan. */
const BEHIND = '2026-01-20T09:40:00.000Z';

let desk: play.DayDesk;
afterEach(() => desk.close());

async function morning(): Promise<play.Known> {
  desk = play.dayDesk();
  const known = await play.setUp(desk);
  await play.inject(
    desk,
    known,
    INJECTED.map((one) => one.animal),
  );
  return known;
}

/** Somebody who was never treated: only the clock can stand against declaring this one. */
const declaring = (known: play.Known, departs: string) => ({
  holding: known.holding,
  to: 'Netherfold Abattoir',
  departs,
  subjects: [{ subject: play.subjectOf(known, 'UK 0 700123 00007') }],
});

async function nothingIsClear(known: play.Known, departs: string): Promise<void> {
  const asked = declaring(known, departs);
  const before = await desk.entries();
  expect((await desk.ask('farm', {})).clock.state).toBe('doubted');
  expect((await desk.refused('clear-list', { at: departs })).code).toBe('clock-doubted');
  expect((await desk.refused('preview-declaration', asked)).code).toBe('clock-doubted');
  const signing = { ...asked, signer: known.keeper, answer: 'yes' as const };
  expect((await desk.refused('declare', signing)).code).toBe('clock-doubted');
  expect(await desk.entries()).toBe(before);
}

async function recordsAllTheSame(known: play.Known): Promise<void> {
  const reply = await desk.ask('treat', {
    subject: play.subjectOf(known, 'UK 0 700123 00009'),
    single: { medicine: known.medicine.drench, reason: 'Worms' },
  });
  expect(reply.quantity).toBe('10 mL');
  const { entries } = await desk.ask('entries', { limit: 1 });
  expect(entries[0]).toMatchObject({ kind: 'administered', clock: 'doubted' });
}

async function afterConfirming(known: play.Known, confirmed: string, departs: string): Promise<void> {
  const wrong = await desk.refused('confirm-date', { day: '2026-03-01' });
  expect(wrong.code).toBe('date-differs');
  expect((await desk.refused('clear-list', { at: departs })).code).toBe('clock-doubted');
  await desk.ask('confirm-date', { day: confirmed });
  expect((await desk.ask('farm', {})).clock.state).toBe('believed');
  const list = await desk.ask('clear-list', { at: departs });
  expect(list.clear.map((row) => row.shown)).toContain('UK 0 700123 00007');
  const signing = { ...declaring(known, departs), signer: known.keeper, answer: 'yes' as const };
  expect((await desk.ask('declare', signing)).number).toBe(1);
}

test('40 days ahead: nothing is called clear before the date is confirmed, and recording goes on', async () => {
  const known = await morning();
  desk.at(AHEAD);
  await nothingIsClear(known, '2026-04-10T18:00');
  await recordsAllTheSame(known);
  await nothingIsClear(known, '2026-04-10T18:00');
  await afterConfirming(known, '2026-04-10', '2026-04-10T18:00');
});

test('40 days behind: nothing is called clear before the date is confirmed, and recording goes on', async () => {
  const known = await morning();
  desk.at(BEHIND);
  await nothingIsClear(known, '2026-01-20T18:00');
  await recordsAllTheSame(known);
  await nothingIsClear(known, '2026-01-20T18:00');
  await afterConfirming(known, '2026-01-20', '2026-01-20T18:00');
});

test('14 days later to the minute is believed, a minute more is not', async () => {
  const known = await morning();
  // 1 Mar 09:40 + 14 days.
  desk.at('2026-03-15T09:40:00.000Z');
  expect((await desk.ask('clear-list', { at: '2026-03-15' })).held).toHaveLength(INJECTED.length);
  desk.at('2026-03-15T09:41:00.000Z');
  await nothingIsClear(known, '2026-03-15T18:00');
});

test('a clock put right again is believed without a word', async () => {
  await morning();
  desk.at(AHEAD);
  expect((await desk.refused('clear-list', { at: '2026-04-10' })).code).toBe('clock-doubted');
  desk.at(day.CLOCK.drenchOpens);
  expect((await desk.ask('clear-list', { at: '2026-03-01T10:00' })).held).toHaveLength(INJECTED.length);
});
