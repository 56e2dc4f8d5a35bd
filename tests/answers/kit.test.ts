import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Ask } from '../../src-shared/calls/all.ts';
import { DRENCH, farmDesk } from './farm-desk.ts';

/** An injection under the skin of an invented substance. */
const INJECTION = {
  name: 'Belvoran injection',
  form: 'injection',
  kind: 'volume',
  purpose: 'vaccine',
  flowClass: 'watery',
  shakeWell: true,
  hazards: { people: 'It numbs a hand for days.' },
  doseLines: [{ id: 'sc', route: 'subcutaneous', rate: { style: 'rate', text: '2 mL per head' } }],
  periods: [{ produce: 'meat', says: 'zero' }],
  inUse: '10 h',
} satisfies Ask<'check-label'>['terms'];

let desk: ReturnType<typeof farmDesk>;
let holding = '';
const ewes: `animal:${string}`[] = [];
const TAG = (n: number) => `UK 0 123456 ${String(n).padStart(5, '0')}`;

beforeEach(async () => {
  desk = farmDesk('2026-05-01T07:00:00.000Z');
  ({ holding } = await desk.started());
  ewes.length = 0;
  for (let n = 1; n <= 12; n += 1) {
    const { animal } = await desk.ask('set-animal', { holding, tag: TAG(n), class: 'ewe' });
    ewes.push(`animal:${animal}`);
    await desk.ask('weigh', { subject: `animal:${animal}`, weight: '60 kg', how: 'crate' });
  }
});
afterEach(() => desk.close());

async function medicine(terms: Ask<'check-label'>['terms'], size = '100 mL') {
  const { medicine: id } = await desk.ask('set-label', { act: 'first', terms });
  await desk.ask('receive-batch', {
    medicine: id,
    number: 'N-1',
    expiry: '2027-03',
    packs: [{ count: 1, size }],
  });
  return id;
}
/** Every text in a reply, without the names of its fields. */
const texts = (value: unknown): string[] =>
  typeof value === 'string'
    ? [value]
    : value !== null && typeof value === 'object'
      ? Object.values(value).flatMap(texts)
      : [];
const plan = async (line: Ask<'plan-session'>['lines'][number], subjects: readonly string[] = ewes) =>
  desk.ask('session-kit', { plan: { holding, subjects: [...subjects], lines: [line] } });
const needle = (gauge: string, lengthIn: string, count?: number) =>
  desk.ask('set-consumable', { what: 'needle', gauge, lengthIn, ...(count === undefined ? {} : { count }) });

describe('the drawer', () => {
  test('counts by size: not counted is not none, a count overrules what came and went', async () => {
    const { consumable } = await needle('18G', '½');
    const row = async () => (await desk.ask('consumables', {})).consumables[0];
    expect(await row()).toMatchObject({ name: '18G 1/2 in', hub: 'pink', leftText: 'not counted' });
    const move = (cause: Ask<'move-consumable'>['cause'], pieces: number) =>
      desk.ask('move-consumable', { consumable, cause, pieces });
    // Used out of a drawer that nobody counted: still not known.
    expect((await move('used', 3)).left).toBeUndefined();
    expect(await move('received', 100)).toEqual({ left: 100, leftText: '100' });
    expect(await move('used', 12)).toMatchObject({ left: 88 });
    expect(await move('lost', 1)).toMatchObject({ left: 87 });
    expect(await move('counted', 80)).toMatchObject({ left: 80 });
    expect(await move('disposed', 80)).toMatchObject({ left: 0 });
    // More went than there was: the number cannot be right.
    expect(await move('used', 1)).toEqual({ leftText: 'not counted' });
  });

  test('keeps the widest first, says what is short, and refuses what is there already or is on no packet', async () => {
    await needle('20', '1', 5);
    await needle('16', '1/2', 5);
    await desk.ask('set-consumable', { what: 'sharps-box', name: '2 L box', least: 2, count: 1 });
    const { consumables } = await desk.ask('consumables', {});
    expect(consumables.map(({ name, isShort }) => [name, isShort])).toEqual([
      ['16G 1/2 in', false],
      ['20G 1 in', false],
      ['2 L box', true],
    ]);
    const refused = (ask: Partial<Ask<'set-consumable'>>) =>
      desk.refused('set-consumable', { what: 'needle', gauge: '16', lengthIn: '1/2', ...ask });
    expect(await refused({})).toMatchObject({ code: 'name-taken', field: 'gauge' });
    expect(await refused({ gauge: '99' })).toMatchObject({ code: 'unknown-gauge', field: 'gauge' });
    expect(await refused({ lengthIn: '15 mm' })).toMatchObject({ code: 'unknown-length' });
    expect(await refused({ what: 'syringe' })).toMatchObject({ code: 'name-missing', field: 'name' });
  });
});

