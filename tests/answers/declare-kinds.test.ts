import { createHash } from 'node:crypto';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { CONTENTS, contentOf, FACT_RULES, SLAUGHTER_CONTENTS } from '../../src-shared/declare/contents.ts';
import { readPdf } from '../paper/reading.ts';
import { type DeclareDesk, DRENCH, declareDesk } from './declare-desk.ts';

// One farm for the whole file: what is given in one test is still given in the next.
let d: DeclareDesk;
/** A pour-on whose label speaks of wool. */
const POUR = {
  name: 'Skarvin pour-on',
  form: 'pour-on' as const,
  kind: 'volume' as const,
  purpose: 'parasites' as const,
  doseLines: [
    { id: 'all', route: 'pour-on' as const, rate: { style: 'rate' as const, text: '10 mL per head' } },
  ],
  periods: [
    { produce: 'meat' as const, says: 'value' as const, value: '7 d' },
    { produce: 'meat' as const, market: 'export' as const, says: 'value' as const, value: '60 d' },
    { produce: 'milk' as const, says: 'value' as const, value: '84 h' },
    { produce: 'wool-harvest' as const, says: 'value' as const, value: '90 d' },
    { produce: 'wool-handling' as const, says: 'value' as const, value: '14 d' },
  ],
};
let other: string;
let milker: string;

beforeAll(async () => {
  d = await declareDesk();
  const { medicine } = await d.call('set-label', { act: 'first', terms: POUR });
  ({ holding: other } = await d.call('set-holding', {
    name: 'Blaen y Nant',
    number: '99/999/0043',
    address: 'Cwm Uchaf',
    zone: 'Europe/London',
    law: 'gb',
  }));
  const { animal } = await d.call('set-animal', {
    holding: d.holding,
    tag: 'UK 9999999 00004',
    class: 'ewe',
    sex: 'female',
    milking: true,
  });
  milker = `animal:${animal}`;
  await d.call('weigh', { subject: milker, weight: '62 kg', how: 'crate' });
  const pour = (subject: string, happened: string) =>
    d.call('treat', {
      subject,
      happened,
      given: '10 mL',
      single: { medicine, reason: 'ticks', source: 'vet' },
    });
  await pour(d.first, '2026-02-20T08:00');
  await pour(milker, '2026-02-20T08:00');
  await d.drench(d.second, '2026-01-05T08:00');
});
afterAll(() => d.close());

type More = Partial<Parameters<typeof d.call<'declare'>>[1]>;
const asked = (subjects: string[], more: More = {}) => ({
  holding: d.holding,
  to: 'Dealer of the Test',
  departs: '2026-03-01T12:00',
  subjects: subjects.map((subject) => ({ subject })),
  signer: d.person,
  answer: 'yes' as const,
  ...more,
});
async function paperOf(hash: string) {
  const { base64 } = await d.call('paper', { paper: hash });
  const bytes = Buffer.from(base64, 'base64');
  // The bytes that were signed, each time.
  expect(createHash('sha256').update(bytes).digest('hex')).toBe(hash);
  // Lines break in a narrow table: what is read back is read without its breaks.
  return (await readPdf(bytes)).text.replaceAll(/\s+/g, ' ');
}

test('a buyer is told what still runs and until when, and nobody is held back', async () => {
  const { paper, number } = await d.call(
    'declare',
    asked([d.first, d.second, d.third], { purpose: 'live-sale' }),
  );
  const text = await paperOf(paper);
  for (const said of [
    `Declaration of treatments for a buyer no. ${number}`,
    '3 head are declared: 3 ewes.',
    'For 2 head something still runs',
    'Meat for export held until 22 Apr 2026, 00:00 (Skarvin pour-on, 60 d)',
    // Its milk was barred for good by the drench: whoever milks her must know.
    'Milk: not in milk; if it comes into milk, held for life (Vermolin drench)',
    'nothing runs',
    'Western Australia',
    'is everything said that still runs?',
  ]) {
    expect(text).toContain(said);
  }
  // A period that is over does not run: the meat of the first has been clear since 28 February.
  expect(text).not.toContain('Meat held until 28 Feb 2026');
});

