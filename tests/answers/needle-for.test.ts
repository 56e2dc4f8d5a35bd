import { afterEach, expect, test } from 'vitest';
import type { Ask } from '../../src-shared/calls/all.ts';
import { DRENCH, type FarmDesk, farmDesk } from './farm-desk.ts';

/** An invented injection into muscle, a suspension that irritates. */
const SHOT = {
  name: 'Orvandil injection',
  form: 'injection',
  kind: 'volume',
  purpose: 'antibiotic',
  actives: [{ substance: 'orvandrine', strength: '50 mg/mL' }],
  flowClass: 'suspension',
  irritates: true,
  doseLines: [{ id: 'im', route: 'intramuscular', rate: { style: 'rate', text: '1 mL per 10 kg' } }],
  periods: [
    { produce: 'meat', says: 'value', value: '28 d' },
    { produce: 'milk', says: 'not-stated' },
  ],
} satisfies Ask<'check-label'>['terms'];
const VACCINE = {
  ...SHOT,
  name: 'Elvaren vaccine',
  purpose: 'vaccine',
  actives: [],
  flowClass: 'watery',
  irritates: false,
  doseLines: [{ id: 'sc', route: 'subcutaneous', rate: { style: 'rate', text: '2 mL per head' } }],
} satisfies Ask<'check-label'>['terms'];

let farm: FarmDesk;
afterEach(() => farm.close());

async function begun(terms: Ask<'check-label'>['terms'], cls: 'ewe' | 'lamb' = 'ewe') {
  farm = farmDesk();
  const { holding } = await farm.started();
  const { medicine } = await farm.ask('set-label', { act: 'first', terms });
  const { animal } = await farm.ask('set-animal', { holding, tag: 'UK 0 700123 00001', class: cls });
  const subject = `animal:${animal}`;
  const doseLine = terms.doseLines[0]?.id ?? '';
  const ask = (more: Partial<Ask<'needle-for'>> = {}) =>
    farm.ask('needle-for', { subject, medicine, doseLine, volume: '4 mL', ...more });
  return { holding, medicine, subject, doseLine, ask };
}

test('a thick remedy into muscle: the neck first, a wide needle, why, and where it will stand in the book', async () => {
  const { subject, ask } = await begun(SHOT);
  await farm.ask('weigh', { subject, weight: '70 kg', how: 'scale' });
  const found = await ask();
  expect(found).toMatchObject({ route: 'intramuscular', usesNeedle: true });
  expect(found.sites?.spots).toEqual([{ site: 'neck', side: 'left', amount: '4 mL' }]);
  expect(found.sites?.last).toBe('The book has no earlier place for this animal.');
  expect(found.sites?.drawBack).toContain('Draw back before injecting');
  expect(found.needle?.text).toBe('18G 1 in');
  expect(found.needle?.reasons.length).toBeGreaterThan(0);
  expect(found.where).toEqual({ site: 'neck', side: 'left', needle: '18G 1 in' });
});

test('the next one goes to the other side, by what the book has in whatever words', async () => {
  const { subject, medicine, ask } = await begun(SHOT);
  await farm.ask('weigh', { subject, weight: '70 kg', how: 'scale' });
  const single = { medicine, source: 'vet', reason: 'lame' } as const;
  await farm.ask('treat', {
    subject,
    single,
    site: 'Neck, high up',
    side: 'left',
    happened: '2026-04-20T08:00',
  });
  const next = await ask();
  expect(next.sites?.spots[0]).toMatchObject({ site: 'neck', side: 'right' });
  expect(next.sites?.last).toBe('The last went into the neck, left side, on 20 Apr 2026, 11 days ago.');
  await farm.ask('treat', { subject, single, site: 'neck', side: 'right', happened: '2026-04-25T08:00' });
  expect((await ask()).sites?.spots[0]).toMatchObject({ site: 'neck', side: 'left' });
  // What the same treatment has used already counts as used now.
  const beside = await ask({ besides: [{ site: 'neck', side: 'left' }] });
  expect(beside.sites?.spots[0]).toMatchObject({ site: 'neck', side: 'right' });
});

