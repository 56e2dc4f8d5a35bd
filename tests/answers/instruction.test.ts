import { describe, expect, test } from 'vitest';
import { DRENCH } from './farm-desk.ts';
import {
  AFTER,
  desk,
  ewe,
  freshDesk,
  medicineOf,
  type Said,
  type Terms,
  told,
  treat,
} from './off-label-desk.ts';

/** The vet's instruction: for what it holds, what follows it, and what is said before a treatment is written. */
freshDesk();

describe('an instruction holds for what it is about', () => {
  test('another medicine, other animals, after its last day: named, and its periods do not count', async () => {
    const { medicine } = await medicineOf();
    const { medicine: other } = await medicineOf({ name: 'Tarnicol drench' });
    const [one, two] = [await ewe(), await ewe()];
    const over = { given: '12 mL', confirmed: ['dosed-today'] };
    const cases: readonly [Said, string][] = [
      [{ medicine: other }, 'instruction-other-medicine'],
      [{ subjects: [two] }, 'instruction-other-animals'],
      [{ happened: '2026-04-01', validUntil: '2026-04-30' }, 'instruction-ended'],
    ];
    for (const [more, code] of cases) {
      const instruction = await told({ meat: '60 d' }, more);
      const reply = await treat(one, medicine, over, { instruction });
      expect(reply.codes).toContain(code);
      expect(reply.meat?.state).toBe('unknown');
      expect(await desk.ask('instruction', { instruction })).toMatchObject({
        treatments: [{ why: expect.stringContaining('do not count') }],
      });
    }
    const fits = await told({ meat: '60 d' }, { medicine, subjects: [one], validUntil: '2026-05-01' });
    expect((await treat(one, medicine, over, { instruction: fits })).meat?.until).toBe(AFTER.d60);
    expect(await desk.ask('recheck', {})).toMatchObject({ different: [] });
  });

  test('after a slip the vet is asked, and the treatment gets the word that came after it', async () => {
    const { medicine } = await medicineOf();
    const subject = await ewe();
    const slip = await treat(subject, medicine, { given: '12 mL', happened: '2026-04-30T10:00' });
    expect(slip.meat?.state).toBe('unknown');
    const instruction = await told({ meat: '60 d' }, { subjects: [subject] });
    const [administration = ''] = slip.administrations;
    await desk.ask('correct-treatment', { administration, instruction, reason: 'The vet was asked' });
    const shown = await desk.ask('treatment', { administration });
    expect(shown.deviations.map(({ code }) => code)).toEqual(['over-label', 'instruction-after']);
    const { holds } = await desk.ask('subject', { subject });
    expect(holds.find((hold) => hold.produce === 'meat')?.until).toBe('2026-06-29T10:00:00+01:00');
  });

  test('a label corrected later is decided with the same least: by the label as it is now', async () => {
    const { medicine, revision, terms } = await medicineOf();
    const subject = await ewe();
    await treat(subject, medicine, { given: '12 mL' }, { instruction: await told({ meat: '30 d' }) });
    await desk.ask('set-label', {
      act: 'typed-wrongly',
      medicine,
      revision,
      terms: { ...terms, periods: [{ produce: 'meat', says: 'value', value: '40 d' }] } as Terms,
      why: 'The insert says 40 d',
    });
    const { holds } = await desk.ask('subject', { subject });
    // 40 d × 1.5 = 60 d.
    expect(holds.find((hold) => hold.produce === 'meat')?.until).toBe(AFTER.d60);
  });

  test('one that treatments follow is not struck out before they are put right', async () => {
    const { medicine } = await medicineOf();
    const instruction = await told({ meat: '60 d' });
    await treat(await ewe(), medicine, { given: '12 mL' }, { instruction });
    const { entry } = await desk.ask('instruction', { instruction });
    expect(await desk.refused('void', { entry, reason: 'wrong' })).toMatchObject({
      code: 'still-needed',
      message: expect.stringContaining('1 treatment follows this instruction'),
    });
    const { entry: other } = await desk.ask('instruction', { instruction: await told({ meat: '7 d' }) });
    expect(await desk.ask('void', { entry: other, reason: 'wrong' })).toMatchObject({ done: true });
  });

  test('what the vet only said stays open until its paper is in the book', async () => {
    const instruction = await told({ meat: '30 d' });
    await told({ meat: '30 d' }, { form: 'written' });
    const open = async () => (await desk.ask('instructions-not-in-writing', {})).instructions;
    expect(await open()).toMatchObject([{ instruction, vetName: 'Vet Cairn', given: '2026-05-01' }]);
    const png = Buffer.from(
      'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==',
      'base64',
    );
    await desk.ask('attach', {
      to: { what: 'instruction', id: instruction },
      file: { name: 'word.png', base64: png.toString('base64') },
      paper: 'instruction',
    });
    expect(await open()).toEqual([]);
    expect(await desk.ask('instruction', { instruction })).toMatchObject({ form: 'told', inWriting: true });
  });
});

