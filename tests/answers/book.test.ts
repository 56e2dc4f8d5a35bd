import { afterEach, expect, test } from 'vitest';
import { readPdf } from '../paper/reading.ts';
import { type DeclareDesk, declareDesk } from './declare-desk.ts';

let desk: DeclareDesk | undefined;
afterEach(() => {
  desk?.close();
  desk = undefined;
});
async function opened(): Promise<DeclareDesk> {
  desk = await declareDesk();
  return desk;
}
const YEAR = { from: '2026-01-01', to: '2026-12-31' };

async function rowsOf(d: DeclareDesk, more: { corrections?: boolean } = {}) {
  return (await d.call('book', { ...YEAR, ...more })).rows;
}
async function entryOf(d: DeclareDesk, administration: string | undefined) {
  const row = (await rowsOf(d)).find(
    (each) => each.administration === administration && each.state === 'stands',
  );
  if (!row) throw new Error('the treatment does not stand in the book');
  return row.entry;
}
async function left(d: DeclareDesk) {
  const { containers } = await d.call('cabinet', {});
  return containers.map((each) => each.left.text);
}

test('a row says what went into whom, from which box, until when', async () => {
  const d = await opened();
  await d.drench(d.first);
  expect(await rowsOf(d)).toMatchObject([
    {
      shown: 'UK 9 999999 00001',
      product: 'Vermolin drench',
      batch: 'B-17',
      expiry: 'Mar 2027',
      dose: '1.3 mL',
      route: 'oral',
      reason: 'worms',
      givenBy: 'Siân Ó Briain-Łukasz',
      source: '',
      period: '28 d',
      until: '30 Mar 2026, 00:00',
      milkPeriod: 'label: not for animals giving it',
      milkUntil: 'not in milk',
      state: 'stands',
    },
  ]);
});

test('pages follow one another in the order things happened, without a gap or a double', async () => {
  const d = await opened();
  const days = [
    '2026-01-09',
    '2026-01-03',
    '2026-01-20',
    '2026-01-03',
    '2026-02-11',
    '2026-01-01',
    '2026-02-28',
  ];
  for (const [i, day] of days.entries()) await d.drench([d.first, d.second, d.third][i % 3] ?? d.first, day);
  const whole = await rowsOf(d);
  expect(whole.map((row) => row.local)).toEqual(days.toSorted());
  for (const limit of [1, 2, 3, 7]) {
    const seen: string[] = [];
    let after: string | undefined;
    for (let page = 0; page < 10; page += 1) {
      const got = await d.call('book', { ...YEAR, limit, ...(after === undefined ? {} : { after }) });
      expect(got.rows.length).toBeLessThanOrEqual(limit);
      seen.push(...got.rows.map((row) => row.administration));
      after = got.next;
      if (after === undefined) break;
    }
    expect(seen).toEqual(whole.map((row) => row.administration));
  }
  const found = await d.call('book', { ...YEAR, search: '00002', limit: 2 });
  expect(found.rows.map((row) => row.shown)).toEqual(['UK 9 999999 00002', 'UK 9 999999 00002']);
  expect((await d.call('book', { from: '2026-01-03', to: '2026-01-03' })).rows).toHaveLength(2);
  expect(await d.refused('book', { ...YEAR, after: 'nonsense' })).toMatchObject({ code: 'bad-page' });
});

test('a voided treatment stays in the book struck, its stock comes back and its hold goes', async () => {
  const d = await opened();
  const before = await left(d);
  const given = await d.drench(d.first);
  expect(await left(d)).not.toEqual(before);
  const entry = await entryOf(d, given.administrations[0]);
  await d.call('void', { entry, reason: 'Wrong ewe' });
  expect(await left(d)).toEqual(before);
  expect((await d.call('clear-list', { at: '2026-03-02' })).held).toEqual([]);
  const rows = await rowsOf(d);
  expect(rows).toMatchObject([
    {
      state: 'voided',
      dose: '1.3 mL',
      until: '30 Mar 2026, 00:00',
      correction: { reason: 'Wrong ewe', by: 'Siân Ó Briain-Łukasz' },
    },
  ]);
  expect(await rowsOf(d, { corrections: false })).toEqual([]);
  expect(await d.refused('void', { entry, reason: 'Again' })).toMatchObject({ code: 'correction-of-voided' });
  expect((await d.call('verify', {})).problems).toEqual([]);
});

