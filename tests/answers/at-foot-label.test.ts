import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Ask } from '../../src-shared/calls/all.ts';
import { DRENCH, FARM, farmDesk, one } from './farm-desk.ts';

/**
 * Lambs at foot of a treated ewe: what the label says of them against the rule of the farm. 24-hour days, so that each
 * end can be told by counting. All are treated on 1 April 2026, 08:00; the ewe is held 28 d, until 29 April.
 */
let desk: ReturnType<typeof farmDesk>;
let holding = '';
let made = 0;
type Word = Ask<'check-label'>['terms']['sucklingMeat'];
const EWE = '2026-04-29T08:00';
const when = '2026-04-01T08:00';

beforeAll(async () => {
  desk = farmDesk('2026-04-02T09:00:00.000Z');
  ({ holding } = await desk.started());
});
afterAll(() => desk.close());

async function rule(atFoot: 'as-the-ewe' | 'as-the-label') {
  const { counting, name, number, address, zone, law } = FARM.holding;
  await desk.ask('set-holding', { holding, counting, name, number, address, zone, law, atFoot });
}
const termsOf = (name: string, word: Word) => ({
  ...DRENCH,
  name,
  doseLines: [{ ...one(DRENCH.doseLines), rate: { style: 'rate' as const, text: '5 mL per head' } }],
  ...(word === undefined ? {} : { sucklingMeat: word }),
});
const receive = (medicine: string, expiry: string) =>
  desk.ask('receive-batch', {
    medicine,
    number: `B-${expiry}`,
    expiry,
    packs: [{ count: 1, size: '1 L' }],
    happened: '2026-03-01',
  });
async function medicine(word: Word) {
  made += 1;
  const terms = termsOf(`Calverol ${made}`, word);
  const { medicine: id, revision } = await desk.ask('set-label', { act: 'first', terms });
  await receive(id, '2027-03');
  return { medicine: id, revision, terms };
}
const animal = async (cls: 'ewe' | 'lamb') => {
  made += 1;
  const named = { holding, management: `${made}`, class: cls, happened: '2026-03-01' };
  return `animal:${(await desk.ask('set-animal', named)).animal}` as const;
};
async function pair() {
  const [dam, lamb] = [await animal('ewe'), await animal('lamb')];
  await desk.ask('set-at-foot', { subject: lamb, dam, from: '2026-03-02' });
  return { dam, lamb };
}
/** Until when meat is held, "no end", or "clear". */
async function meat(subject: string, clock = 'food') {
  const { holds } = await desk.ask('subject', { subject });
  const found = holds.filter((hold) => hold.produce === 'meat' && hold.clock === clock);
  const ends = found.map((hold) => hold.until?.slice(0, 16) ?? 'no end');
  return ends.length === 0 ? 'clear' : ends.join(', ');
}
async function treated(id: string, more: object = {}) {
  const { dam, lamb } = await pair();
  const single = { medicine: id, reason: 'worms' };
  const { administrations } = await desk.ask('treat', { subject: dam, single, happened: when, ...more });
  return { dam, lamb, administration: one(administrations) };
}
const says = async (lamb: string) => {
  const { subjects } = await desk.ask('why-held', { subject: lamb });
  return one(one(subjects).rows.filter(({ hold }) => hold.produce === 'meat')).young;
};

test.each<[Word, string, string]>([
  [undefined, EWE, EWE],
  [{ says: 'as-the-ewe' }, EWE, EWE],
  [{ says: 'value', value: '7 d' }, EWE, '2026-04-08T08:00'],
  // Longer than the ewe: never earlier, whatever the farm goes by.
  [{ says: 'value', value: '35 d' }, '2026-05-06T08:00', '2026-05-06T08:00'],
  // A period of no days holds nobody.
  [{ says: 'zero' }, EWE, when],
])(
  'the label says of lambs that suck %j: held as the ewe until %s, by the label until %s',
  async (word, asEwe, asLabel) => {
    const { medicine: id } = await medicine(word);
    await rule('as-the-ewe');
    const always = await treated(id);
    await rule('as-the-label');
    const byLabel = await treated(id);
    expect([await meat(always.lamb), await meat(byLabel.lamb)]).toEqual([asEwe, asLabel]);
    expect([await meat(always.dam), await meat(byLabel.dam)]).toEqual([EWE, EWE]);
    // What was decided under the one rule stays when the farm goes by the other.
    await rule('as-the-ewe');
    expect(await meat(byLabel.lamb)).toBe(asLabel);
    const { clear } = await desk.ask('clear-list', { at: '2026-04-10T12:00' });
    const isClear = clear.some(({ subject }) => subject === byLabel.lamb);
    expect(isClear).toBe(asLabel < '2026-04-10');
  },
);