describe('before it is written down', () => {
  test('says that it is outside, by how much, the least for each produce, and who has a word on it', async () => {
    const { medicine } = await medicineOf();
    const subject = await ewe();
    await told({ meat: '60 d' }, { validUntil: '2026-05-01', happened: '2026-05-01' });
    await told({ meat: '60 d' }, { happened: '2026-04-01', validUntil: '2026-04-02' });
    const before = await desk.head();
    const asked = { subject, medicine, given: '8.4 mL' };
    const reply = await desk.ask('vet-must-say', asked);
    expect(reply.outside).toBe('Outside the label: dose');
    expect(reply.deviations).toEqual([
      {
        code: 'over-label',
        text: "8.4 mL given, 6 mL worked out: dose 1.4 times the label's",
        outside: true,
      },
    ]);
    expect(reply.least.map(({ produce, text }) => [produce, text])).toEqual([
      ['meat', 'no less than 42 days'],
      ['milk', 'no less than 7 days'],
    ]);
    expect(reply.instructions.map(({ why }) => why)).toEqual([
      undefined,
      expect.stringContaining('was good until 2 Apr 2026'),
    ]);
    expect(reply.holds[0]).toContain('time alone never clears it');
    const [fits] = reply.instructions;
    const followed = await desk.ask('vet-must-say', { ...asked, instruction: fits?.instruction });
    expect(followed.holds[0]).toContain('30 Jun 2026');
    expect(await desk.head()).toBe(before);
  });

  test('on the label there is nothing to say', async () => {
    const { medicine } = await medicineOf();
    const reply = await desk.ask('vet-must-say', { subject: await ewe(), medicine });
    expect([reply.outside, reply.deviations, reply.least]).toEqual([undefined, [], []]);
  });

  test('bad input says what is missing', async () => {
    const { medicine } = await medicineOf();
    const subject = await ewe();
    expect(await desk.refused('vet-must-say', { subject })).toMatchObject({
      code: 'what-was-given',
      field: 'medicine',
    });
    expect(await desk.refused('vet-must-say', { subject, medicine, given: '8 parsnips' })).toMatchObject({
      field: 'given',
    });
    expect(
      await desk.refused('treat', { subject, single: { medicine, reason: 'worms', instruction: 'none' } }),
    ).toMatchObject({ code: 'no-such-instruction', field: 'instruction', next: expect.any(String) });
    expect(await desk.refused('instruction', { instruction: 'none' })).toMatchObject({
      code: 'no-such-instruction',
    });
    expect(
      await desk.refused('check-label', {
        terms: { ...DRENCH, others: [{ animal: 'cattle', produce: 'meat', says: 'value' }] } as Terms,
      }),
    ).toMatchObject({ code: 'period-value-missing', field: 'others.0.value' });
  });
});