test('milk: whoever is under milk withdrawal is refused, and clear milk is declared', async () => {
  const ask = asked([milker], { purpose: 'milk' });
  const text = await paperOf((await d.call('declare', ask)).paper);
  for (const said of [
    'Declaration for milk',
    'The milk is from 1 head: 1 ewe.',
    // 84 h from 20 Feb, 08:00.
    'every period for milk has ended, the last on 23 Feb 2026, 20:00.',
    'Skarvin pour-on',
    'Milk held until',
    'does this milk come from no other animal?',
  ]) {
    expect(text).toContain(said);
  }
  await d.drench(milker, '2026-03-01T07:00');
  const fault = await d.refused('declare', ask);
  expect(fault.code).toBe('held');
  expect(fault.message).toContain('Milk held for life (Vermolin drench)');
});

test('a transfer names the other holding, takes every hold along, and asks where to', async () => {
  expect(await d.refused('declare', asked([d.first], { purpose: 'transfer' }))).toMatchObject({
    code: 'holding-missing',
    field: 'toHolding',
  });
  expect(
    await d.refused('declare', asked([d.first], { purpose: 'transfer', toHolding: d.holding })),
  ).toMatchObject({ code: 'same-holding' });
  const { paper } = await d.call('declare', asked([d.first], { purpose: 'transfer', toHolding: other }));
  const text = await paperOf(paper);
  expect(text).toContain('Blaen y Nant, 99/999/0043');
  expect(text).toContain('Shearing held until 22 May 2026, 00:00 (Skarvin pour-on, 90 d)');
  expect(text).toContain('What runs goes along with each animal');
  expect((await d.call('declarations', { limit: 1 })).declarations[0]).toMatchObject({
    purpose: 'transfer',
    to: 'Blaen y Nant, 99/999/0043',
  });
});

test('the shearers are told of wool alone', async () => {
  const { paper } = await d.call('declare', asked([d.first, d.second], { purpose: 'shearing' }));
  const text = await paperOf(paper);
  expect(text).toContain('Sheet for the shearers');
  expect(text).toContain('2 head are to be shorn: 2 ewes.');
  expect(text).toContain('Wool handling held until 7 Mar 2026, 00:00 (Skarvin pour-on, 14 d)');
  expect(text).toContain('shearing 90 d; handling wool 14 d');
  expect(text).toContain('Only labels that say something of shearing or of wool are reckoned with.');
  expect(text).not.toContain('Vermolin');
});

test('what each text of law asks is asked, printed with where it comes from, and kept for the next time', async () => {
  expect(await d.call('declaration-form', { holding: d.holding })).toMatchObject({
    content: 'gb',
    facts: {},
  });
  for (const content of CONTENTS) {
    const rule = contentOf('slaughter', content);
    expect(rule).toBe(SLAUGHTER_CONTENTS[content]);
    const ask = asked([d.third], { content, departs: '2026-03-02' });
    const [first] = rule.facts;
    if (first !== undefined) {
      const fault = await d.refused('declare', ask);
      expect(fault).toMatchObject({ code: 'facts-missing', field: `fact-${first}` });
      expect(fault.message).toContain(FACT_RULES[first].name);
    }
    const facts = Object.fromEntries(rule.facts.map((fact) => [fact, `Said of ${fact}.`]));
    const text = await paperOf((await d.call('declare', { ...ask, facts })).paper);
    for (const fact of rule.facts) {
      expect(text).toContain(`${FACT_RULES[fact].name}: Said of ${fact}.`);
    }
    expect(text).toContain(rule.source.text);
    expect(text).toContain('no official form');
    const form = await d.call('declaration-form', { holding: d.holding });
    expect(form.content).toBe(content);
    // Of the holding it is offered again; of animals that have gone it is not.
    expect(Object.keys(form.facts).toSorted()).toEqual(
      rule.facts.filter((fact) => FACT_RULES[fact].isKept).toSorted(),
    );
  }
});