describe('house rules for needles', () => {
  test('stand beside the guidance that disagrees, each with its source', async () => {
    const { rules, guidance } = await desk.ask('house-rules', {});
    expect(rules).toEqual({});
    const change = guidance.find(({ topic }) => topic === 'change');
    expect(change?.sides.map(({ says, source }) => `${says}: ${source}`)).toEqual([
      'every animal: Alabama guidance',
      'every 10-15: Kentucky guidance',
      'every 50: New Zealand guidance',
    ]);
    expect(guidance.map(({ topic, sides }) => [topic, sides.length])).toEqual([
      ['skin', 4],
      ['muscle', 2],
      ['change', 3],
      ['spacing', 2],
      ['per-site', 3],
    ]);
  });

  test('are taken within what a source says, and refused beyond', async () => {
    const set = (ask: Partial<Ask<'set-house-rules'>>) => desk.ask('set-house-rules', { holding, ...ask });
    const refused = (ask: Partial<Ask<'set-house-rules'>>) =>
      desk.refused('set-house-rules', { holding, ...ask });
    await set({
      changeEvery: 10,
      spacingIn: 1,
      maxPerSite: '10 mL',
      skin: { gauge: '18G', lengthIn: '3/4' },
    });
    expect((await desk.ask('house-rules', { holding })).rules).toEqual({
      changeEvery: 10,
      spacingIn: 1,
      maxPerSite: '10 mL',
      skin: { gauge: '18', lengthIn: '3/4' },
    });
    expect(await refused({ changeEvery: 51 })).toMatchObject({ field: 'changeEvery' });
    expect(await refused({ changeEvery: 0 })).toMatchObject({ field: 'changeEvery' });
    expect(await refused({ spacingIn: 0 })).toMatchObject({ code: 'house-past-sources', field: 'spacingIn' });
    expect(await refused({ maxPerSite: '20 mL' })).toMatchObject({ field: 'maxPerSite' });
    expect(await refused({ maxPerSite: '0 mL' })).toMatchObject({ code: 'bad-most', field: 'maxPerSite' });
    expect(await refused({ muscle: { gauge: '7' } })).toMatchObject({ field: 'muscle.gauge' });
  });
});