test('a gun that cannot draw back, or of which it is not known, goes away from the vein', async () => {
  const { subject, ask } = await begun(VACCINE);
  await farm.ask('weigh', { subject, weight: '70 kg', how: 'scale' });
  const gun = { what: 'gun', name: 'Red gun', capacity: '5 mL', graduation: '0.5 mL' } as const;
  expect((await ask()).where?.site).toBe('neck');
  const { equipment } = await farm.ask('set-equipment', { ...gun, drawsBack: false });
  const blind = await ask({ equipment });
  expect(blind.where?.site).toBe('behind the elbow');
  expect(blind.sites?.drawBack).toContain('This gun cannot draw back');
  const unknown = await farm.ask('set-equipment', { ...gun, name: 'Blue gun' });
  expect((await ask({ equipment: unknown.equipment })).sites?.drawBack).toContain('Most repeat guns cannot');
});

test('the label goes before guidance, and a needle it wants in mm is found in inches', async () => {
  const { subject, ask } = await begun({ ...VACCINE, needle: { gauge: '20', length: '13 mm' } });
  await farm.ask('weigh', { subject, weight: '70 kg', how: 'scale' });
  const found = await ask();
  expect(found.needle?.text).toBe('20G 1/2 in');
  expect(found.needle?.reasons.map(({ rule }) => rule)).toEqual(
    expect.arrayContaining(['label-gauge', 'label-length']),
  );
});

test('a dose over what goes into one place is split between sides, which the book has as both', async () => {
  const { subject, ask } = await begun(SHOT);
  await farm.ask('weigh', { subject, weight: '70 kg', how: 'scale' });
  const found = await ask({ volume: '8 mL', parts: ['4.2 mL', '3.8 mL'] });
  expect(found.sites?.spots.map(({ site, side, amount }) => [site, side, amount])).toEqual([
    ['neck', 'left', '4.2 mL'],
    ['neck', 'right', '3.8 mL'],
  ]);
  expect(found.sites?.spacing).toContain('apart');
  expect(found.where).toMatchObject({ site: 'neck', side: 'both' });
});

test('without a weight a lamb gets its place and no needle, and what to do is said', async () => {
  const { ask } = await begun(SHOT, 'lamb');
  const found = await ask();
  expect(found.where).toEqual({ site: 'neck', side: 'left' });
  expect(found.noNeedle).toMatchObject({ code: 'weight-missing' });
  expect(found.noNeedle?.next).toContain('Weigh it');
});

test('a label that does not say how it flows has places and no needle', async () => {
  const { flowClass: _flow, ...silent } = SHOT;
  const { subject, ask } = await begun(silent);
  await farm.ask('weigh', { subject, weight: '70 kg', how: 'scale' });
  const found = await ask();
  expect(found.needle).toBeUndefined();
  expect(found.noNeedle?.code).toBe('flow-not-said');
  expect(found.sites?.spots).toHaveLength(1);
});

test('without a fold a quarter inch stays under the skin: at 45° in short wool, straight in only where it is full', async () => {
  const { subject, ask } = await begun(VACCINE);
  await farm.ask('weigh', { subject, weight: '70 kg', how: 'scale' });
  const lengthOf = async (more: Partial<Ask<'needle-for'>>) => {
    const { needle, noNeedle } = await ask({ volume: '2 mL', ...more });
    return needle?.text.replace(/^\d+G /, '') ?? noNeedle?.code;
  };
  expect(await lengthOf({})).toBe('1/2 in');
  expect(await lengthOf({ technique: 'slant', fleece: 'short' })).toBe('1/4 in');
  expect(await lengthOf({ technique: 'straight', fleece: 'full' })).toBe('1/4 in');
  expect(await lengthOf({ technique: 'straight', fleece: 'short' })).toBe('no-needle-suits');
  // Nobody said how long the wool is: the stricter of the two.
  expect(await lengthOf({ technique: 'straight' })).toBe('no-needle-suits');
});

test('nothing of needles for a drench: only its own guidance', async () => {
  const { ask } = await begun(DRENCH);
  const found = await ask();
  expect(found).toMatchObject({ route: 'oral', usesNeedle: false });
  expect(Object.keys(found).toSorted()).toEqual(['guidance', 'route', 'usesNeedle']);
  expect(found.guidance?.steps.join(' ')).not.toMatch(/needle|\bsites?\b|draw back/i);
});

