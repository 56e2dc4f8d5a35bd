import { afterAll, beforeAll, expect, test } from 'vitest';
import { type DeclareDesk, declareDesk } from './declare-desk.ts';

/** A certificate that is changed, or ends: whom it makes a declaration wrong for, and who waits longer than it lasts. */
let d: DeclareDesk;
let certificate = '';
const soil = (more: object = {}) => ({
  of: `holding:${d.holding}`,
  rules: 'eu-organic' as const,
  name: 'Upland organic',
  from: '2026-01-01',
  ...more,
});
beforeAll(async () => {
  d = await declareDesk();
  ({ certificate } = await d.call('set-certificate', soil()));
});
afterAll(() => d.close());

const text = async () => (await d.call('notices', {})).notices.map((notice) => notice.text);

test('what went as organic is told of when the certificate did not cover that day after all', async () => {
  const { number, declaration } = await d.call('declare', {
    holding: d.holding,
    purpose: 'slaughter',
    content: 'plain',
    destination: 'organic',
    to: 'Abattoir of the Test',
    departs: '2026-03-01T12:00',
    subjects: [{ subject: d.first }, { subject: d.second }],
    signer: d.person,
    answer: 'yes',
  });
  expect(await text()).toEqual([]);
  const changed = await d.call('set-certificate', soil({ certificate, until: '2026-02-15' }));
  expect(changed.notices).toEqual(await text());
  const [first, ...others] = changed.notices;
  expect(others).toEqual([]);
  expect(first).toContain(`To Abattoir of the Test on 1 Mar 2026, 12:00 (no. ${number})`);
  expect(first).toContain(
    'UK 9 999999 00001 and UK 9 999999 00002 were declared clear; after what was written',
  );
  expect(first).toContain('(Certificate Upland organic) its meat may not go as organic now');
  expect(first).toContain('(No organic certificate with known rules covers it)');
  // Told once, it is told; a change that changes nothing more is not told again.
  await d.call('tell-declaration', {
    declaration,
    notices: changed.notices,
    who: 'their office',
    how: 'by telephone',
  });
  expect(await text()).toEqual([]);
  const again = await d.call('set-certificate', soil({ certificate, until: '2026-02-20' }));
  expect([again.notices, await text()]).toEqual([[], []]);
  // Put right again, nothing is wrong any more.
  expect((await d.call('set-certificate', soil({ certificate }))).notices).toEqual([]);
});

test('a certificate struck out is a notice too', async () => {
  const { entries } = await d.call('entries', { limit: 50 });
  const set = entries.filter(({ kind }) => kind === 'certificate-set');
  for (const { entry } of set) await d.call('void', { entry, reason: 'it was for another holding' });
  // The first telling named the same thing, so that nobody has to be told it twice.
  expect(await text()).toEqual([]);
  const { declarations } = await d.call('declarations', {});
  expect(declarations[0]?.told).toHaveLength(1);
  ({ certificate } = await d.call('set-certificate', soil()));
});

test('who waits for an organic date that the certificate does not reach is named with the day, until one follows', async () => {
  await d.drench(d.third, '2026-03-01T08:00');
  // 56 d by the later of the two ways: clear as organic on 27 April.
  const ends = await d.call('set-certificate', soil({ certificate, until: '2026-03-31' }));
  expect(ends.says).toBe(
    'Ends on 31 Mar 2026. 1 head waits for an organic date after that, the last on 27 Apr 2026. ' +
      'No other certificate follows, so none of them may go as organic: write down the next one under Farm when it has come.',
  );
  const waiting = async () =>
    (await d.call('certificates', {})).certificates.map((one) => one.waiting?.heads);
  expect(await waiting()).toEqual([1]);
  // On its own last day it still covers her.
  await d.call('set-certificate', soil({ certificate, until: '2026-04-27' }));
  expect(await waiting()).toEqual([undefined]);
  await d.call('set-certificate', soil({ certificate, until: '2026-03-31' }));
  const { certificate: next } = await d.call('set-certificate', soil({ from: '2026-04-01' }));
  expect(await waiting()).toEqual([undefined, undefined]);
  await d.call('set-certificate', soil({ certificate: next, from: '2026-04-02' }));
  expect(await waiting()).toEqual([1, undefined]);
});
