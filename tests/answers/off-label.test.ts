import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Ask } from '../../src-shared/calls/all.ts';
import { DRENCH, farmDesk } from './farm-desk.ts';

/** Treatments outside their label: how they are found, who must say what then, and what the entry keeps of it. */
type Terms = Ask<'check-label'>['terms'];
type Subject = `animal:${string}`;
let desk: ReturnType<typeof farmDesk>;
let holding = '';
let vet = '';
let made = 0;

beforeEach(async () => {
  desk = farmDesk('2026-05-01T09:00:00.000Z');
  ({ holding } = await desk.started());
  ({ person: vet } = await desk.ask('set-person', { name: 'Vet Cairn', roles: ['vet'] }));
});
afterEach(() => desk.close());

async function medicineOf(more: Partial<Terms> = {}) {
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

async function ewe(weight = '60 kg', more: object = {}): Promise<Subject> {
  made += 1;
  const tag = `UK 0 123456 ${String(made).padStart(5, '0')}`;
  const { animal } = await desk.ask('set-animal', { holding, tag, class: 'ewe', ...more });
  const subject: Subject = `animal:${animal}`;
  await desk.ask('weigh', { subject, weight, how: 'crate' });
  return subject;
}

type Said = Partial<Omit<Ask<'record-instruction'>, 'request' | 'by'>>;
async function told(periods: { meat?: string; milk?: string }, more: Said = {}): Promise<string> {
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

async function treat(subject: Subject, medicine: string, more: Partial<Ask<'treat'>> = {}, single = {}) {
  const reply = await desk.ask('treat', {
    subject,
    single: { medicine, reason: 'worms', ...single },
    ...more,
  } as Parameters<typeof desk.ask<'treat'>>[1]);
  const of = (produce: string) => reply.holds.find((hold) => hold.produce === produce);
  return { ...reply, meat: of('meat'), milk: of('milk'), codes: reply.deviations.map(({ code }) => code) };
}

const law = (of: Ask<'set-holding'>['law'], zone = 'Europe/London') =>
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
const AFTER = {
  d28: '2026-05-29T10:00:00+01:00',
  d42: '2026-06-12T10:00:00+01:00',
  d60: '2026-06-30T10:00:00+01:00',
};

describe('the vet’s word, the least by law, the longest of the label: the longest counts', () => {
  test('Great Britain: 28 d × 1.5 is 42 d, so 30 d of the vet are not enough, and 60 d stand', async () => {
    const { medicine } = await medicineOf();
    const few = await treat(
      await ewe(),
      medicine,
      { given: '12 mL' },
      { instruction: await told({ meat: '30 d' }) },
    );
    expect(few.codes).toEqual(['over-label']);
    expect(few.meat?.until).toBe(AFTER.d42);
    const working = few.meat?.working.map(({ text }) => text) ?? [];
    expect(working).toContain('The vet states 30 d for meat');
    expect(working).toContain('The longest period that the label prints for meat: 28 d');
    expect(working).toContain('The law: 28 d × 1.5, a part of a day rounded up = 42 d at least');
    expect(working).toContain('The longest of these counts: 42 d, the least by law');
    const many = await treat(
      await ewe(),
      medicine,
      { given: '12 mL' },
      { instruction: await told({ meat: '60 d' }) },
    );
    expect(many.meat?.until).toBe(AFTER.d60);
  });

  test('what was decided stands in the entry, with the law and the period of each', async () => {
    const { medicine } = await medicineOf();
    const subject = await ewe();
    await treat(subject, medicine, { given: '12 mL' }, { instruction: await told({ meat: '30 d' }) });
    const { holds } = await desk.peek((store) => ({
      holds: store.read
        .all<{ data: string }>("SELECT data FROM hold WHERE subject = ? AND produce = 'meat'", subject)
        .map(({ data }) => JSON.parse(data)),
    }));
    expect(holds).toMatchObject([{ rule: 'law-minimum', period: '42 d', state: 'until' }]);
    expect(holds[0].working.map((step: { code: string }) => step.code)).toEqual(
      expect.arrayContaining([
        'off-label',
        'vet-states',
        'label-longest',
        'law-in-force',
        'law-times',
        'governs',
      ]),
    );
  });

  test('European Union: the label has a period for sheep, so the vet states one, not below the label’s', async () => {
    await law('eu');
    const { medicine } = await medicineOf();
    const few = await treat(
      await ewe(),
      medicine,
      { given: '12 mL' },
      { instruction: await told({ meat: '7 d' }) },
    );
    expect(few.meat?.until).toBe(AFTER.d28);
    const more = await treat(
      await ewe(),
      medicine,
      { given: '12 mL' },
      { instruction: await told({ meat: '42 d' }) },
    );
    expect(more.meat?.until).toBe(AFTER.d42);
  });

  test('the law of the day of treatment counts: flat 28 d before 17 May 2024', async () => {
    const { medicine } = await medicineOf({
      periods: [{ produce: 'meat', says: 'value', value: '14 d' }],
    });
    const subject = await ewe();
    const instruction = await told({ meat: '10 d' });
    const given = { given: '12 mL', containers: undefined };
    const before = await treat(
      subject,
      medicine,
      { ...given, happened: '2024-05-16T10:00' },
      { instruction, source: 'vet' },
    );
    expect(before.meat?.until).toBe('2024-06-13T10:00:00+01:00');
    const since = await treat(
      subject,
      medicine,
      { ...given, happened: '2024-05-17T10:00' },
      { instruction, source: 'vet' },
    );
    expect(since.meat?.until).toBe('2024-06-07T10:00:00+01:00');
  });

  test('a product for cattle only: 49 d × 1.5 is 74 d in Great Britain and in the European Union', async () => {
    for (const of of ['gb', 'eu'] as const) {
      await law(of);
      const { medicine } = await medicineOf({
        name: `Bovicalve ${of}`,
        periods: [],
        others: [
          { animal: 'cattle', produce: 'meat', says: 'value', value: '49 d' },
          { animal: 'cattle', produce: 'milk', says: 'value', value: '72 h' },
        ],
      });
      const instruction = await told({ meat: '28 d', milk: '3 d' });
      const reply = await treat(await ewe('60 kg', { milking: true }), medicine, {}, { instruction });
      expect(reply.codes).toEqual(['not-for-sheep']);
      // 1 May 10:00 + 74 × 24 h; 72 h × 1.5 = 108 h = 5 d.
      expect(reply.meat?.until).toBe('2026-07-14T10:00:00+01:00');
      expect(reply.milk?.until).toBe('2026-05-06T10:00:00+01:00');
    }
  });

  test('not for animals giving milk: barred for good, until the vet states a period, and then 7 d at the least', async () => {
    const { medicine } = await medicineOf();
    const bare = await treat(await ewe('60 kg', { milking: true }), medicine);
    expect(bare.milk?.state).toBe('life');
    const instruction = await told({ milk: '2 d' });
    const said = await treat(await ewe('60 kg', { milking: true }), medicine, {}, { instruction });
    expect([said.milk?.state, said.milk?.until]).toEqual(['until', '2026-05-08T10:00:00+01:00']);
    expect(said.meat?.until).toBe(AFTER.d28);
  });

  test('what a label bars for life stays barred, whatever the vet says', async () => {
    const { medicine } = await medicineOf({ periods: [{ produce: 'meat', says: 'for-life' }] });
    const instruction = await told({ meat: '60 d' });
    const reply = await treat(await ewe(), medicine, { given: '12 mL' }, { instruction });
    expect(reply.meat?.state).toBe('life');
  });

  test('without the vet’s word on a produce no time clears it, and the least stands beside it', async () => {
    const { medicine } = await medicineOf();
    const reply = await treat(
      await ewe('60 kg', { milking: false }),
      medicine,
      { given: '12 mL' },
      {
        instruction: await told({ milk: '9 d' }),
      },
    );
    expect(reply.meat?.state).toBe('unknown');
    expect(reply.meat?.working.at(-1)?.text).toContain('42 d at least');
  });

  test('New Zealand: 91 d can be applied and does not bind; another law has no number', async () => {
    for (const of of ['nz', 'us', 'other'] as const) {
      await law(of);
      const { medicine } = await medicineOf({ name: `Calverol ${of}` });
      const instruction = await told({ meat: '30 d' });
      const reply = await treat(await ewe(), medicine, { given: '12 mL' }, { instruction });
      expect(reply.meat?.until).toBe('2026-05-31T10:00:00+01:00');
    }
  });
});

describe('what is outside the label', () => {
  test('another route, named in words', async () => {
    const { medicine } = await medicineOf();
    const reply = await treat(await ewe(), medicine, { route: 'subcutaneous', given: '6 mL', needle: '18G' });
    expect(reply.deviations).toEqual([
      { code: 'other-route', text: 'given under the skin; this line of the label says by mouth' },
    ]);
    expect(reply.meat?.state).toBe('unknown');
    expect(await desk.ask('recheck', {})).toMatchObject({ different: [] });
  });

  test('sooner than the label repeats it, and once more than it says; at its time it is on the label', async () => {
    const line = { ...DRENCH.doseLines[0], repeats: { doses: 2, due: '7 d' } };
    const { medicine } = await medicineOf({ doseLines: [line] } as Partial<Terms>);
    const on = (day: string) => ({ happened: `2026-04-${day}T08:00` });
    const [early, right] = [await ewe(), await ewe()];
    await treat(early, medicine, on('01'));
    const soon = await treat(early, medicine, on('06'));
    expect(soon.deviations[0]?.text).toBe(
      'given again 5 days after the dose of 1 Apr 2026; the label says each 7 days after the one before',
    );
    expect([soon.codes, soon.meat?.state]).toEqual([['repeated-early'], 'unknown']);
    await treat(right, medicine, on('01'));
    const second = await treat(right, medicine, on('08'));
    expect([second.codes, second.meat?.state]).toEqual([[], 'until']);
    const third = await treat(right, medicine, on('15'));
    expect(third.deviations).toEqual([{ code: 'more-doses', text: 'dose 3 in a row; the label says 2' }]);
    // A course of another season begins anew.
    const later = await treat(right, medicine, { happened: '2026-04-30' });
    expect(later.codes).toEqual([]);
    expect(await desk.ask('recheck', {})).toMatchObject({ different: [] });
  });

  test('ten of a lot today and ten others tomorrow are no repeat; all of it twice is one', async () => {
    const line = { ...DRENCH.doseLines[0], repeats: { doses: 2, due: '7 d' } };
    const { medicine } = await medicineOf({ doseLines: [line] } as Partial<Terms>);
    const { lot } = await desk.ask('set-lot', { holding, name: 'Lambs', class: 'lamb', heads: 20 });
    const subject = `lot:${lot}` as never;
    await desk.ask('weigh', { subject, weight: '30 kg', how: 'eye' });
    await treat(subject, medicine, { happened: '2026-04-20T08:00', heads: 10 });
    expect((await treat(subject, medicine, { happened: '2026-04-21T08:00', heads: 10 })).codes).toEqual([]);
    expect((await treat(subject, medicine, { happened: '2026-04-22T08:00', heads: 20 })).codes).toContain(
      'repeated-early',
    );
  });

  test('a vaccine too early is named, and its own period still speaks for it', async () => {
    const line = { ...DRENCH.doseLines[0], repeats: { doses: 2, earliest: '21 d', due: '28 d' } };
    const { medicine } = await medicineOf({ purpose: 'vaccine', doseLines: [line] } as Partial<Terms>);
    const subject = await ewe();
    await treat(subject, medicine, { happened: '2026-04-01T08:00' });
    const reply = await treat(subject, medicine, { happened: '2026-04-11T08:00' });
    expect(reply.deviations).toEqual([
      {
        code: 'vaccine-early',
        text: 'given again 10 days after the dose of 1 Apr 2026; the label says not sooner than 21 days after the one before',
      },
    ]);
    expect(reply.meat?.state).toBe('until');
  });

  test('what the label rules out, and what it must not be given with: refused in planning, taken as it happened', async () => {
    const { medicine } = await medicineOf({
      notIf: [{ id: 'n', code: 'not-with', value: 'Tarnicol' }],
    });
    const { medicine: other } = await medicineOf({
      name: 'Tarnicol drench',
      actives: [{ substance: 'tarnicol', strength: '10 mg/mL' }],
    });
    const subject = await ewe();
    const lines = [
      { medicine, reason: 'worms' },
      { medicine: other, reason: 'worms' },
    ];
    const plan = await desk.ask('plan-session', { holding, subjects: [subject], lines });
    expect(plan.leftOut.map(({ why }) => why.code)).toEqual(['not-if']);
    await treat(subject, other);
    const reply = await treat(subject, medicine);
    expect([reply.codes, reply.meat?.state]).toEqual([['not-if'], 'unknown']);
  });

  test('too little is named and is on the label: it leaves no more in the animal than the dose does', async () => {
    const { medicine } = await medicineOf();
    const reply = await treat(await ewe(), medicine, { given: '2 mL' });
    expect([reply.codes, reply.meat?.state]).toEqual([['other-than-worked-out'], 'until']);
  });

  test('the caution about several medicines is one for the session, by the law of the holding', async () => {
    const { medicine } = await medicineOf();
    const { medicine: other } = await medicineOf({ name: 'Tarnicol drench' });
    const lines = [medicine, other].map((each) => ({ medicine: each, reason: 'worms' }));
    const subjects = [await ewe(), await ewe()];
    const cautions = async () =>
      (await desk.ask('plan-session', { holding, subjects, lines })).warnings.filter(
        ({ code }) => code === 'several-medicines',
      );
    expect(await cautions()).toMatchObject([{ text: expect.stringContaining('a caution') }]);
    await law('nz');
    expect(await cautions()).toMatchObject([{ text: expect.stringContaining('may no longer hold') }]);
  });
});

describe('an instruction holds for what it is about', () => {
  test('another medicine, other animals, after its last day: named, and its periods do not count', async () => {
    const { medicine } = await medicineOf();
    const { medicine: other } = await medicineOf({ name: 'Tarnicol drench' });
    const [one, two] = [await ewe(), await ewe()];
    const over = { given: '12 mL' };
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
