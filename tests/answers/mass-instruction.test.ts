import { expect, test } from 'vitest';
import { AFTER, desk, ewe, freshDesk, holding, medicineOf, told } from './off-label-desk.ts';

/** A run of many at once: the vet's word it follows, and what is asked when it is outside the label without one. */
freshDesk();

let made = 0;
async function runOf(medicine: string, more: { instruction?: string } = {}) {
  made += 1;
  const { lot } = await desk.ask('set-lot', { holding, name: `Lot ${made}`, class: 'ewe', heads: 5 });
  await desk.ask('weigh', { subject: `lot:${lot}`, weight: '60 kg', how: 'crate' });
  const subjects = [await ewe(), `lot:${lot}` as const];
  const { session } = await desk.ask('open-session', {
    holding,
    mode: 'mass',
    subjects,
    lines: [{ medicine, reason: 'worms', ...more }],
    name: 'Drenching',
    mark: { colour: 'blue', place: 'rump' },
  });
  const [line] = (await desk.ask('session', { session })).lines;
  if (line === undefined) throw new Error('the session has a line');
  return { session, line: line.line, subjects, lot: subjects[1] ?? '' };
}

const meatOf = async (subject: string) =>
  (await desk.ask('subject', { subject })).holds.find(({ produce }) => produce === 'meat');

test('the run follows the instruction that is chosen for it, and none when the planned one is taken off', async () => {
  const { medicine } = await medicineOf();
  const [planned, chosen] = [await told({ meat: '45 d' }), await told({ meat: '60 d' })];
  const { session, line, subjects } = await runOf(medicine, { instruction: planned });
  const offer = await desk.ask('instructions-for-run', { session, subjects });
  expect(offer.heads).toBe(6);
  expect(offer.lines).toMatchObject([
    { line, planned, instructions: [{ instruction: chosen, notFor: 0 }, { notFor: 0 }] },
  ]);
  await desk.ask('treat-many', {
    session,
    given: '12 mL',
    except: [{ subject: subjects[1] ?? '', why: 'later' }],
    instructions: [{ line, instruction: chosen }],
  });
  expect((await meatOf(subjects[0] ?? ''))?.until).toBe(AFTER.d60);
  const { session: other, line: second, subjects: others } = await runOf(medicine, { instruction: planned });
  const rest = { session: other, given: '12 mL', instructions: [{ line: second, instruction: null }] };
  expect((await desk.refused('treat-many', rest)).code).toBe('ask:outside-label');
  await desk.ask('treat-many', { ...rest, confirmed: ['outside-label'] });
  expect((await meatOf(others[0] ?? ''))?.state).toBe('unknown');
});

test('outside the label with no word of the vet it is asked about first, with the heads it is about', async () => {
  const { medicine } = await medicineOf();
  const { session, line, subjects } = await runOf(medicine);
  const before = await desk.head();
  const asked = await desk.refused('treat-many', { session, given: '12 mL' });
  expect(asked).toMatchObject({ code: 'ask:outside-label', field: 'given' });
  expect(asked.message).toContain('Calverol drench: outside the label: dose for 6 head');
  // A word on the lot alone leaves the ewe with none.
  const [, lot = ''] = subjects;
  const ofLot = await told({ meat: '60 d' }, { subjects: [lot] });
  const { lines } = await desk.ask('instructions-for-run', { session, subjects });
  expect(lines).toMatchObject([
    { instructions: [{ instruction: ofLot, notFor: 1, why: expect.stringContaining('other animals') }] },
  ]);
  const instructions = [{ line, instruction: ofLot }];
  const rest = await desk.refused('treat-many', { session, given: '12 mL', instructions });
  expect(rest.message).toContain('for 1 head');
  expect(
    (await desk.ask('instructions-for-run', { session, subjects: [subjects[0] ?? ''] })).lines,
  ).toMatchObject([{ instructions: [] }]);
  expect(await desk.head()).toBe(before + 1);
  // A marked part of the lot is still of the lot that the vet spoke of.
  await desk.ask('treat-many', {
    session,
    given: '12 mL',
    instructions,
    tally: [{ subject: lot, heads: 3, marked: true }],
    except: [{ subject: subjects[0] ?? '', why: 'Not there' }],
  });
  const { lots } = await desk.ask('lots', {});
  const marked = lots.find((one) => one.shown.includes('blue'));
  expect((await meatOf(marked?.subject ?? ''))?.until).toBe(AFTER.d60);
  expect(await desk.ask('recheck', {})).toMatchObject({ different: [] });
});

test('on the label nothing is asked; a line that is not of the run is refused', async () => {
  const { medicine } = await medicineOf();
  const { session } = await runOf(medicine);
  const instructions = [{ line: 'none', instruction: null }];
  expect(await desk.refused('treat-many', { session, instructions })).toMatchObject({
    code: 'no-such-line',
    field: 'instructions',
  });
  expect(await desk.ask('treat-many', { session })).toMatchObject({ heads: 6 });
});

test('what the run starts is said by the instruction that is chosen for it', async () => {
  const { medicine } = await medicineOf();
  const instruction = await told({ meat: '60 d' });
  const { session, line, subjects } = await runOf(medicine);
  const meat = async (chosen: string | null) =>
    (
      await desk.ask('dose-for', {
        session,
        subject: subjects[0] ?? '',
        instructions: [{ line, instruction: chosen }],
      })
    ).doses[0]?.foreseen?.meat;
  expect(await meat(instruction)).toContain('30 Jun 2026');
  expect(await meat(null)).toContain('29 May 2026');
});
