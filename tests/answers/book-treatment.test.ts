import { afterEach, expect, test } from 'vitest';
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

test('one line of the record opens with its draws, holds and what striking it out would do', async () => {
  const d = await opened();
  const { administrations } = await d.drench(d.first);
  const administration = administrations[0] ?? '';
  const line = await d.call('treatment', { administration });
  expect(line).toMatchObject({
    stands: true,
    subject: d.first,
    weight: '62 kg',
    by: 'Siân Ó Briain-Łukasz',
    draws: [{ batch: 'B-17', amount: '1.3 mL', left: '998.7 mL' }],
    versions: [{ dose: '1.3 mL', state: 'stands' }],
  });
  expect(line.holds.find((hold) => hold.produce === 'meat')?.untilText).toBe('30 Mar 2026, 00:00');
  expect(line.working.map((each) => each.text).join(' ')).toContain('62 kg × 0.2 mg');
  expect(line.ifStruck[0]).toMatch(/^1\.3 mL counts as back in /);
  expect(line.ifStruck[1]).toBe('Its holds end, and nothing else holds the meat of UK 9 999999 00001.');
});

test('a second hold is named before the first treatment is struck out', async () => {
  const d = await opened();
  await d.drench(d.first, '2026-02-20');
  const { administrations } = await d.drench(d.first);
  const { ifStruck } = await d.call('treatment', { administration: administrations[0] ?? '' });
  expect(ifStruck[1]).toContain('stays held: Meat held until 21 Mar 2026, 00:00');
});

test('a declaration that would be touched is named before anything is struck out, corrected or written', async () => {
  const d = await opened();
  const { administrations } = await d.drench(d.first, '2026-01-01');
  const administration = administrations[0] ?? '';
  const ask = {
    holding: d.holding,
    to: 'Abattoir of the Test',
    departs: '2026-03-10',
    subjects: [{ subject: d.first }],
    signer: d.person,
    answer: 'yes' as const,
  };
  const signed = await d.call('declare', ask);
  const { ifStruck } = await d.call('treatment', { administration });
  const told = ifStruck.find((text) => text.includes('no. 1'));
  expect(told).toContain('does not stand any more');
  const moved = await d.call('preview-correction', { administration, local: '2026-02-20' });
  expect(moved.notices[0]).toContain('its meat is now held until 21 Mar 2026');
  expect((await d.call('notices', {})).notices).toEqual([]);
  const { declarations } = await d.call('declarations', { declaration: signed.declaration });
  expect(declarations).toMatchObject([
    { number: 1, checkCode: signed.checkCode, signer: 'Siân Ó Briain-Łukasz', signed: '2026-03-01' },
  ]);
  await d.call('cancel-declaration', { declaration: signed.declaration, why: 'Another day' });
  const after = await d.call('declarations', {});
  expect(after.declarations[0]?.cancelled).toMatchObject({ why: 'Another day', by: 'Siân Ó Briain-Łukasz' });
});

test('a preview of a correction says dose, stock and hold as the correction then writes them', async () => {
  const d = await opened();
  const { administrations } = await d.drench(d.first);
  const administration = administrations[0] ?? '';
  const seq = (await d.call('farm', {})).head.seq;
  const preview = await d.call('preview-correction', { administration, given: '13 mL' });
  expect(preview).toMatchObject({ quantity: '13 mL', draws: [{ amount: '13 mL', left: '987 mL' }] });
  expect((await d.call('farm', {})).head.seq).toBe(seq);
  const asked = await d.call('preview-correction', { administration, weight: '70 kg' });
  expect(asked.questions.join(' ')).toContain('1.3 mL was recorded; for 70 kg it is 1.4 mL');
  const written = await d.call('correct-treatment', { administration, given: '13 mL', reason: 'Wrong mark' });
  expect(written).toMatchObject({ quantity: preview.quantity, until: preview.until });
  const line = await d.call('treatment', { administration });
  expect(line.draws).toEqual(preview.draws);
  expect(line.versions.map((row) => row.state)).toEqual(['replaced', 'stands']);
});

test('a line that was struck out still opens by its entry, and cannot be opened as another', async () => {
  const d = await opened();
  const { administrations } = await d.drench(d.first);
  const administration = administrations[0] ?? '';
  const { entry } = await d.call('treatment', { administration });
  await d.call('void', { entry, reason: 'Wrong ewe' });
  const line = await d.call('treatment', { administration, entry });
  expect(line).toMatchObject({ stands: false, ifStruck: [], versions: [{ state: 'voided' }] });
  expect(line.holds.length).toBeGreaterThan(0);
  const none = { code: 'no-such-treatment' };
  expect(await d.refused('treatment', { administration })).toMatchObject(none);
  expect(await d.refused('treatment', { administration: 'other', entry })).toMatchObject(none);
  expect(await d.refused('preview-correction', { administration })).toMatchObject(none);
});
