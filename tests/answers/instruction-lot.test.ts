import { describe, expect, test } from 'vitest';
import { AFTER, desk, ewe, freshDesk, holding, medicineOf, told, treat } from './off-label-desk.ts';

/** For whom the vet's word is, when it was given for a lot; and that it can be taken off a treatment. */
freshDesk();

const over = { given: '12 mL' };
/** Some are treated more than once on a day here: that is asked about, and is so. */
const again = { confirmed: ['dosed-today'] };
type Who = `animal:${string}` | `lot:${string}`;
const CODE = 'instruction-other-animals';
let tags = 0;

async function lotOf(name: string, heads: number): Promise<`lot:${string}`> {
  const { lot } = await desk.ask('set-lot', { holding, name, class: 'ewe', heads });
  await desk.ask('weigh', { subject: `lot:${lot}`, weight: '60 kg', how: 'crate' });
  return `lot:${lot}`;
}

async function taggedOut(lot: Who): Promise<Who> {
  tags += 1;
  const { to } = await desk.ask('move-heads', {
    from: lot.slice(4),
    heads: 1,
    to: { tag: `UK 0 234567 ${String(tags).padStart(5, '0')}` },
  });
  return to as Who;
}

const moved = async (from: Who, heads: number, to: { lot: string } | { newLot: string }): Promise<Who> =>
  (await desk.ask('move-heads', { from: from.slice(4), heads, to })).to as Who;

/** The codes of a treatment that follows an instruction, and what it does to the meat. */
async function followed(subject: Who, medicine: string, instruction: string) {
  const weight = subject.startsWith('lot:') ? {} : { weight: '60 kg' };
  const reply = await treat(
    subject as `animal:${string}`,
    medicine,
    { ...over, ...weight, ...again },
    { instruction },
  );
  return { isFor: !reply.codes.includes(CODE), meat: reply.meat, reply };
}

describe('an instruction for a lot', () => {
  test('is for the lot, for an animal named out of it later, and for a part of it', async () => {
    const { medicine } = await medicineOf();
    const lot = await lotOf('Hill ewes', 20);
    const instruction = await told({ meat: '60 d' }, { subjects: [lot] });
    const named = await taggedOut(lot);
    const part = await moved(lot, 5, { newLot: 'Hill ewes, part' });
    const outOfPart = await taggedOut(part);
    for (const subject of [lot, named, part, outOfPart]) {
      const { isFor, meat } = await followed(subject, medicine, instruction);
      expect([subject, isFor, meat?.until]).toEqual([subject, true, AFTER.d60]);
    }
    const said = await desk.ask('vet-must-say', { subject: named, medicine, given: '12 mL' });
    expect(said.instructions).toMatchObject([{ instruction }]);
    expect(said.instructions[0]?.why).toBeUndefined();
    expect(await desk.ask('recheck', {})).toMatchObject({ different: [] });
  });

  test('is not for one that was named out of it before', async () => {
    const { medicine } = await medicineOf();
    const lot = await lotOf('Hill ewes', 20);
    const gone = await taggedOut(lot);
    const instruction = await told({ meat: '60 d' }, { subjects: [lot] });
    const { isFor, meat } = await followed(gone, medicine, instruction);
    expect([isFor, meat?.state]).toEqual([false, 'unknown']);
  });

  test('is not for those who joined later, nor for whoever comes out of the lot after that', async () => {
    const { medicine } = await medicineOf();
    const [lot, other] = [await lotOf('Hill ewes', 20), await lotOf('Bought ewes', 10)];
    const instruction = await told({ meat: '60 d' }, { subjects: [lot] });
    const early = await taggedOut(lot);
    await moved(other, 4, { lot: lot.slice(4) });
    const late = await taggedOut(lot);
    expect((await followed(early, medicine, instruction)).isFor).toBe(true);
    expect((await followed(late, medicine, instruction)).isFor).toBe(false);
    const whole = await followed(lot, medicine, instruction);
    expect([whole.isFor, whole.meat?.state]).toEqual([false, 'unknown']);
    expect(whole.reply.deviations.find(({ code }) => code === CODE)?.text).toContain('others have joined it');
    // The vet speaks again, of the lot as it is now.
    const again = await told({ meat: '60 d' }, { subjects: [lot] });
    expect((await followed(lot, medicine, again)).isFor).toBe(true);
    expect((await followed(late, medicine, again)).isFor).toBe(false);
    expect((await followed(await taggedOut(lot), medicine, again)).isFor).toBe(true);
  });

  test('of merged lots it is only for what was in it, unless nothing else is left', async () => {
    const { medicine } = await medicineOf();
    const [lot, other] = [await lotOf('Hill ewes', 6), await lotOf('Field ewes', 4)];
    const instruction = await told({ meat: '60 d' }, { subjects: [lot] });
    const part = await moved(lot, 2, { newLot: 'Hill ewes, part' });
    await moved(lot, 4, { lot: other.slice(4) });
    expect((await followed(other, medicine, instruction)).isFor).toBe(false);
    // Two parts of the same lot together are still of that lot.
    const rest = await moved(part, 1, { newLot: 'Rest' });
    await moved(part, 1, { lot: rest.slice(4) });
    expect((await followed(rest, medicine, instruction)).isFor).toBe(true);
    await desk.ask('depart', { subjects: [{ subject: other, heads: 8 }], how: 'sold' });
    await moved(rest, 1, { lot: other.slice(4) });
    expect((await followed(other, medicine, instruction)).isFor).toBe(true);
  });

  test('is not for heads that were counted into it since; a count that finds fewer takes nobody in', async () => {
    const { medicine } = await medicineOf();
    const lot = await lotOf('Hill ewes', 20);
    const instruction = await told({ meat: '60 d' }, { subjects: [lot] });
    const count = (heads: number) =>
      desk.ask('set-lot', { lot: lot.slice(4), holding, name: 'Hill ewes', class: 'ewe', heads });
    await count(19);
    expect((await followed(lot, medicine, instruction)).isFor).toBe(true);
    await count(21);
    expect((await followed(lot, medicine, instruction)).isFor).toBe(false);
  });

  test('heads that turn out later to have joined before the treatment are found by looking again', async () => {
    const { medicine } = await medicineOf();
    const [lot, other] = [await lotOf('Hill ewes', 20), await lotOf('Field ewes', 4)];
    const instruction = await told({ meat: '60 d' }, { subjects: [lot] });
    desk.at('2026-05-03T09:00:00.000Z');
    expect((await followed(lot, medicine, instruction)).isFor).toBe(true);
    await desk.ask('move-heads', {
      from: other.slice(4),
      heads: 1,
      to: { lot: lot.slice(4) },
      happened: '2026-05-02T08:00',
    });
    expect((await desk.ask('recheck', {})).different).toMatchObject([
      { produce: 'meat', written: '2 Jul 2026, 10:00', today: expect.stringContaining('never clears') },
    ]);
  });
});

