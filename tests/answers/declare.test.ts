import { afterEach, expect, test } from 'vitest';
import { readPdf } from '../paper/reading.ts';
import { type DeclareDesk, declareDesk } from './declare-desk.ts';

let desk: DeclareDesk | undefined;
afterEach(() => {
  desk?.close();
  desk = undefined;
});
async function opened(more: { demo?: boolean } = {}): Promise<DeclareDesk> {
  desk = await declareDesk(more);
  return desk;
}

/** A pour-on of no withdrawal period. */
const ZERO = {
  kind: 'volume' as const,
  purpose: 'parasites' as const,
  doseLines: [
    { id: 'all', route: 'pour-on' as const, rate: { style: 'rate' as const, text: '1 mL per head' } },
  ],
  periods: [{ produce: 'meat' as const, says: 'zero' as const }],
};
const TO = 'Abattoir of the Test';
const asked = (d: DeclareDesk, subjects: string[], departs = '2026-03-10') => ({
  holding: d.holding,
  to: TO,
  departs,
  subjects: subjects.map((subject) => ({ subject })),
});
const signed = (d: DeclareDesk, subjects: string[], departs?: string) => ({
  ...asked(d, subjects, departs),
  signer: d.person,
  answer: 'yes' as const,
});
async function paperOf(d: DeclareDesk, paper: string) {
  const { base64, mime, name } = await d.call('paper', { paper });
  expect(mime).toBe('application/pdf');
  return { name, ...(await readPdf(Buffer.from(base64, 'base64'))) };
}

test('the clear list keeps a treated ewe back until the very moment its period ends', async () => {
  const d = await opened();
  await d.drench(d.first);
  const at = async (when: string) => {
    const { clear, held } = await d.call('clear-list', { holding: d.holding, at: when });
    return { clear: clear.map((row) => row.subject), held: held.map((row) => [row.subject, row.clear]) };
  };
  const before = await at('2026-03-29T23:59');
  expect(before.held).toEqual([[d.first, '2026-03-30T00:00:00+01:00']]);
  expect(before.clear).toEqual([d.second, d.third]);
  // A day alone means its start, which is the moment the whole days are over.
  expect((await at('2026-03-30')).held).toEqual([]);
  expect((await at('2026-03-29')).held).toHaveLength(1);
  const found = await d.call('clear-list', { at: '2026-03-05', search: '00002' });
  expect(found.clear.map((row) => row.subject)).toEqual([d.second]);
  // Its milk is barred by the label for good, though it is not in milk.
  const milk = await d.call('clear-list', { at: '2027-03-05', produce: 'milk' });
  expect(milk.held.map((row) => row.subject)).toEqual([d.first]);
  expect(milk.held[0]?.clear).toBeUndefined();
});

test('given today, and only the day of departure said: it counts on that very day', async () => {
  const d = await opened();
  d.at('2026-03-01T10:00:00.000Z');
  await d.drench(d.first);
  d.at('2026-03-01T12:00:00.000Z');
  const list = async (at: string) => (await d.call('clear-list', { at })).held.map(({ subject }) => subject);
  expect(await list('2026-03-01')).toEqual([d.first]);
  // A written time stands for itself: then it had been given nothing yet.
  expect(await list('2026-03-01T09:30')).toEqual([]);
  expect(await list('2026-02-28')).toEqual([]);
  expect((await d.refused('declare', signed(d, [d.first], '2026-03-01'))).code).toBe('held');
  // What has no withdrawal held nothing, not even on its own day.
  const zero = await d.call('set-label', {
    act: 'first',
    terms: { ...ZERO, name: 'Ruvelin pour-on', form: 'pour-on' },
  });
  await d.call('treat', {
    subject: d.second,
    given: '1 mL',
    single: { medicine: zero.medicine, reason: 'flies', source: 'vet' },
  });
  expect(await list('2026-03-01')).toEqual([d.first]);
  const later = await d.call('preview-declaration', asked(d, [d.first], '2026-03-01T13:00'));
  expect(later.refused).toHaveLength(1);
});

