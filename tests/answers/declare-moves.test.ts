import { afterEach, beforeEach, expect, test } from 'vitest';
import { type DeclareDesk, declareDesk } from './declare-desk.ts';

/** Moves between lots that are written after a declaration was signed: what they carry into it raises a notice. */
let d: DeclareDesk;
let away: string;
let store: string;
beforeEach(async () => {
  d = await declareDesk();
  [away, store] = [await lot('Lambs away', 30), await lot('Store lambs', 20)];
});
afterEach(() => d.close());

async function lot(name: string, heads: number): Promise<string> {
  const made = await d.call('set-lot', {
    holding: d.holding,
    name,
    class: 'lamb',
    heads,
    happened: '2026-01-01',
  });
  await d.call('weigh', { subject: `lot:${made.lot}`, weight: '30 kg', how: 'crate' });
  return made.lot;
}
const drenched = (of: string, happened: string) => d.drench(`lot:${of}`, happened);
const moved = (from: string, to: string, happened: string) =>
  d.call('move-heads', { from, heads: 5, to: { lot: to }, happened });
const declared = (heads: number) =>
  d.call('declare', {
    holding: d.holding,
    to: 'Abattoir of the Test',
    departs: '2026-03-10',
    subjects: [{ subject: `lot:${away}`, heads }],
    signer: d.person,
    answer: 'yes',
  });
const notices = async () => (await d.call('notices', {})).notices.map(({ text }) => text);

test('heads that came into a declared lot from one under withdrawal, written late; the move struck out takes it back', async () => {
  await drenched(store, '2026-02-20');
  await declared(30);
  expect(await notices()).toEqual([]);
  await moved(store, away, '2026-02-25');
  const [only, ...others] = await notices();
  expect(others).toEqual([]);
  expect(only).toContain('Lambs away was declared clear');
  expect(only).toContain('its meat is now held until 21 Mar 2026, 00:00');

  const move = (await d.call('entries', {})).entries.find(({ kind }) => kind === 'lot-moved');
  if (move === undefined) throw new Error('the move is in the journal');
  await d.call('void', { entry: move.entry, reason: 'It was another lot' });
  expect(await notices()).toEqual([]);
});

test('a move of before the treatment brings nothing, and one of after it does', async () => {
  await drenched(store, '2026-02-20');
  await declared(30);
  await moved(store, away, '2026-02-18');
  expect(await notices()).toEqual([]);
  await moved(store, away, '2026-02-20');
  expect(await notices()).toHaveLength(1);
});

test('a treatment written late of a lot that gave heads before, and not of one that gave them before it was treated', async () => {
  await moved(store, away, '2026-02-22');
  await declared(35);
  await drenched(store, '2026-02-24');
  expect(await notices()).toEqual([]);
  await drenched(store, '2026-02-21');
  expect((await notices()).join()).toContain('Lambs away was declared clear');
});