test('what really went in takes the place of what was written: dose, stock and hold follow, both versions stay', async () => {
  const d = await opened();
  const given = await d.drench(d.first);
  const administration = given.administrations[0] ?? '';
  const reply = await d.call('correct-treatment', {
    administration,
    given: '13 mL',
    reason: 'Read the wrong mark',
  });
  expect(reply).toMatchObject({ administration, quantity: '13 mL', notices: [] });
  // Ten times the dose: the label's period no longer speaks for it.
  expect(reply.until).toContain('never clears by time');
  expect(await rowsOf(d)).toMatchObject([
    { state: 'replaced', dose: '1.3 mL', correction: { reason: 'Read the wrong mark' } },
    {
      state: 'stands',
      dose: '13 mL',
      deviations: ["13 mL given, 1.3 mL worked out: dose 10.5 times the label's"],
    },
  ]);
  expect(await left(d)).toContain('987 mL');
  const back = await d.call('correct-treatment', { administration, given: '1.3 mL', reason: 'It was right' });
  expect(back.until).toBe('30 Mar 2026, 00:00');
  expect((await rowsOf(d)).map((row) => [row.state, row.dose])).toEqual([
    ['replaced', '1.3 mL'],
    ['replaced', '13 mL'],
    ['stands', '1.3 mL'],
  ]);
  expect(await left(d)).toContain('998.7 mL');
  expect((await d.call('verify', {})).problems).toEqual([]);
});

test('another day, another animal: the hold moves with it', async () => {
  const d = await opened();
  const given = await d.drench(d.first, '2026-02-20T08:00');
  const administration = given.administrations[0] ?? '';
  const moved = await d.call('correct-treatment', {
    administration,
    local: '2026-02-25T08:00',
    reason: 'Wednesday',
  });
  expect(moved).toMatchObject({ quantity: '1.3 mL', until: '26 Mar 2026, 00:00' });
  expect((await rowsOf(d)).at(-1)).toMatchObject({ local: '2026-02-25T08:00', deviations: [] });
  await d.call('correct-treatment', { administration, subject: d.second, reason: 'The other ewe' });
  const { held } = await d.call('clear-list', { at: '2026-03-02' });
  expect(held.map((row) => row.subject)).toEqual([d.second]);
  expect(
    await d.refused('correct-treatment', { administration, heads: 5, reason: 'Mistyped' }),
  ).toMatchObject({ code: 'more-heads-than-there-are', field: 'heads' });
  expect(
    await d.refused('correct-treatment', { administration, local: '2026-03-02T08:00', reason: 'Tomorrow' }),
  ).toMatchObject({ code: 'in-the-future' });
});

test('who gave it is corrected like the rest, and is somebody of the book; dose and hold stay', async () => {
  const d = await opened();
  const { person } = await d.call('set-person', { name: '=Bryn', roles: ['keeper'] });
  const given = await d.drench(d.first);
  const ask = { administration: given.administrations[0] ?? '', reason: 'Bryn held the gun' };
  expect(await d.refused('correct-treatment', { ...ask, givenBy: 'nobody' })).toMatchObject({
    code: 'no-such-person',
    field: 'givenBy',
  });
  await d.call('correct-treatment', { ...ask, givenBy: person });
  const rows = await rowsOf(d);
  expect(rows.map((row) => [row.state, row.givenBy, row.dose, row.until])).toEqual([
    ['replaced', 'Siân Ó Briain-Łukasz', '1.3 mL', rows[0]?.until],
    ['stands', '=Bryn', '1.3 mL', rows[0]?.until],
  ]);
  expect((await d.call('verify', {})).problems).toEqual([]);
});

