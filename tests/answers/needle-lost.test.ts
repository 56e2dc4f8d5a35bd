import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Ask } from '../../src-shared/calls/all.ts';
import { DRENCH, farmDesk } from './farm-desk.ts';

/** An injection under the skin of an invented substance, without a withdrawal period. */
const INJECTION = {
  name: 'Belvoran injection',
  form: 'injection',
  kind: 'volume',
  purpose: 'vaccine',
  flowClass: 'watery',
  doseLines: [{ id: 'sc', route: 'subcutaneous', rate: { style: 'rate', text: '2 mL per head' } }],
  periods: [{ produce: 'meat', says: 'zero' }],
  inUse: '10 h',
} satisfies Ask<'check-label'>['terms'];

let desk: ReturnType<typeof farmDesk>;
let holding = '';
let medicine = '';
let signer = '';
const TAG = (n: number) => `UK 0 123456 ${String(n).padStart(5, '0')}`;
const ewes: `animal:${string}`[] = [];

beforeEach(async () => {
  desk = farmDesk('2026-05-01T07:00:00.000Z');
  ({ holding, person: signer } = await desk.started());
  ({ medicine } = await desk.ask('set-label', { act: 'first', terms: INJECTION }));
  await desk.ask('receive-batch', {
    medicine,
    number: 'V-1',
    expiry: '2027-03',
    packs: [{ count: 2, size: '100 mL' }],
  });
  ewes.length = 0;
  for (const n of [1, 2, 3, 4]) {
    const { animal } = await desk.ask('set-animal', { holding, tag: TAG(n), class: 'ewe' });
    ewes.push(`animal:${animal}`);
    await desk.ask('weigh', { subject: `animal:${animal}`, weight: '60 kg', how: 'crate' });
  }
});
afterEach(() => desk.close());

const at = (time: string) => desk.at(`2026-05-01T${time}:00.000Z`);
const one = (n: number) => ewes[n - 1] ?? 'animal:none';

async function work(sharpsOut = 4) {
  at('08:00');
  const { session } = await desk.ask('open-session', {
    holding,
    subjects: ewes,
    lines: [{ medicine, reason: 'clostridia' }],
    name: 'Spring vaccine',
    sharpsOut,
  });
  return session;
}
const inject = (session: string, n: number) => desk.ask('treat', { session, subject: one(n) });
/** Tags of those who may not go for meat, a year later. */
async function held(): Promise<string[]> {
  const { held } = await desk.ask('clear-list', { at: '2027-04-30' });
  return held.map(({ shown }) => shown);
}

