import { afterEach, beforeEach, expect, test } from 'vitest';
import type { Ask } from '../../src-shared/calls/all.ts';
import { DRENCH, farmDesk } from '../answers/farm-desk.ts';
import { readPdf } from './reading.ts';

/** An injection under the skin of an invented substance, without a withdrawal period: only a needle holds. */
const SHOT = {
  name: 'Belvoran injection',
  form: 'injection',
  kind: 'volume',
  purpose: 'vaccine',
  flowClass: 'watery',
  shakeWell: true,
  doseLines: [{ id: 'sc', route: 'subcutaneous', rate: { style: 'rate', text: '2 mL per head' } }],
  periods: [{ produce: 'meat', says: 'zero' }],
  inUse: '10 h',
} satisfies Ask<'check-label'>['terms'];

let desk: ReturnType<typeof farmDesk>;
let holding = '';
let signer = '';
const ewes: `animal:${string}`[] = [];
const TAG = (n: number) => `UK 0 123456 ${String(n).padStart(5, '0')}`;
const one = (n: number) => ewes[n - 1] ?? 'animal:none';

beforeEach(async () => {
  desk = farmDesk('2026-05-01T07:00:00.000Z');
  ({ holding, person: signer } = await desk.started());
  ewes.length = 0;
  for (const n of [1, 2, 3]) {
    const { animal } = await desk.ask('set-animal', { holding, tag: TAG(n), class: 'ewe' });
    ewes.push(`animal:${animal}`);
    await desk.ask('weigh', { subject: `animal:${animal}`, weight: '60 kg', how: 'crate' });
  }
});
afterEach(() => desk.close());

async function medicine(terms: Ask<'check-label'>['terms']) {
  const made = await desk.ask('set-label', { act: 'first', terms });
  await desk.ask('receive-batch', {
    medicine: made.medicine,
    number: 'V-1',
    expiry: '2027-03',
    packs: [{ count: 1, size: '100 mL' }],
  });
  return made.medicine;
}
async function textOf(paper: string): Promise<string> {
  const { base64 } = await desk.ask('paper', { paper });
  return (await readPdf(Buffer.from(base64, 'base64'))).text;
}
const opened = async (terms: Ask<'check-label'>['terms'], more: { sharpsOut?: number } = {}) =>
  desk.ask('open-session', {
    holding,
    name: 'Spring work',
    subjects: ewes,
    lines: [{ medicine: await medicine(terms), reason: 'clostridia' }],
    ...more,
  });

test('the declaration says of an animal that may carry a needle: where, how marked, who was told; of the others nothing', async () => {
  await desk.ask('report-needle', {
    subject: one(1),
    needle: '18G 1/2 in',
    site: 'rump',
    side: 'right',
    found: 'not-found',
    mark: { colour: 'red', place: 'back' },
  });
  const { paper } = await desk.ask('declare', {
    holding,
    to: 'Brackwater Meats',
    departs: '2026-05-20',
    subjects: [one(1), one(2)].map((subject) => ({ subject })),
    accompanied: [{ subject: one(1), mark: 'red cross on the back', told: 'Their office, by telephone' }],
    signer,
    answer: 'yes',
  });
  const text = await textOf(paper);
  const row = text.slice(text.indexOf(TAG(1)), text.indexOf(TAG(2)));
  expect(row).toContain(
    'Accompanied: may carry a broken needle. Where: a needle 18G 1/2 in, front third of the rump, right side, noticed 1 May 2026',
  );
  expect(row).toContain('Marked: red cross on the back. Abattoir told: Their office, by telephone.');
  expect(text.match(/Accompanied:/g)).toHaveLength(1);
  expect(text).toContain(`${TAG(1)} goes accompanied`);
});

test('the work sheet has the needle with its hub and technique, when to change, the kit with what is short, and every check', async () => {
  await desk.ask('set-house-rules', { holding, changeEvery: 1 });
  await desk.ask('set-consumable', { what: 'needle', gauge: '18', lengthIn: '1/2', count: 4 });
  const { session } = await opened(SHOT, { sharpsOut: 6 });
  const kit = await desk.ask('session-kit', { session });
  const text = await textOf((await desk.ask('work-sheet', { session })).paper);
  expect(text).toMatch(/18G 1\/2 in \(pink hub where it has a colour\)/);
  expect(text).toContain('Lift a fold of skin');
  // 3 animals, 1 for drawing off, 2 spare; 4 in the drawer.
  expect(text).toContain('6 × needle 18G 1/2 in 2 short: 4 in the drawer.');
  expect(text).toContain('a new needle for every animal');
  expect(kit.checks.length).toBe(10);
  for (const { says } of kit.checks) expect(text).toContain(says);
  expect(text).toContain('Needles out: 6 by the plan');
});

test('the sheet of a drench has its checks and what to take along, and no needle', async () => {
  const { session } = await opened(DRENCH);
  const text = await textOf((await desk.ask('work-sheet', { session })).paper);
  expect(text).toContain('Look before starting');
  expect(text).not.toMatch(/needle|sharp|syringe|\bsite\b|inject|draw(?:ing|n)? back|hub/i);
});