test('another weight asks whether the dose was another too', async () => {
  const d = await opened();
  const given = await d.drench(d.first);
  const administration = given.administrations[0] ?? '';
  const ask = { administration, weight: '75 kg', reason: 'The crate was not at zero' };
  const fault = await d.refused('correct-treatment', ask);
  expect(fault).toMatchObject({ code: 'ask:dose-follows-weight', field: 'given' });
  expect(fault.message).toContain('1.3 mL was recorded; for 75 kg it is 1.5 mL');
  expect(await d.call('correct-treatment', { ...ask, confirmed: ['dose-follows-weight'] })).toMatchObject({
    quantity: '1.5 mL',
  });
  expect(await d.call('correct-treatment', { ...ask, given: '1.3 mL' })).toMatchObject({
    quantity: '1.3 mL',
  });
});

test('the record paper prints both versions, sums what stands, and can be had again by its hash', async () => {
  const d = await opened();
  const first = await d.drench(d.first, '2026-02-20T08:00');
  await d.drench(d.second, '2026-02-20T08:05');
  const third = await d.drench(d.third, '2026-02-20T08:10');
  await d.call('correct-treatment', {
    administration: first.administrations[0] ?? '',
    given: '1.2 mL',
    reason: 'Read the wrong mark',
  });
  await d.call('void', { entry: await entryOf(d, third.administrations[0]), reason: 'Not this ewe' });
  const ask = { holding: d.holding, from: '2026-02-01', to: '2026-02-28' };
  const made = await d.call('book-paper', ask);
  expect(made.rows).toBe(4);
  const { base64 } = await d.call('paper', { paper: made.paper });
  const { text } = await readPdf(Buffer.from(base64, 'base64'));
  for (const said of [
    'Treatment record 1 Feb 2026 to 28 Feb 2026',
    'Corrected by Siân Ó Briain-Łukasz on 1 Mar 2026: Read the wrong mark. The corrected line follows.',
    'Struck out by Siân Ó Briain-Łukasz on 1 Mar 2026: Not this ewe',
    '2 treatments stand, 2 head treated in all; 2 struck lines are shown and not counted.',
    '2.5 mL',
    '21 Mar 2026, 00:00',
    'batch B-17, exp. Mar 2027',
    'Page 1 of',
    made.checkCode,
  ]) {
    expect(text).toContain(said);
  }
  expect(text.match(/UK 9 999999 0000\d/g)).toHaveLength(4);
  // The same book at the same moment is the same paper.
  expect(await d.call('book-paper', ask)).toEqual(made);
  const none = await d.call('book-paper', { ...ask, from: '2026-01-01', to: '2026-01-31', paper: 'letter' });
  const empty = await readPdf(Buffer.from((await d.call('paper', { paper: none.paper })).base64, 'base64'));
  expect(empty.text).toContain('The book has no treatment in this period.');
  expect(empty.width).toBe(792);
  expect(await d.refused('paper', { paper: '0'.repeat(64) })).toMatchObject({ code: 'no-such-paper' });
});

test('the journal newest first, a correction naming what it corrects', async () => {
  const d = await opened();
  const given = await d.drench(d.first);
  await d.call('void', { entry: await entryOf(d, given.administrations[0]), reason: 'Wrong ewe' });
  const { entries, next } = await d.call('entries', { limit: 2 });
  expect(entries.map((entry) => [entry.kind, entry.state])).toEqual([
    ['voided', 'stands'],
    ['administered', 'voided'],
  ]);
  expect(entries[0]?.text).toMatch(/^Struck out: Wrong ewe \(entry \d+: Vermolin drench given, worms\)$/);
  const seen = entries.map((entry) => entry.seq);
  let before = next;
  while (before !== undefined) {
    const page = await d.call('entries', { limit: 3, before });
    seen.push(...page.entries.map((entry) => entry.seq));
    before = page.next;
  }
  expect(seen).toEqual(Array.from({ length: seen.length }, (_, i) => seen.length - i));
});