test('under withdrawal they leave only where the abattoir agreed to a time, which the paper prints', async () => {
  await d.drench(d.third, '2026-03-01T08:30');
  const ask = asked([d.third], { departs: '2026-03-20', to: 'Abattoir of the Test' });
  expect((await d.refused('declare', ask)).code).toBe('held');
  const agreed = (at: string) => ({ at, agreedWith: 'Their lairage, by telephone', agreedOn: '2026-03-01' });
  // 28 d from 1 March, 08:30 are over at 30 March, 00:00.
  expect((await d.refused('declare', { ...ask, notBefore: agreed('2026-03-29') })).code).toBe('held');
  expect(await d.refused('declare', { ...ask, notBefore: agreed('2026-03-19') })).toMatchObject({
    code: 'not-before-departure',
    field: 'notBefore',
  });
  expect(
    await d.refused('declare', { ...ask, purpose: 'live-sale', notBefore: agreed('2026-03-30') }),
  ).toMatchObject({ code: 'only-to-slaughter' });
  // What is to be agreed next week is not agreed.
  expect(
    await d.refused('declare', { ...ask, notBefore: { ...agreed('2026-03-30'), agreedOn: '2026-03-08' } }),
  ).toMatchObject({ code: 'agreed-later', field: 'agreedOn' });
  const { paper, declaration } = await d.call('declare', { ...ask, notBefore: agreed('2026-03-30') });
  const text = await paperOf(paper);
  expect(text).toContain('Not to be slaughtered before 30 Mar 2026, 00:00');
  expect(text).toContain('So agreed with Their lairage, by telephone on 1 Mar 2026.');
  expect(text).toContain('ends before they may be slaughtered');
  // What stands on it is so: nobody has to be told anything.
  expect((await d.call('declarations', { declaration })).declarations[0]).toMatchObject({
    notBefore: '2026-03-30',
    notices: [],
  });
});

test('what they were told once need not be told again, and what comes later must', async () => {
  await d.call('set-animal', {
    animal: d.first.slice(7),
    holding: d.holding,
    tag: 'UK 9999999 00011',
    class: 'ewe',
    sex: 'female',
  });
  const open = async () =>
    (await d.call('declarations', {})).declarations.filter(({ notices }) => notices.length > 0);
  const buyer = async () => (await open()).find(({ purpose }) => purpose === 'live-sale');
  const first = await buyer();
  expect(first?.notices.join()).toContain('it is called UK 9 999999 00011 now');
  // The drench of 1 March was written after the sale was declared.
  expect(first?.notices.join()).toContain('not said on it: Meat held until 30 Mar 2026, 00:00');
  const declaration = first?.declaration ?? '';
  const tell = (notices: string[]) => ({ declaration, notices, who: 'Their clerk', how: 'By telephone' });
  expect((await d.refused('tell-declaration', tell(['Something else']))).code).toBe('notice-changed');
  await d.call('tell-declaration', tell(first?.notices ?? []));
  expect(await buyer()).toBeUndefined();
  const row = (await d.call('declarations', { declaration })).declarations[0];
  expect(row?.told).toEqual([
    {
      texts: first?.notices,
      who: 'Their clerk',
      how: 'By telephone',
      when: '2026-03-01T09:00',
      by: 'Siân Ó Briain-Łukasz',
    },
  ]);
  expect((await d.call('notices', {})).notices.map((notice) => notice.declaration)).not.toContain(
    declaration,
  );
  await d.drench(d.second, '2026-02-28T08:00');
  expect((await buyer())?.notices).toHaveLength(1);
});

test('treatments whose period ended longer ago than was said are left out', async () => {
  const ask = { holding: d.holding, to: 'x', departs: '2026-06-01', subjects: [{ subject: d.second }] };
  const listed = async (relevantDays?: number) =>
    (
      await d.call('preview-declaration', { ...ask, ...(relevantDays === undefined ? {} : { relevantDays }) })
    ).lines[0]?.treatments.map(({ local }) => local);
  // Ends: 3 Feb and 29 Mar; 90 days before 1 June is 3 March.
  expect(await listed()).toEqual(['2026-01-05T08:00', '2026-02-28T08:00']);
  expect(await listed(90)).toEqual(['2026-02-28T08:00']);
  expect(await listed(30)).toEqual([]);
});