describe('the kit', () => {
  test('names the needle of the drawer, how many by the strictest source, and what is short', async () => {
    const id = await medicine(INJECTION);
    await needle('16', '1/2', 40);
    await needle('18', '1/2', 10);
    await desk.ask('set-consumable', { what: 'sharps-box', name: '2 L box', count: 1 });
    const kit = await plan({
      medicine: id,
      reason: 'clostridia',
      syringe: { capacity: '5 mL', graduation: '0.2 mL' },
    });
    expect(kit.isInjected).toBe(true);
    expect(kit.lines[0]?.needles.map(({ who, heads, text }) => [who, heads, text])).toEqual([
      ['ewes', 12, '18G 1/2 in'],
    ]);
    // 12 animals + 1 for drawing off + 2 spare.
    expect(kit.change).toMatchObject({ everyHeads: 1, total: 15 });
    expect(
      kit.items.map(({ what, text, wanted, leftText, short }) => [what, text, wanted, leftText, short]),
    ).toEqual([
      ['needle', '18G 1/2 in', 15, '10', 5],
      ['syringe', '5 mL', 2, 'none kept', 2],
      ['sharps-box', 'box for used needles', 1, '1', 0],
      ['marking-spray', 'any colour', 1, 'none kept', 1],
    ]);
  });

  test('goes by the rule of the house, which is over guidance', async () => {
    const id = await medicine(INJECTION);
    await desk.ask('set-house-rules', { holding, changeEvery: 10, skin: { gauge: '16', lengthIn: '1/2' } });
    const kit = await plan({ medicine: id, reason: 'clostridia' });
    expect(kit.lines[0]?.needles[0]?.text).toBe('16G 1/2 in');
    // 12 ÷ 10, rounded up, + 1 + 2.
    expect(kit.change?.total).toBe(5);
  });

  test('says when nothing of the drawer suits, and which needle is to be bought', async () => {
    const id = await medicine(INJECTION);
    await needle('14', '1 1/2', 40);
    const kit = await plan({ medicine: id, reason: 'clostridia' });
    const [needles] = kit.lines[0]?.needles ?? [];
    expect(needles?.warnings.map(({ code }) => code)).toContain('not-in-drawer');
    expect(kit.items[0]).toMatchObject({ text: needles?.text, leftText: 'none kept', short: 15 });
  });

  test('lambs and ewes take each their own; a label that is silent on the flow names none', async () => {
    const id = await medicine(INJECTION);
    const { lot } = await desk.ask('set-lot', { holding, name: 'Lambs', class: 'lamb', heads: 30 });
    await desk.ask('weigh', { subject: `lot:${lot}`, weight: '10 kg', how: 'eye' });
    const both = await plan({ medicine: id, reason: 'clostridia' }, [...ewes, `lot:${lot}`]);
    expect(both.lines[0]?.needles.map(({ who, heads }) => [who, heads])).toEqual([
      ['lambs under 4 weeks', 30],
      ['ewes', 12],
    ]);
    const { flowClass: _silent, ...silent } = INJECTION;
    const other = await medicine({ ...silent, name: 'Silent injection' });
    const kit = await plan({ medicine: other, reason: 'clostridia' });
    expect(kit.lines[0]?.needles).toEqual([]);
    expect(kit.lines[0]?.noNeedle[0]?.text).toContain('does not say how it flows');
    expect(kit.items[0]).toMatchObject({ what: 'needle', wanted: 15 });
  });

  test('a limit on piercing the stopper is said', async () => {
    const id = await medicine({ ...INJECTION, needle: { punctures: 15 } });
    const kit = await plan({ medicine: id, reason: 'clostridia' });
    expect(kit.warnings.map(({ code }) => code)).toEqual(['puncture-limit']);
  });

  test('of a drench or a pour-on has no word of needle, site, skin or drawing back', async () => {
    const drench = await medicine(DRENCH, '1 L');
    const pour = await medicine(
      {
        ...DRENCH,
        name: 'Ruvelin pour-on',
        form: 'pour-on',
        doseLines: [{ id: 'p', route: 'pour-on', rate: { style: 'rate', text: '1 mL per 10 kg' } }],
      },
      '1 L',
    );
    const { equipment } = await desk.ask('set-equipment', {
      what: 'gun',
      name: 'Blue gun',
      capacity: '10 mL',
      graduation: '0.5 mL',
    });
    for (const id of [drench, pour]) {
      const kit = await plan({ medicine: id, reason: 'worms', equipment });
      expect(kit.isInjected).toBe(false);
      expect(kit.change).toBeUndefined();
      expect(kit.items.map(({ what }) => what)).toEqual(['gun-spare']);
      const said = texts([kit.checks, kit.items]).join(' ');
      expect(said).not.toMatch(/needle|sharp|\bsite|skin|draw(ing)? back|inject/i);
      expect(kit.checks.map(({ id: check }) => check)).toContain('gun');
    }
    const oral = await plan({ medicine: drench, reason: 'worms' });
    expect(texts(oral).join(' ')).not.toMatch(/needle|sharps|\bsite|skin|draw(ing)? back|inject/i);
  });
});

describe('checks before starting', () => {
  async function open() {
    const id = await medicine(INJECTION);
    const { session } = await desk.ask('open-session', {
      holding,
      subjects: ewes,
      lines: [{ medicine: id, reason: 'clostridia' }],
      name: 'Spring vaccine',
    });
    return session;
  }

  test('are kept with who and when, and block nothing', async () => {
    const session = await open();
    const before = await desk.ask('session-kit', { session });
    expect(before.checks.map(({ id }) => id)).toEqual([
      'label',
      'weights',
      'weigher',
      'works',
      'needles',
      'air',
      'remedy',
      'skin',
      'hazard',
      'phone',
    ]);
    expect(before.checks.every(({ ticked }) => !ticked)).toBe(true);
    expect(before.checks.find(({ id }) => id === 'hazard')?.why).toContain('It numbs a hand for days.');
    desk.at('2026-05-01T07:30:00.000Z');
    const { open: left } = await desk.ask('check-session', { session, ticked: ['label', 'phone'] });
    expect(left).toHaveLength(8);
    const after = await desk.ask('session-kit', { session });
    expect(after.checks.filter(({ ticked }) => ticked).map(({ id }) => id)).toEqual(['label', 'phone']);
    expect(after.checked).toEqual({ by: 'Isla Thorn', local: '1 May 2026, 08:30' });
    await desk.ask('treat', { session, subject: ewes[0] ?? '' });
  });

  test('a check the work does not have is refused', async () => {
    const session = await open();
    const refused = await desk.refused('check-session', { session, ticked: ['gun'] });
    expect(refused).toMatchObject({ code: 'no-such-check', field: 'ticked' });
  });
});