test('what others rest on is asked about, and what the book rests on is refused', async () => {
  const d = await opened();
  await d.drench(d.first);
  const all = (await d.call('entries', { limit: 100 })).entries;
  const named = (kind: string) => {
    const found = all.find((entry) => entry.kind === kind);
    if (!found) throw new Error(`there is no ${kind}`);
    return found.entry;
  };
  for (const [kind, code] of [
    ['batch-received', 'ask:has-draws'],
    ['label-set', 'ask:in-use'],
    ['holding-set', 'still-needed'],
    ['business-set', 'still-needed'],
    ['person-set', 'still-needed'],
  ] as const) {
    expect([kind, (await d.refused('void', { entry: named(kind), reason: 'Try' })).code]).toEqual([
      kind,
      code,
    ]);
  }
  await d.call('void', { entry: named('batch-received'), reason: 'Typed twice', confirmed: ['has-draws'] });
  expect(await left(d)).toEqual([]);
  expect(await rowsOf(d)).toMatchObject([{ state: 'stands', batch: 'B-17', until: '30 Mar 2026, 00:00' }]);
  const { declaration } = await d.call('declare', {
    holding: d.holding,
    to: 'Abattoir of the Test',
    departs: '2026-03-02',
    subjects: [{ subject: d.second }],
    signer: d.person,
    answer: 'yes',
  });
  expect(declaration).not.toBe('');
  const [signed] = (await d.call('entries', { limit: 1 })).entries;
  if (!signed) throw new Error('nothing was signed');
  expect(await d.refused('void', { entry: signed.entry, reason: 'Try' })).toMatchObject({
    code: 'cancel-instead',
  });
});

test("recheck finds nothing to differ by today's rules, and finds a label struck out", async () => {
  const d = await opened();
  await d.drench(d.first, '2026-02-20T08:00');
  await d.drench(d.second);
  expect(await d.call('recheck', {})).toEqual({ checked: 2, different: [] });
  const label = (await d.call('entries', { limit: 100 })).entries.find((entry) => entry.kind === 'label-set');
  if (!label) throw new Error('there is no label');
  await d.call('void', { entry: label.entry, reason: 'Try', confirmed: ['in-use'] });
  const { checked, different } = await d.call('recheck', {});
  expect(checked).toBe(2);
  expect(different.map((row) => row.today)).toEqual(Array(2).fill('Its label is not in the book any more.'));
});

test('an unfinished form is kept over a restart, and is dropped when it is done', async () => {
  const d = await opened();
  expect(await d.call('draft', { form: 'declare' })).toEqual({ value: null });
  await d.call('keep-draft', { form: 'declare', value: { to: 'Abattoir', n: [1, 2] } });
  d.reopen();
  expect(await d.call('draft', { form: 'declare' })).toEqual({ value: { to: 'Abattoir', n: [1, 2] } });
  await d.call('keep-draft', { form: 'declare', value: null });
  expect(await d.call('draft', { form: 'declare' })).toEqual({ value: null });
});

test('work-out answers without touching the book, and a check code of another history is found out', async () => {
  const d = await opened();
  const seq = (await d.call('farm', {})).head.seq;
  const answer = await d.call('work-out', {
    topic: 'dose',
    ask: { weight: '62 kg', rate: '0.2 mg/kg', strength: '10 mg/mL' },
  });
  expect(answer).toMatchObject({ exactMl: '1.24' });
  expect((await d.call('farm', {})).head.seq).toBe(seq);
  const found = await d.call('verify', { head: `${seq}-0000-0000-0000` });
  expect(found.ok).toBe(false);
  expect(found.problems[0]).toContain('another check code');
});
