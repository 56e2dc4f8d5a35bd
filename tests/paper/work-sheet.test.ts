import { afterEach, beforeEach, expect, test } from 'vitest';
import { renderPaper } from '../../src-main/paper/render.ts';
import type { WorkSheet } from '../../src-main/paper/work-sheet.ts';
import type { Ask } from '../../src-shared/calls/all.ts';
import { DRENCH, farmDesk } from '../answers/farm-desk.ts';
import { madeUpHead } from './made-up.ts';
import { readPdf } from './reading.ts';

let desk: ReturnType<typeof farmDesk>;
let holding = '';

beforeEach(async () => {
  desk = farmDesk('2026-11-01T09:00:00.000Z');
  ({ holding } = await desk.started());
});
afterEach(() => desk.close());

type Terms = Ask<'check-label'>['terms'];
const RULES: Terms['notIf'] = [
  { id: 'n1', code: 'lighter-than', value: '40 kg' },
  { id: 'n2', code: 'condition-under', value: '1.5', says: 'Not for thin sheep' },
];
const SHOT: Terms = {
  ...DRENCH,
  name: 'Tarnicol injection',
  form: 'injection',
  actives: [{ substance: 'tarnicolate', strength: '10 mg/mL' }],
  doseLines: [
    { id: 's1', route: 'subcutaneous', rate: { style: 'rate', text: '1 mg/kg' }, mostPerSite: '4 mL' },
  ],
  hazards: { people: 'Irritates the eyes' },
};
const TAG = (n: number) => `UK 0 123456 ${String(n).padStart(5, '0')}`;

async function medicine(terms: Terms, number: string) {
  const made = await desk.ask('set-label', { act: 'first', terms });
  await desk.ask('receive-batch', {
    medicine: made.medicine,
    number,
    expiry: '2027-03',
    packs: [{ count: 1, size: '1 L' }],
  });
  return made.medicine;
}

async function ewe(n: number, weight?: string): Promise<`animal:${string}`> {
  const { animal } = await desk.ask('set-animal', { holding, tag: TAG(n), class: 'ewe' });
  const subject = `animal:${animal}` as const;
  if (weight !== undefined) await desk.ask('weigh', { subject, weight, how: 'crate' });
  return subject;
}

async function sheetOf(session: string) {
  const made = await desk.ask('work-sheet', { session });
  const { base64 } = await desk.ask('paper', { paper: made.paper });
  return { made, base64, ...(await readPdf(Buffer.from(base64, 'base64'))) };
}

const NEEDLE_WORDS = /needle|syringe|\bsite|place, side|in places|inject|draw(ing)? back/i;

test('the sheet of a drench names everyone with weight, dose and checks, and who is left out with why', async () => {
  const drench = await medicine({ ...DRENCH, notIf: RULES, shakeWell: true }, 'B-77');
  const subjects = [];
  for (let n = 1; n <= 61; n += 1) subjects.push(await ewe(n, `${50 + n / 10} kg`));
  const light = await ewe(62, '39.5 kg');
  const toWeigh = await ewe(63);
  const { session } = await desk.ask('open-session', {
    holding,
    name: 'Autumn worming',
    subjects: [...subjects, light, toWeigh],
    lines: [{ medicine: drench, reason: 'worms' }],
  });
  const done = subjects[0] ?? '';
  await desk.ask('treat', { session, subject: done });
  const { made, base64, text, pages, width, height } = await sheetOf(session);
  expect([made.rows, made.leftOut, Math.round(width), Math.round(height)]).toEqual([61, 1, 842, 595]);

  const body = text.slice(text.indexOf('Who, and how much'), text.indexOf('Treated and not on this sheet'));
  expect(body.match(/UK 0 123456 \d{5}/g)).toEqual(
    [...Array.from({ length: 60 }, (_, i) => TAG(i + 2)), TAG(63)].flatMap((tag) => [tag]),
  );
  // What is to be looked at in all of them stands once, numbered; what only one has stands beside it.
  expect(text).toContain('1 Not for thin sheep; the book keeps no body condition');
  expect(body).not.toContain('Not for thin sheep');
  expect(body.match(/mL 1 /g)).toHaveLength(60);
  expect(body).toContain('56.1 kg crate, 1 Nov 2026 5.7 mL');
  expect(body.slice(body.indexOf(TAG(63)))).toMatch(
    /not known .*weigh it; then work out the dose 1 Not under 40 kg; the book has no weight/,
  );
  expect(text).toContain(`${TAG(62)} , ewe Not under 40 kg; it is 39.5 kg, weighed 1 Nov 2026`);
  for (const said of [
    'All sheep. For any sheep, by mouth: 1 milligram for each kilogram',
    'B-77-1, batch B-77, use by',
    '28 Nov 2026',
    'Shake well before use.',
    'By the label: Not under 40 kg. Not for thin sheep.',
    'Meat: 28 days after the last dose.',
    '1 recorded already, not on this sheet',
    'Heads through',
  ]) {
    expect(text).toContain(said);
  }
  expect(text).not.toMatch(NEEDLE_WORDS);
  expect(pages.length).toBeGreaterThan(3);
  pages.forEach((page, i) => {
    expect(page).toContain(`Page ${i + 1} of ${pages.length}`);
    expect(page).toContain('Work sheet: Autumn worming');
    expect(page).not.toContain('DEMO');
    if (page.includes(TAG(40))) expect(page).toContain('Look first');
  });
  expect((await sheetOf(session)).base64).toBe(base64);
});