describe('a needle that is missing', () => {
  test('in nobody knows whom holds those treated by needle since the last count, and no date ends it', async () => {
    const session = await work();
    at('08:10');
    await inject(session, 1);
    at('08:20');
    const all = await desk.ask('count-sharps', { session, there: 4 });
    expect(all).toMatchObject({ out: 4, missing: 0, held: [], says: 'All 4 are there.' });
    at('08:30');
    await inject(session, 2);
    at('08:40');
    await inject(session, 3);
    at('08:50');
    const counted = await desk.ask('count-sharps', { session, there: 3 });
    expect(counted.missing).toBe(1);
    expect(counted.held.map(({ shown }) => shown)).toEqual([TAG(2), TAG(3)]);
    expect(await held()).toEqual([TAG(2), TAG(3)]);
    const { verdicts, waits } = await desk.ask('subject', { subject: one(2) });
    expect(verdicts[0]).toMatchObject({ state: 'no-end' });
    expect(waits[0]).toMatchObject({ cause: 'broken-needle' });
  });

  test('more are handed out, and those count as well', async () => {
    const session = await work();
    at('08:10');
    await inject(session, 1);
    expect(await desk.ask('count-sharps', { session, more: 6 })).toMatchObject({ out: 10, missing: 0 });
    at('08:20');
    expect(await desk.ask('count-sharps', { session, there: 9 })).toMatchObject({ out: 10, missing: 1 });
    // It is reported: the next count looks for nine.
    at('08:30');
    expect(await desk.ask('count-sharps', { session, there: 9 })).toMatchObject({ out: 9, missing: 0 });
    at('08:40');
    const closed = await desk.ask('close-session', { session, headsThrough: 1, sharpsBack: 9 });
    expect(closed.needle).toBeUndefined();
    expect(closed.warnings).toEqual([]);
  });

  test('at closing opens a report by itself, for those who may have been treated too', async () => {
    const session = await work();
    at('08:10');
    await inject(session, 1);
    at('08:50');
    const closed = await desk.ask('close-session', { session, headsThrough: 2, sharpsBack: 3 });
    expect(closed.warnings.map(({ code }) => code)).toEqual(['sharps-missing']);
    expect(closed.needle?.held.map(({ shown }) => shown)).toEqual([1, 2, 3, 4].map(TAG));
    const { losses } = await desk.ask('needle-losses', { session, open: true });
    expect(losses).toHaveLength(1);
    expect(losses[0]?.says).toBe('A needle went missing in Spring vaccine; nobody knows where it is.');
  });

  test('one that nobody counted back is said', async () => {
    const session = await work();
    at('08:10');
    await inject(session, 1);
    const closed = await desk.ask('close-session', { session, headsThrough: 1 });
    expect(closed.warnings.map(({ code }) => code)).toEqual(['sharps-not-counted']);
  });

  test('holds also who is written down late as treated in that time, and nobody treated after it', async () => {
    const session = await work();
    at('08:10');
    await inject(session, 1);
    at('08:30');
    await desk.ask('report-needle', { session, found: 'not-found' });
    at('08:40');
    await desk.ask('treat', { session, subject: one(2), happened: '2026-05-01T09:20' });
    await desk.ask('treat', { session, subject: one(3) });
    // Of the fourth only the day is known.
    await desk.ask('treat', { session, subject: one(4), happened: '2026-05-01' });
    expect(await held()).toEqual([TAG(1), TAG(2), TAG(4)]);
  });

  test('a drench in the same work puts nobody under suspicion', async () => {
    const drench = await desk.ask('set-label', {
      act: 'first',
      terms: { ...DRENCH, periods: [{ produce: 'meat', says: 'zero' }] },
    });
    await desk.ask('receive-batch', {
      medicine: drench.medicine,
      number: 'D-1',
      expiry: '2027-03',
      packs: [{ count: 1, size: '1 L' }],
    });
    at('08:00');
    const { session } = await desk.ask('open-session', {
      holding,
      subjects: ewes,
      lines: [
        { medicine, reason: 'clostridia' },
        { medicine: drench.medicine, reason: 'worms' },
      ],
      name: 'Both',
      sharpsOut: 2,
    });
    at('08:10');
    await desk.ask('treat', { session, subject: one(1), lines: ['L2'] });
    await desk.ask('treat', { session, subject: one(2), lines: ['L1'] });
    at('08:20');
    const { held } = await desk.ask('report-needle', { session, found: 'not-found' });
    expect(held.map(({ shown }) => shown)).toEqual([TAG(2)]);
  });

  test('heads that left the lot in between carry the hold', async () => {
    const { lot } = await desk.ask('set-lot', { holding, name: 'Hoggs', class: 'ewe', heads: 20 });
    at('08:00');
    const { session } = await desk.ask('open-session', {
      holding,
      subjects: [`lot:${lot}`],
      lines: [{ medicine, reason: 'clostridia' }],
      name: 'Hoggs',
      sharpsOut: 2,
    });
    at('08:10');
    await desk.ask('treat', { session, subject: `lot:${lot}` });
    at('08:20');
    await desk.ask('move-heads', { from: lot, heads: 5, to: { newLot: 'Five of them' } });
    at('08:30');
    await desk.ask('count-sharps', { session, there: 1 });
    expect((await held()).toSorted()).toEqual(['Five of them', 'Hoggs']);
  });
});

describe('what ends it', () => {
  async function lost(n = 2) {
    const session = await work();
    at('08:10');
    for (let i = 1; i <= n; i += 1) await inject(session, i);
    at('08:30');
    const { loss } = await desk.ask('report-needle', { session, found: 'not-found' });
    at('08:40');
    return loss;
  }

  test('only a finding does; neither a statement nor the word of the vet', async () => {
    const hold = await lost();
    for (const how of ['vet-word', 'statement', 'not-treated', 'recorded-late'] as const) {
      const refused = await desk.refused('resolve-possible', { hold, subject: one(1), how, why: 'said so' });
      expect(refused.code).toBe('finding-only');
    }
    await desk.ask('resolve-possible', { hold, subject: one(1), how: 'finding', why: 'X-ray shows none' });
    expect(await held()).toEqual([TAG(2)]);
  });

  test('found: nobody is held any more', async () => {
    const loss = await lost();
    const found = await desk.ask('needle-finding', { loss, finding: 'found', why: 'In the straw, whole' });
    expect(found).toMatchObject({ ended: 2, held: [] });
    expect(await held()).toEqual([]);
    const again = await desk.refused('needle-finding', { loss, finding: 'found', why: 'Again' });
    expect(again.code).toBe('nobody-held');
  });

  test('in one of them: the others are free, and it is held with its place', async () => {
    const loss = await lost(3);
    const { ended, held: still } = await desk.ask('needle-finding', {
      loss,
      finding: 'in-one',
      subjects: [one(2)],
      site: 'neck',
      side: 'left',
      mark: { colour: 'red', place: 'back' },
      why: 'Felt under the skin',
    });
    expect([ended, still.map(({ shown }) => shown)]).toEqual([2, [TAG(2)]]);
    expect(await held()).toEqual([TAG(2)]);
    const { losses } = await desk.ask('needle-losses', { subject: one(2), open: true });
    expect(losses.map(({ place, site }) => [place, site])).toEqual([['neck, left side', 'neck']]);
    expect((await desk.ask('subject', { subject: one(2) })).marks).toHaveLength(1);
  });

  test('some were looked at: those alone are free', async () => {
    const loss = await lost(3);
    const nobody = await desk.refused('needle-finding', { loss, finding: 'not-in-these', why: 'Looked' });
    expect(nobody).toMatchObject({ code: 'who-was-looked-at', field: 'subjects' });
    const other = await desk.refused('needle-finding', {
      loss,
      finding: 'not-in-these',
      subjects: [one(4)],
      why: 'Looked',
    });
    expect(other.code).toBe('no-such-hold');
    const left = await desk.ask('needle-finding', {
      loss,
      finding: 'not-in-these',
      subjects: [one(1), one(3)],
      why: 'Metal detector, nothing',
    });
    expect(left.held.map(({ shown }) => shown)).toEqual([TAG(2)]);
  });

  test('found whole at once holds nobody; a report struck out neither', async () => {
    const whole = await desk.ask('report-needle', { subject: one(1), found: 'found-whole' });
    expect(whole.held).toEqual([]);
    await lost();
    const { entries } = await desk.ask('entries', { limit: 20 });
    const report = entries.find(({ kind, text }) => kind === 'needle-lost' && text.includes('2 held'));
    expect(report).toBeDefined();
    if (report) await desk.ask('void', { entry: report.entry, reason: 'Miscounted' });
    expect(await held()).toEqual([]);
  });

  test('the book folded anew says the same', async () => {
    await lost();
    await desk.refold((store) => {
      const rows = store.read.all<{ subject: string }>(
        "SELECT subject FROM hold WHERE cause = 'broken-needle' AND state = 'event' ORDER BY subject",
      );
      expect(rows.map(({ subject }) => subject)).toEqual([one(1), one(2)].toSorted());
    });
  });
});