describe('taken off a treatment', () => {
  test('no time clears it then, and the preview says so before', async () => {
    const { medicine } = await medicineOf();
    const subject = await ewe();
    const instruction = await told({ meat: '60 d' });
    const reply = await treat(subject, medicine, over, { instruction });
    const [administration = ''] = reply.administrations;
    expect(reply.meat?.until).toBe(AFTER.d60);
    const preview = await desk.ask('preview-correction', { administration, instruction: null });
    expect(preview.holds.find(({ produce }) => produce === 'meat')?.state).toBe('unknown');
    await desk.ask('correct-treatment', { administration, instruction: null, reason: 'It was about others' });
    const line = await desk.ask('treatment', { administration });
    expect([line.instruction, line.outside]).toEqual([undefined, 'Outside the label: dose']);
    expect(line.holds.find(({ produce }) => produce === 'meat')?.state).toBe('unknown');
    // Now nothing follows it, and it can be struck out.
    const { entry, treatments } = await desk.ask('instruction', { instruction });
    expect(treatments).toEqual([]);
    expect(await desk.ask('void', { entry, reason: 'never said' })).toMatchObject({ done: true });
  });

  test('on the label its own period is what is left; another correction leaves the instruction alone', async () => {
    const { medicine } = await medicineOf();
    const subject = await ewe();
    const instruction = await told({ meat: '60 d' });
    const reply = await treat(subject, medicine, {}, { instruction });
    const [administration = ''] = reply.administrations;
    await desk.ask('correct-treatment', { administration, why: 'fluke', reason: 'mistyped' });
    expect((await desk.ask('treatment', { administration })).instruction).toMatchObject({ instruction });
    await desk.ask('correct-treatment', { administration, instruction: null, reason: 'It was about others' });
    const { holds } = await desk.ask('subject', { subject });
    expect(holds.find(({ produce }) => produce === 'meat')?.until).toBe(AFTER.d28);
  });
});