test('what is not known never clears', async () => {
  const d = await opened();
  const { animal } = await d.call('set-animal', {
    holding: d.holding,
    tag: 'UK 9999999 00009',
    class: 'ewe',
    origin: 'bought',
    cameOn: '2026-02-28',
    standing: 'unknown',
  });
  const bought = `animal:${animal}`;
  const { held } = await d.call('clear-list', { at: '2036-01-01' });
  expect(held.map((row) => row.subject)).toEqual([bought]);
  expect(held[0]?.clear).toBeUndefined();
  const fault = await d.refused('declare', signed(d, [bought]));
  expect(fault).toMatchObject({ code: 'held', field: 'subjects' });
  expect(fault.message).toContain('00009');
});

test('held animals are refused by name with the date they clear, and nothing is written', async () => {
  const d = await opened();
  await d.drench(d.first);
  const preview = await d.call('preview-declaration', asked(d, [d.first, d.second]));
  expect(preview.lines.map((line) => line.subject)).toEqual([d.second]);
  expect(preview.refused.map((row) => row.subject)).toEqual([d.first]);
  const fault = await d.refused('declare', signed(d, [d.first, d.second]));
  expect(fault.code).toBe('held');
  expect(fault.message).toContain('00001: Meat held until 30 Mar 2026, 00:00 (Vermolin drench, 28 d)');
  expect(fault.message).not.toContain('00002');
  expect((await d.call('declarations', {})).declarations).toEqual([]);
});

test('an open work sheet and a possibly treated animal stand against a declaration', async () => {
  const d = await opened();
  const { session } = await d.call('open-session', {
    holding: d.holding,
    name: 'Spring drench',
    subjects: [d.first, d.second],
    lines: [{ medicine: d.medicine, reason: 'worms' }],
  });
  const { openSessions } = await d.call('preview-declaration', asked(d, [d.second, d.third]));
  expect(openSessions).toHaveLength(1);
  expect(openSessions[0]).toContain('00002 is on the open work sheet “Spring drench”');
  expect(await d.refused('declare', signed(d, [d.second]))).toMatchObject({ code: 'session-open' });

  // One whose dose waits for the weigher stands on the sheet too.
  const { animal } = await d.call('set-animal', {
    holding: d.holding,
    management: 'unweighed',
    class: 'ewe',
  });
  const light = `animal:${animal}`;
  const { session: weighing } = await d.call('open-session', {
    holding: d.holding,
    name: 'By the weigher',
    subjects: [light],
    lines: [{ medicine: d.medicine, reason: 'worms' }],
  });
  const { openSessions: waits } = await d.call('preview-declaration', asked(d, [light]));
  expect(waits.join()).toContain('unweighed is on the open work sheet “By the weigher”');
  await d.call('close-session', { session: weighing, headsThrough: 0 });

  await d.call('treat', { session, subject: d.first });
  const closed = await d.call('close-session', { session, headsThrough: 2 });
  expect(closed.possibly.map((row) => row.subject)).toEqual([d.second]);
  const fault = await d.refused('declare', signed(d, [d.second]));
  expect(fault.code).toBe('held');
  expect(fault.message).toContain('may have been treated');
  // Once the period it may be under is over it may go, and the paper says what is not known.
  const { lines } = await d.call('preview-declaration', asked(d, [d.second], '2026-04-10'));
  expect(lines[0]?.treatments).toMatchObject([
    {
      product: 'May have been treated with Vermolin drench; not recorded',
      quantity: 'not known',
      period: '28 d',
    },
  ]);
});

