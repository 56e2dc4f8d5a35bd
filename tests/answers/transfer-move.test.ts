import { afterAll, beforeAll, expect, test } from 'vitest';
import { type DeclareDesk, declareDesk } from './declare-desk.ts';

/** A transfer paper moves nobody by itself: the move is a deed of its own, and struck out like any entry. */
let d: DeclareDesk;
let other = '';
let lambs: `lot:${string}`;

beforeAll(async () => {
  d = await declareDesk();
  ({ holding: other } = await d.call('set-holding', {
    name: 'Blaen y Nant',
    number: '99/999/0043',
    address: 'Cwm Uchaf',
    zone: 'Europe/London',
    law: 'gb',
  }));
  const { lot } = await d.call('set-lot', {
    holding: d.holding,
    name: 'Fat lambs',
    class: 'lamb',
    heads: 20,
  });
  lambs = `lot:${lot}`;
});
afterAll(() => d.close());

const transfer = async (
  subjects: readonly { subject: string; heads?: number }[],
  departs = '2026-03-01',
): Promise<string> => {
  const { declaration } = await d.call('declare', {
    holding: d.holding,
    purpose: 'transfer',
    to: 'Blaen y Nant',
    toHolding: other,
    departs,
    subjects: subjects.map((each) => ({ ...each, subject: each.subject as `animal:${string}` })),
    signer: d.person,
    answer: 'yes',
  });
  return declaration;
};
const standing = async (declaration: string) =>
  (await d.call('declarations', { declaration })).declarations[0]?.transfer;
const holdingOf = async (subject: string) =>
  (await d.call('subject', { subject: subject as `animal:${string}` })).holding;

test('signed it moves nobody; the move takes just those on it, holds and all; struck out they are back', async () => {
  await d.drench(d.first);
  const declaration = await transfer([{ subject: d.first }, { subject: d.second }]);
  expect(await standing(declaration)).toEqual({
    from: 'Hafod-y-Gwynt',
    to: 'Blaen y Nant',
    isStillHere: false,
  });
  expect(await holdingOf(d.first)).toBe(d.holding);
  const before = (await d.call('subject', { subject: d.first as `animal:${string}` })).holds;
  expect(await d.call('move-declared', { declaration })).toEqual({ heads: 2, left: [] });
  expect([await holdingOf(d.first), await holdingOf(d.second), await holdingOf(d.third)]).toEqual([
    other,
    other,
    d.holding,
  ]);
  expect((await d.call('subject', { subject: d.first as `animal:${string}` })).holds).toEqual(before);
  const moved = (await standing(declaration))?.moved;
  expect(moved).toMatchObject({ local: '2026-03-01', heads: 2, notMoved: [], goneOn: [], parts: [] });
  expect(await d.refused('move-declared', { declaration })).toMatchObject({ code: 'already-moved' });
  if (moved === undefined) throw new Error('it is moved');
  await d.call('void', { entry: moved.entry, reason: 'They stayed' });
  expect(await holdingOf(d.first)).toBe(d.holding);
  expect((await standing(declaration))?.moved).toBeUndefined();
  expect((await standing(declaration))?.takenBack).toMatchObject({ why: 'They stayed', on: '1 Mar 2026' });
  await d.call('move-declared', { declaration });
  expect(await standing(declaration)).toMatchObject({ moved: { heads: 2 } });
  expect((await standing(declaration))?.takenBack).toBeUndefined();
  // The paper is cancelled: the move stays, and that is seen.
  await d.call('cancel-declaration', { declaration, why: 'Wrong number' });
  expect(await holdingOf(d.first)).toBe(other);
  expect(await standing(declaration)).toMatchObject({ moved: { heads: 2 } });
});

test('heads of a lot that stays are split off, and keep what holds the lot', async () => {
  const declaration = await transfer([{ subject: lambs, heads: 12 }]);
  await d.call('treat', {
    subject: lambs,
    given: '2 mL',
    single: { medicine: d.medicine, reason: 'worms', source: 'vet' },
  });
  expect(await d.call('move-declared', { declaration })).toEqual({ heads: 12, left: [] });
  const said = (await standing(declaration))?.moved;
  expect(said).toMatchObject({
    heads: 12,
    notMoved: [],
    parts: [{ shown: 'Fat lambs, to Blaen y Nant', heads: 12 }],
  });
  const part = said?.parts[0]?.subject ?? '';
  expect([await holdingOf(part), await holdingOf(lambs)]).toEqual([other, d.holding]);
  const heads = async (subject: string) =>
    (await d.call('subject', { subject: subject as `lot:${string}` })).who.heads;
  expect([await heads(part), await heads(lambs)]).toEqual([12, 8]);
  expect((await d.call('subject', { subject: part as `lot:${string}` })).verdicts[0]?.state).not.toBe(
    'clear',
  );
});

test('who is not there as the paper says is named and left out; a paper of another sort, or of later, moves nobody', async () => {
  const declaration = await transfer([{ subject: d.third }, { subject: lambs }]);
  await d.call('depart', { subjects: [{ subject: d.third as `animal:${string}`, heads: 1 }], how: 'died' });
  const asked = await d.refused('move-declared', { declaration });
  expect(asked).toMatchObject({ code: 'ask:not-all-move' });
  expect(asked.message).toContain('UK 9 999999 00003 is not there any more');
  const reply = await d.call('move-declared', { declaration, confirmed: ['not-all-move'] });
  expect(reply).toMatchObject({ heads: 8, left: [{ why: 'is not there any more' }] });
  expect((await standing(declaration))?.moved?.notMoved).toEqual(['UK 9 999999 00003']);
  const { animal } = await d.call('set-animal', {
    holding: d.holding,
    tag: 'UK 9999999 00009',
    class: 'ewe',
  });
  const subject = `animal:${animal}`;
  const later = await transfer([{ subject }], '2026-03-03');
  expect(await standing(later)).toMatchObject({ isStillHere: true });
  expect(await d.refused('move-declared', { declaration: later })).toMatchObject({
    code: 'not-left-yet',
    message: 'They leave only on 3 Mar 2026.',
  });
  await d.call('cancel-declaration', { declaration: later, why: 'Not sold' });
  expect(await d.refused('move-declared', { declaration: later })).toMatchObject({
    code: 'declaration-cancelled',
  });
  const { declaration: toShear } = await d.call('declare', {
    holding: d.holding,
    purpose: 'shearing',
    to: 'The shearers',
    departs: '2026-03-02',
    subjects: [{ subject: subject as `animal:${string}` }],
    signer: d.person,
    answer: 'yes',
  });
  expect(await d.refused('move-declared', { declaration: toShear })).toMatchObject({
    code: 'not-a-transfer',
  });
  expect(await d.refused('move-declared', { declaration: 'none' })).toMatchObject({
    code: 'no-such-declaration',
    field: 'declaration',
  });
});

test('changed after the time on the paper, they are still on the other holding once they are moved', async () => {
  const { animal } = await d.call('set-animal', {
    holding: d.holding,
    tag: 'UK 9999999 00010',
    class: 'ewe',
  });
  const subject = `animal:${animal}`;
  const declaration = await transfer([{ subject }], '2026-03-01T09:30');
  d.at('2026-03-01T12:00:00.000Z');
  await d.call('set-animal', { animal, holding: d.holding, tag: 'UK 9999999 00011', class: 'ewe' });
  await d.call('move-declared', { declaration });
  expect(await holdingOf(subject)).toBe(other);
});