test('at the race two injections of one animal go to two places', async () => {
  const { holding, medicine, subject } = await begun(SHOT);
  await farm.ask('weigh', { subject, weight: '40 kg', how: 'scale' });
  const other = await farm.ask('set-label', { act: 'first', terms: { ...SHOT, name: 'Second injection' } });
  const line = { source: 'vet', reason: 'lame' } as const;
  const { session } = await farm.ask('open-session', {
    holding,
    name: 'Lame ewes',
    subjects: [subject],
    lines: [
      { ...line, medicine },
      { ...line, medicine: other.medicine },
    ],
  });
  const { doses } = await farm.ask('dose-for', { session, subject });
  expect(doses.map(({ where }) => [where?.site, where?.side])).toEqual([
    ['neck', 'left'],
    ['neck', 'right'],
  ]);
});

test('only from the drawer: what lies there is chosen, also at the race; nothing that suits is an answer', async () => {
  const { holding, medicine, subject, ask } = await begun(SHOT);
  await farm.ask('weigh', { subject, weight: '70 kg', how: 'scale' });
  const empty = await ask({ fromDrawer: true });
  expect(empty.needle).toBeUndefined();
  expect(empty.noNeedle).toMatchObject({
    code: 'no-needle-suits',
    text: 'Needle: there is none in the drawer.',
  });
  // The place is still said; the book then has no needle.
  expect(empty.where).toEqual({ site: 'neck', side: 'left' });

  const kept = (gauge: string, lengthIn: string, count?: number) =>
    farm.ask('set-consumable', {
      what: 'needle',
      gauge,
      lengthIn,
      ...(count === undefined ? {} : { count }),
    });
  await kept('18', '1', 0);
  await kept('25', '1/4', 9);
  expect((await ask()).needle?.text).toBe('18G 1 in');
  const thin = await ask({ fromDrawer: true });
  expect(thin.noNeedle?.text).toContain('none in the drawer suits');
  expect(thin.noNeedle?.next).toContain('18G 1 in');
  // What was never counted may be there.
  await kept('16', '1');
  expect((await ask({ fromDrawer: true })).needle?.text).toBe('16G 1 in');

  const { session } = await farm.ask('open-session', {
    holding,
    name: 'Lame ewes',
    subjects: [subject],
    lines: [{ source: 'vet', reason: 'lame', medicine }],
  });
  const free = await farm.ask('dose-for', { session, subject });
  const kept16 = await farm.ask('dose-for', { session, subject, fromDrawer: true });
  expect([free, kept16].map(({ doses }) => doses[0]?.where?.needle)).toEqual(['18G 1 in', '16G 1 in']);

  // A mass run writes place and needle when they are said for all, and the next one goes to the other side.
  const { administrations } = await farm.ask('treat-many', {
    session,
    site: 'neck',
    side: 'left',
    needle: '16G 1 in',
  });
  const written = await farm.ask('treatment', { administration: administrations[0] ?? '' });
  expect(written).toMatchObject({ site: 'neck', side: 'left', needle: '16G 1 in' });
  expect((await ask()).where?.side).toBe('right');
});

test('a label states the needle in full words, and one that is on no packet is refused at its field', async () => {
  const { ask: _ask } = await begun({
    ...VACCINE,
    leaks: true,
    needle: { gauge: '18', mostLength: '15 mm' },
  });
  const { says } = await farm.ask('check-label', {
    terms: {
      ...VACCINE,
      leaks: true,
      needle: { gauge: '18G', length: '1/2', mostLength: '15 mm', punctures: 15 },
    },
  });
  expect(says).toContain(
    'Needle: 18 gauge; 1/2 in long; not longer than 15 mm; the stopper is pierced at most 15 times.',
  );
  expect(says).toContain('It leaks back out of the place.');
  for (const [needle, field, code] of [
    [{ gauge: '7' }, 'needle.gauge', 'unknown-gauge'],
    [{ length: '15 mm' }, 'needle.length', 'unknown-length'],
    [{ mostLength: 'short' }, 'needle.mostLength', 'unknown-length'],
    [{ length: '1 in', mostLength: '15 mm' }, 'needle.length', 'limits-crossed'],
  ] as const) {
    const no = await farm.refused('check-label', { terms: { ...VACCINE, needle } });
    expect([no.field, no.code]).toEqual([field, code]);
  }
});