test('a declaration is numbered, frozen and printed, and the same request is answered the same', async () => {
  const d = await opened();
  await d.drench(d.first, '2026-01-05T08:00');
  const request = d.requestId();
  const ask = { ...signed(d, [d.first, d.second], '2026-03-10T06:00'), request };
  const made = await d.call('declare', ask);
  expect(made.number).toBe(1);
  expect(await d.call('declare', ask)).toEqual(made);
  d.at('2026-03-02T09:00:00.000Z');
  expect(await d.call('declare', ask)).toEqual(made);
  expect(await d.refused('declare', { ...ask, to: 'Somebody else' })).toMatchObject({
    code: 'request-id-reused',
  });
  expect((await d.call('declarations', {})).declarations).toMatchObject([
    { number: 1, to: TO, heads: 2, state: 'standing', paper: made.paper, notices: [] },
  ]);

  const { name, text, width } = await paperOf(d, made.paper);
  expect(name).toBe('declaration-1.pdf');
  expect(Math.round(width)).toBe(595);
  for (const said of [
    'Declaration for slaughter no. 1',
    TO,
    '10 Mar 2026, 06:00',
    'Hafod-y-Gwynt Farming',
    '99/999/0042',
    'Siân Ó Briain-Łukasz',
    '2 head are declared: 2 ewes.',
    'For 1 head the book has no treatment with a withdrawal period for meat.',
    'the last on 3 Feb 2026, 00:00',
    'Vermolin drench',
    'B-17',
    '5 Jan 2026, 08:00',
    '28 d',
    'no treatment with a withdrawal period in the book',
    made.checkCode,
    'Is every treatment of these animals in this book',
  ]) {
    expect(text).toContain(said);
  }
  expect(text).not.toContain('DEMO');
  expect((await d.call('verify', { head: made.checkCode })).ok).toBe(true);

  const next = await d.call('declare', { ...signed(d, [d.third]), paper: 'letter' });
  expect(next.number).toBe(2);
  expect((await paperOf(d, next.paper)).width).toBe(612);
});

test('heads of a lot: no more than there are, and its treatments by the head', async () => {
  const d = await opened();
  const { lot } = await d.call('set-lot', {
    holding: d.holding,
    name: 'Store lambs',
    class: 'lamb',
    heads: 30,
  });
  const subject = `lot:${lot}`;
  await d.call('treat', {
    subject,
    happened: '2026-01-05',
    weight: '30 kg',
    single: { medicine: d.medicine, reason: 'worms' },
  });
  const ask = { ...signed(d, []), subjects: [{ subject, heads: 31 }] };
  expect(await d.refused('declare', ask)).toMatchObject({ code: 'too-many-heads' });
  const { number, paper } = await d.call('declare', { ...ask, subjects: [{ subject, heads: 12 }] });
  expect(number).toBe(1);
  const { text } = await paperOf(d, paper);
  expect(text).toContain('12 head are declared: 12 lambs.');
  expect(text).toContain('0.6 mL a head');
});

test('a doubted clock calls nothing clear until the date is confirmed', async () => {
  const d = await opened();
  d.at('2026-04-20T09:00:00.000Z');
  for (const fault of [
    await d.refused('clear-list', { at: '2026-04-21' }),
    await d.refused('preview-declaration', asked(d, [d.first], '2026-04-21')),
    await d.refused('declare', signed(d, [d.first], '2026-04-21')),
  ]) {
    expect(fault.code).toBe('clock-doubted');
    expect(fault.next).toContain('Confirm what day it is');
  }
  await d.call('confirm-date', { day: '2026-04-20' });
  expect((await d.call('declare', signed(d, [d.first], '2026-04-21'))).number).toBe(1);
});

test('no, a day that is over, an unknown signer, somebody listed twice or gone: refused and nothing written', async () => {
  const d = await opened();
  const ask = signed(d, [d.first]);
  const { entries } = await d.call('entries', { limit: 1 });
  expect(await d.refused('declare', { ...ask, answer: 'no' })).toMatchObject({ code: 'answered-no' });
  expect(await d.refused('declare', { ...ask, departs: '2026-02-28' })).toMatchObject({
    code: 'departs-in-the-past',
  });
  expect(await d.refused('declare', { ...ask, signer: 'nobody' })).toMatchObject({ code: 'no-such-person' });
  expect(await d.refused('declare', signed(d, [d.first, d.first]))).toMatchObject({ code: 'listed-twice' });
  expect((await d.call('entries', { limit: 1 })).entries).toEqual(entries);
  await d.call('depart', { subjects: [{ subject: d.first }], how: 'sold' });
  const gone = await d.refused('declare', ask);
  expect(gone.code).toBe('held');
  expect(gone.message).toContain('is not there any more');
});

test('what is written while the paper is printed is reckoned with before it is signed', async () => {
  const d = await opened();
  const held = d.refused('declare', signed(d, [d.first]));
  await d.drench(d.first);
  expect((await held).code).toBe('held');
  expect((await d.call('declarations', {})).declarations).toEqual([]);

  const made = d.call('declare', signed(d, [d.second]));
  await d.drench(d.third);
  const { checkCode } = await made;
  const { entries } = await d.call('entries', { limit: 1 });
  // It rests on the treatment of the other ewe, which is the entry just before it.
  expect(Number(checkCode.split('-')[0])).toBe((entries[0]?.seq ?? 0) - 1);
});