test('its page says by what it goes', async () => {
  const { medicine: seven } = await medicine({ says: 'value', value: '7 d' });
  const { medicine: long } = await medicine({ says: 'value', value: '35 d' });
  const { medicine: silent } = await medicine(undefined);
  await rule('as-the-label');
  expect(await says((await treated(seven)).lamb)).toBe(
    'Held as its label says of lambs that suck, which this farm goes by.',
  );
  expect(await says((await treated(silent)).lamb)).toBe('Held as long as its dam.');
  await rule('as-the-ewe');
  expect(await says((await treated(seven)).lamb)).toContain('no shorter than its label says');
  const { lamb } = await treated(long);
  expect(await says(lamb)).toContain('which is longer than its dam is held');
  const { holds } = await desk.ask('subject', { subject: lamb });
  expect(
    one(holds)
      .working.map(({ text }) => text)
      .join('\n'),
  ).toContain('The label says of lambs that suck her: 35 d, from her last dose');
});

test('in doubt the longest: outside the label, by the vet’s own period, out of two boxes, possibly treated', async () => {
  await rule('as-the-label');
  const { medicine: id, terms } = await medicine({ says: 'value', value: '7 d' });
  const over = await treated(id, { given: '20 mL' });
  expect([await meat(over.dam), await meat(over.lamb)]).toEqual(['no end', 'no end']);
  const { person: vet } = await desk.ask('set-person', { name: 'Vet Cairn', roles: ['vet'] });
  const { instruction } = await desk.ask('record-instruction', {
    vet,
    what: 'Longer',
    form: 'told',
    reason: 'lean ewes',
    medicine: id,
    periods: [{ produce: 'meat', period: '40 d' }],
    happened: '2026-03-30',
  });
  const vets = await treated(id, { instruction });
  expect([await meat(vets.dam), await meat(vets.lamb)]).toEqual(['2026-05-11T08:00', '2026-05-11T08:00']);
  // The box of a later insert has no word on lambs.
  const { sucklingMeat: _word, ...silent } = terms;
  await desk.ask('set-label', { act: 'new-insert', medicine: id, terms: silent });
  await receive(id, '2028-03');
  const { containers } = await desk.ask('cabinet', { show: 'all' });
  const both = containers.filter((each) => each.medicine === id).map(({ container }) => container);
  const [first, second] = [one(both), one(both, 1)];
  await desk.ask('move-stock', { container: first, cause: 'counted', amount: '2 mL', how: 'read' });
  const two = await treated(id, { containers: [first, second], happened: undefined });
  expect([await meat(two.dam), await meat(two.lamb)]).toEqual(['2026-04-30T10:00', '2026-04-30T10:00']);
  const { dam, lamb: sucks } = await pair();
  const { session } = await desk.ask('open-session', {
    holding,
    name: 'Worming',
    subjects: [dam],
    lines: [{ medicine: (await medicine({ says: 'value', value: '35 d' })).medicine, reason: 'worms' }],
  });
  await desk.ask('close-session', { session, headsThrough: 1 });
  // 2 April, 10:00 summer time, and 28 or 35 d.
  expect([await meat(dam), await meat(sucks)]).toEqual(['2026-04-30T10:00', '2026-05-07T10:00']);
});

test('a label that was typed wrongly moves the lambs, and says so', async () => {
  await rule('as-the-label');
  const { medicine: id, revision, terms } = await medicine({ says: 'value', value: '7 d' });
  const { dam, lamb } = await treated(id);
  const corrected = { ...terms, sucklingMeat: { says: 'value' as const, value: '9 d' } };
  const ask = { act: 'typed-wrongly', medicine: id, revision, why: 'mistyped' } as const;
  const { moved } = await desk.ask('set-label', { ...ask, terms: corrected });
  expect(moved.map(({ subject, to }) => [subject, to])).toEqual([
    [dam, '29 Apr 2026, 08:00; lambs at foot 10 Apr 2026, 08:00'],
  ]);
  expect([await meat(dam), await meat(lamb)]).toEqual([EWE, '2026-04-10T08:00']);
  const { sucklingMeat: _word, ...silent } = terms;
  await desk.ask('set-label', { ...ask, terms: silent });
  expect(await meat(lamb)).toBe(EWE);
  const bad = { ...terms, sucklingMeat: { says: 'value' as const } };
  expect(await desk.refused('check-label', { terms: bad })).toMatchObject({
    code: 'period-value-missing',
    field: 'sucklingMeat.value',
  });
});

test('the organic clock of the lamb is twice what its label says, and 48 h of a zero', async () => {
  await rule('as-the-label');
  await desk.ask('set-certificate', {
    of: `holding:${holding}`,
    rules: 'eu-organic',
    name: 'Upland organic',
    from: '2026-01-01',
  });
  const seven = await treated((await medicine({ says: 'value', value: '7 d' })).medicine);
  expect([await meat(seven.dam, 'organic'), await meat(seven.lamb, 'organic')]).toEqual([
    '2026-05-27T08:00',
    '2026-04-15T08:00',
  ]);
  const none = await treated((await medicine({ says: 'zero' })).medicine);
  expect(await meat(none.lamb, 'organic')).toBe('2026-04-03T08:00');
});