test('an injection has its places, its needles to count, and who came to be barred since the plan', async () => {
  const shot = await medicine(
    {
      ...SHOT,
      notIf: [{ id: 'n1', code: 'same-substance-within', value: '28 d', says: 'Not again within 28 days' }],
    },
    'S-1',
  );
  const drench = await medicine(
    { ...DRENCH, actives: [{ substance: 'tarnicolate', strength: '10 mg/mL' }] },
    'D-1',
  );
  const vermolin = await medicine({ ...DRENCH, name: 'Vermolin drench' }, 'V-1');
  const [stays, barred] = [await ewe(1, '71 kg'), await ewe(2, '60 kg')];
  const { session } = await desk.ask('open-session', {
    holding,
    name: 'Foot work',
    subjects: [stays, barred],
    lines: [
      { medicine: shot, reason: 'lameness', syringe: { capacity: '10 mL', graduation: '0.2 mL' } },
      { medicine: vermolin, reason: 'worms' },
    ],
    sharpsOut: 12,
  });
  await desk.ask('treat', { subject: barred, single: { medicine: drench, reason: 'worms' } });
  await desk.ask('weigh', { subject: stays, weight: '75 kg', how: 'scale' });
  const { text, made } = await sheetOf(session);
  expect([made.rows, made.leftOut]).toEqual([2, 1]);
  expect(text).toContain('Tarnicol injection: 7.6 mL in places: 3.8 mL + 3.8 mL planned was 7.2 mL');
  expect(text).toContain('75 kg scale, 1 Nov 2026');
  expect(text).toContain(
    `${TAG(2)} , ewe Tarnicol injection: since it was planned: Not again within 28 days; it had Calverol drench (tarnicolate) on 1 Nov 2026, the same day`,
  );
  for (const said of [
    'Danger to people: Irritates the eyes.',
    'Needles out: 12 by the plan',
    'Needles back',
    'Place, side',
  ]) {
    expect(text).toContain(said);
  }
  await desk.ask('close-session', { session, headsThrough: 0 });
  expect((await desk.refused('work-sheet', { session })).code).toBe('session-closed');
});

const ROW: WorkSheet['rows'][number] = {
  shown: 'ZZ 000001',
  class: 'lamb',
  heads: 1,
  weight: '30 kg',
  known: 'crate, 1 Nov 2026',
  doses: [{ medicine: '', dose: '3 mL', places: '', note: '' }],
  checks: [],
};
function madeUpSheet(rows: WorkSheet['rows'], more: Partial<WorkSheet['head']> = {}): WorkSheet {
  return {
    head: madeUpHead(more),
    session: { name: 'Worming', opened: '1 Nov 2026, 09:00', recorded: 0, mark: '' },
    medicines: [
      {
        name: 'Vermolin drench',
        rule: 'For any sheep, by mouth.',
        reason: 'worms',
        needs: '3 mL',
        bottles: [],
        from: '',
        isInjected: false,
        label: [],
        periods: [],
      },
    ],
    rows,
    leftOut: [],
  };
}

test('a demo sheet says DEMO on every page, a very long row is printed to its end, letter paper is letter paper', async () => {
  const checks = Array.from({ length: 400 }, (_, i) => `word${i}`);
  const rows = [
    ROW,
    { ...ROW, shown: 'ZZ 000002', checks: [checks.join(' ')] },
    { ...ROW, shown: 'ZZ 000003' },
  ];
  const data = madeUpSheet(rows, { demo: true, size: 'letter' });
  const { text, pages, width, height } = await readPdf(await renderPaper({ paper: 'work-sheet', data }));
  expect([width, height]).toEqual([792, 612]);
  for (const page of pages) expect(page).toContain('DEMO');
  expect(text).toContain('word399');
  expect(text).toContain('ZZ 000003');
  expect(text).toContain('Nobody was left out.');
});

test('a sheet of more rows than one paper holds is refused in a sentence', async () => {
  const data = madeUpSheet(Array.from({ length: 20_001 }, () => ROW));
  await expect(renderPaper({ paper: 'work-sheet', data })).rejects.toMatchObject({ code: 'paper-too-long' });
});