test('a demo may be signed, and its paper says DEMO', async () => {
  const d = await opened({ demo: true });
  const { paper } = await d.call('declare', signed(d, [d.first]));
  const { pages } = await paperOf(d, paper);
  for (const page of pages) expect(page).toContain('DEMO');
});

test('a late entry gives a notice of who was told what; striking it out takes the notice away', async () => {
  const d = await opened();
  await d.call('declare', signed(d, [d.first, d.second]));
  expect((await d.call('notices', {})).notices).toEqual([]);
  await d.call('weigh', { subject: d.first, weight: '63 kg', how: 'crate' });
  await d.drench(d.third, '2026-02-20T08:00');
  expect((await d.call('notices', {})).notices).toEqual([]);

  const late = await d.drench(d.second, '2026-02-20T08:00');
  const { notices } = await d.call('notices', {});
  expect(notices).toHaveLength(1);
  expect(notices[0]).toMatchObject({ number: 1, to: TO });
  expect(notices[0]?.text).toContain(`To ${TO} on 10 Mar 2026`);
  expect(notices[0]?.text).toContain('00002 was declared clear');
  expect(notices[0]?.text).toContain('its meat is now held until 21 Mar 2026, 00:00');
  expect((await d.call('declarations', {})).declarations[0]?.notices).toEqual([notices[0]?.text]);

  const { rows } = await d.call('book', { from: '2026-02-20', to: '2026-02-20' });
  const row = rows.find((each) => each.administration === late.administrations[0]);
  if (!row) throw new Error('the late treatment is not in the book');
  expect(await d.call('void', { entry: row.entry, reason: 'It was another ewe' })).toEqual({
    done: true,
    notices: [],
  });
  expect((await d.call('notices', {})).notices).toEqual([]);
});

test('striking out a treatment that a declaration names gives a notice, until the declaration is cancelled', async () => {
  const d = await opened();
  const given = await d.drench(d.first, '2026-01-05T08:00');
  const { declaration } = await d.call('declare', signed(d, [d.first]));
  const { rows } = await d.call('book', { from: '2026-01-01', to: '2026-01-31' });
  const entry = rows.find((row) => row.administration === given.administrations[0])?.entry;
  if (!entry) throw new Error('the treatment is not in the book');
  const { notices } = await d.call('void', { entry, reason: 'Never given' });
  expect(notices).toHaveLength(1);
  expect(notices[0]).toContain('Struck out: Never given');
  expect(notices[0]).toContain('Vermolin drench on 5 Jan 2026, 08:00 does not stand any more');

  await d.call('cancel-declaration', { declaration, why: 'They stay' });
  expect((await d.call('notices', {})).notices).toEqual([]);
  expect((await d.call('declarations', {})).declarations).toMatchObject([{ state: 'cancelled' }]);
  expect(await d.refused('cancel-declaration', { declaration, why: 'Again' })).toMatchObject({
    code: 'already-cancelled',
  });
  // Its number is not given out again.
  expect((await d.call('declare', signed(d, [d.first]))).number).toBe(2);
});

test('a label that was typed wrongly gives a notice of who was told what', async () => {
  const d = await opened();
  await d.drench(d.first, '2026-01-25T08:00');
  await d.call('declare', signed(d, [d.first]));
  const { DRENCH } = await import('./declare-desk.ts');
  const terms = {
    ...DRENCH,
    periods: DRENCH.periods.map((row) => (row.produce === 'meat' ? { ...row, value: '82 d' } : row)),
  };
  await d.call('set-label', {
    act: 'typed-wrongly',
    medicine: d.medicine,
    revision: d.revision,
    terms,
    why: 'The insert says 82 days',
  });
  const { notices } = await d.call('notices', {});
  expect(notices).toHaveLength(1);
  expect(notices[0]?.text).toContain('The insert says 82 days');
  expect(notices[0]?.text).toContain('its meat is now held until 18 Apr 2026, 00:00');
});
