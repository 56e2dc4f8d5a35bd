import { describe, expect, test } from 'vitest';
import { DRENCH } from './farm-desk.ts';
import {
  AFTER,
  desk,
  ewe,
  freshDesk,
  holding,
  law,
  medicineOf,
  type Terms,
  told,
  treat,
} from './off-label-desk.ts';

/** Treatments outside their label: how they are found, whose period counts then, and what the entry keeps of it. */
freshDesk();

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

  test('a dose written late says what it makes of the ones after it: too soon, or one too many', async () => {
    const line = { ...DRENCH.doseLines[0], repeats: { doses: 2, due: '7 d' } };
    const { medicine, revision, terms } = await medicineOf({ doseLines: [line] } as Partial<Terms>);
    const on = (day: string) => ({ happened: `2026-04-${day}T08:00` });
    const [early, many, sameDay] = [await ewe(), await ewe(), await ewe()];
    await treat(early, medicine, on('06'));
    const late = await treat(early, medicine, on('01'));
    expect([late.codes, late.meat?.state]).toEqual([['repeated-early'], 'unknown']);
    for (const day of ['15', '08']) await treat(many, medicine, on(day));
    expect((await treat(many, medicine, on('01'))).codes).toEqual(['more-doses']);
    await treat(sameDay, medicine, { happened: '2026-04-01' });
    expect((await treat(sameDay, medicine, { happened: '2026-04-01' })).codes).toEqual(['repeated-early']);
    await desk.ask('set-label', {
      act: 'typed-wrongly',
      medicine,
      revision,
      terms: { ...terms, periods: [{ produce: 'meat', says: 'value', value: '21 d' }] },
      why: 'mistyped',
    } as never);
    const { held } = await desk.ask('clear-list', { at: '2026-04-28' });
    expect(
      held
        .filter(({ clear }) => clear === undefined)
        .map(({ subject }) => subject)
        .toSorted(),
    ).toEqual([early, many, sameDay].toSorted());
  });

  test('a repeat in a lot is judged by the heads it had then, however many came to it since', async () => {
    const line = { ...DRENCH.doseLines[0], repeats: { doses: 2, due: '7 d' } };
    const { medicine } = await medicineOf({ doseLines: [line] } as Partial<Terms>);
    const lot = async (name: string, heads: number) => {
      const asked = { holding, name, class: 'lamb', heads, happened: '2026-03-01' } as const;
      const subject = `lot:${(await desk.ask('set-lot', asked)).lot}` as const;
      await desk.ask('weigh', { subject, weight: '30 kg', how: 'eye' });
      return subject;
    };
    const [few, others] = [await lot('Few', 5), await lot('Others', 100)];
    await treat(few, medicine, { happened: '2026-04-10T08:00' });
    const move = { from: others.slice(4), to: { lot: few.slice(4) }, heads: 90, happened: '2026-04-20' };
    await desk.ask('move-heads', move);
    const late = await treat(few, medicine, { happened: '2026-04-12T08:00', heads: 5 });
    expect(late.codes).toEqual(['repeated-early']);
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