describe('on the declaration', () => {
  const ask = (n: number, accompanied: Ask<'preview-declaration'>['accompanied'] = []) => ({
    holding,
    to: 'Brackwater Meats',
    departs: '2026-05-20',
    subjects: [{ subject: one(n) }],
    accompanied,
  });

  test('it goes only on a line of its own: marked, its place said, the abattoir told', async () => {
    await desk.ask('report-needle', {
      subject: one(1),
      needle: '18G 1/2 in',
      site: 'rump',
      side: 'right',
      found: 'not-found',
      mark: { colour: 'red', place: 'back' },
    });
    const plain = await desk.ask('preview-declaration', ask(1));
    expect(plain.refused.map(({ shown, why }) => [shown, why])).toEqual([
      [TAG(1), 'Meat held until a finding is recorded (a broken needle was not found)'],
    ]);
    const sign = { signer, answer: 'yes' as const };
    expect((await desk.refused('declare', { ...ask(1), ...sign })).code).toBe('held');
    const told = [{ subject: one(1), mark: 'red cross on the back', told: 'Their office, by telephone' }];
    const { lines, refused, sentences } = await desk.ask('preview-declaration', ask(1, told));
    expect(refused).toEqual([]);
    expect(lines[0]?.accompanied).toMatchObject({
      says: 'a needle 18G 1/2 in, front third of the rump, right side, noticed 1 May 2026, 08:00',
      mark: 'red cross on the back',
      told: 'Their office, by telephone',
    });
    expect(sentences.at(-1)).toBe(
      `${TAG(1)} goes accompanied: it may carry a broken needle, is marked, and the abattoir is told where to look.`,
    );
    const { declaration } = await desk.ask('declare', { ...ask(1, told), ...sign });
    const { declarations } = await desk.ask('declarations', { declaration });
    expect(declarations[0]?.notices).toEqual([]);
    // Another needle afterwards was not declared.
    await desk.ask('report-needle', { subject: one(1), found: 'not-found' });
    const after = await desk.ask('declarations', { declaration });
    expect(after.declarations[0]?.notices[0]).toContain('its meat is now held until a finding is recorded');
  });

  test('not while something else holds it too, and no lot', async () => {
    const bought = await desk.ask('set-animal', {
      holding,
      tag: TAG(9),
      class: 'ewe',
      origin: 'bought',
      cameOn: '2026-04-20',
      standing: 'unknown',
    });
    const subject = `animal:${bought.animal}` as const;
    await desk.ask('report-needle', { subject, found: 'not-found' });
    const told = { mark: 'red', told: 'By telephone' };
    const both = await desk.ask('preview-declaration', {
      ...ask(1),
      subjects: [{ subject }],
      accompanied: [{ subject, ...told }],
    });
    expect(both.refused).toHaveLength(1);
    const { lot } = await desk.ask('set-lot', { holding, name: 'Hoggs', class: 'ewe', heads: 20 });
    await desk.ask('report-needle', { subject: `lot:${lot}`, found: 'not-found' });
    const refused = await desk.refused('preview-declaration', {
      ...ask(1),
      subjects: [{ subject: `lot:${lot}` }],
      accompanied: [{ subject: `lot:${lot}`, ...told }],
    });
    expect(refused.code).toBe('accompanied-by-name');
  });
});