test('the clear list by destination, and who stays at home for the rest to go', async () => {
  const list = async (more: object) => {
    const { clear, held, steps } = await d.call('clear-list', { at: '2026-03-16', ...more });
    return { clear: clear.map((row) => row.subject), held: held.map((row) => row.subject), steps };
  };
  const here = await list({});
  expect(here.clear).toEqual([d.first]);
  expect(here.held.toSorted()).toEqual([d.second, d.third, milker].toSorted());
  expect(here.steps.map(({ at, stay, staying }) => [at, stay, staying.map((one) => one.shown)])).toEqual([
    ['2026-03-30T00:00:00+01:00', 0, []],
    ['2026-03-29T00:00:00+00:00', 2, ['UK 9 999999 00003', 'UK 9 999999 00004']],
  ]);
  expect((await list({ destination: 'export' })).clear).toEqual([]);
  expect((await list({ produce: 'wool-handling' })).held).toEqual([]);
  expect((await list({ produce: 'wool-harvest' })).held.toSorted()).toEqual([d.first, milker].toSorted());
  const organic = await d.call('clear-list', { at: '2026-03-16', destination: 'organic' });
  expect(organic.clear).toEqual([]);
  expect(organic.held.map((row) => row.why).join()).toContain('No organic certificate with known rules');
});

test('a group that is due away before it would clear is said, with what clears sooner', async () => {
  await d.call('set-group', {
    holding: d.holding,
    name: 'Fat lambs',
    add: [d.first],
    dates: { dueAwayFrom: '2026-03-14' },
  });
  const ask = { subjects: [d.first, d.second], medicine: d.medicine };
  const { late } = await d.call('clears-before-away', ask);
  expect(late).toHaveLength(1);
  // 1 March + 28 d: clear on 30 March, sixteen days after the 14th.
  expect(late[0]).toMatchObject({ name: 'Fat lambs', heads: 1, this: { daysAfter: 16 } });
  expect(late[0]?.this.text).toContain(
    'clears 16 days after they are due away (14 Mar 2026): on 30 Mar 2026',
  );
  expect(late[0]?.sooner.map(({ text }) => text)).toEqual([
    'Skarvin pour-on (none in the cabinet) clears on 9 Mar 2026, before they are due away.',
  ]);
  // Given a month earlier it is over in time; whoever is in no such group is not warned of.
  expect((await d.call('clears-before-away', { ...ask, happened: '2026-02-01' })).late).toEqual([]);
  expect((await d.call('clears-before-away', { ...ask, subjects: [d.second] })).late).toEqual([]);
  // A drench given for life is never in time, and the pour-on still is.
  const never = await d.call('set-label', {
    act: 'first',
    terms: { ...DRENCH, name: 'Tollin drench', periods: [{ produce: 'meat', says: 'for-life' }] },
  });
  const stuck = await d.call('clears-before-away', { ...ask, medicine: never.medicine });
  expect(stuck.late[0]?.this.text).toContain('has no date on which they would clear');
  expect(stuck.late[0]?.sooner.map(({ name }) => name)).toEqual([
    'Skarvin pour-on (none in the cabinet)',
    'Vermolin drench',
  ]);
});

test('a late treatment of the ewe touches the declaration of the lamb that sucked her', async () => {
  const [dam, lamb] = await Promise.all(
    (['ewe', 'lamb'] as const).map(async (cls, n) => {
      const { animal } = await d.call('set-animal', {
        holding: d.holding,
        tag: `UK 9999999 0002${n}`,
        class: cls,
      });
      return `animal:${animal}`;
    }),
  );
  if (dam === undefined || lamb === undefined) throw new Error('both were made');
  await d.call('weigh', { subject: dam, weight: '62 kg', how: 'crate' });
  await d.call('set-at-foot', { subject: lamb, dam, from: '2026-02-01' });
  const { declaration } = await d.call('declare', asked([lamb], { to: 'Abattoir of the Test' }));
  const notices = async () => (await d.call('declarations', { declaration })).declarations[0]?.notices;
  expect(await notices()).toEqual([]);
  // While the ewe stands on an open sheet nobody knows what the lamb is under.
  const { session } = await d.call('open-session', {
    holding: d.holding,
    name: 'Ewes',
    subjects: [dam],
    lines: [{ medicine: d.medicine, reason: 'worms' }],
  });
  expect((await d.refused('declare', asked([lamb]))).message).toContain(
    'is at foot of one that is on the open',
  );
  await d.call('close-session', { session, headsThrough: 0 });
  await d.drench(dam, '2026-02-28T08:00');
  expect((await notices())?.join()).toContain('its meat is now held until 29 Mar 2026, 00:00');
});
