import { afterEach, beforeEach, expect, test } from 'vitest';
import type { Ask } from '../../src-shared/calls/all.ts';
import { readPdf } from '../paper/reading.ts';
import { DRENCH, type FarmDesk, farmDesk } from './farm-desk.ts';

/** Invented. */
const OILY = {
  name: 'Elvaren oil vaccine',
  form: 'injection',
  kind: 'volume',
  purpose: 'vaccine',
  flowClass: 'oily',
  doseLines: [{ id: 'sc', route: 'subcutaneous', rate: { style: 'rate', text: '1 mL per head' } }],
  periods: [{ produce: 'meat', says: 'zero' }],
  hazards: { people: 'Contains mineral oil. A finger can be lost.', pregnantWomen: 'Must not handle it.' },
} satisfies Ask<'check-label'>['terms'];
const WATERY = {
  ...OILY,
  name: 'Orvandil injection',
  purpose: 'antibiotic',
  flowClass: 'watery',
  hazards: {},
} satisfies Ask<'check-label'>['terms'];

let farm: FarmDesk;
let holding: string;
beforeEach(async () => {
  farm = farmDesk();
  ({ holding } = await farm.started());
});
afterEach(() => farm.close());

const label = async (terms: Ask<'check-label'>['terms']) =>
  (await farm.ask('set-label', { act: 'first', terms })).medicine;
async function ewe() {
  const { animal } = await farm.ask('set-animal', { holding, tag: 'UK 0 700123 00001', class: 'ewe' });
  const subject = `animal:${animal}`;
  await farm.ask('weigh', { subject, weight: '60 kg', how: 'scale' });
  return subject;
}
async function session(subject: string, ...medicines: string[]) {
  const lines = medicines.map((medicine) => ({ medicine, source: 'vet' as const, reason: 'yearly' }));
  return (await farm.ask('open-session', { holding, name: 'Spring work', subjects: [subject], lines }))
    .session;
}
async function read(hash: string) {
  const { base64 } = await farm.ask('paper', { paper: hash });
  return readPdf(Buffer.from(base64, 'base64'));
}

test('what is in work comes first, and of that oil, vaccines and what is injected; then all the rest', async () => {
  const subject = await ewe();
  const drench = await label(DRENCH);
  const watery = await label(WATERY);
  const oily = await label(OILY);
  await label({ ...OILY, name: 'Another oil' });
  await session(subject, drench, watery, oily);
  const { medicines, isInjected } = await farm.ask('emergency', {});
  expect(medicines.map(({ name, isInWork }) => [name, isInWork])).toEqual([
    ['Elvaren oil vaccine', true],
    ['Orvandil injection', true],
    ['Calverol drench', true],
    ['Another oil', false],
  ]);
  expect(isInjected).toBe(true);
});

test('the numbers of the farm are kept, and changing the business does not lose them', async () => {
  const numbers = { call: '112', doctor: 'Dr Q. Hollin, 01000 000001', poison: '01000 000002' };
  await farm.ask('set-emergency-numbers', { ...numbers, place: 'Gate at the lime kiln' });
  await farm.ask('set-business', { name: 'Thistle Bank & Co', address: '1 Thistle Bank' });
  expect((await farm.ask('emergency', {})).numbers).toEqual({ ...numbers, place: 'Gate at the lime kiln' });
  // What is left out the next time is taken out.
  await farm.ask('set-emergency-numbers', { call: '112' });
  expect((await farm.ask('farm', {})).business).toMatchObject({
    name: 'Thistle Bank & Co',
    emergency: { call: '112' },
  });
});

test('the sheet is one page: numbers, first steps, the label, what to take along', async () => {
  const subject = await ewe();
  const id = await session(subject, await label(OILY), await label(WATERY), await label(DRENCH));
  await farm.ask('set-emergency-numbers', { call: '112', doctor: 'Dr Q. Hollin, 01000 000001' });
  await farm.ask('set-person', { name: 'Vera Quill', roles: ['vet'], phone: '01000 000003' });
  const { paper } = await farm.ask('emergency-paper', { session: id });
  const { pages, text } = await read(paper);
  expect(pages).toHaveLength(1);
  for (const said of [
    'A person was injected or splashed',
    '112',
    'Dr Q. Hollin, 01000 000001',
    'Vera Quill',
    'CONTAINS OIL, VACCINE',
    'A finger can be lost. Pregnant women: Must not handle it.',
    'Nothing about people was typed from its label: read the leaflet.',
    'Take this sheet, the bottle and its leaflet with you.',
    'Emergency sheet: Spring work',
    'Where on the body',
  ]) {
    expect(text).toContain(said);
  }
  expect(text.indexOf('Elvaren oil vaccine')).toBeLessThan(text.indexOf('Orvandil injection'));
});

test('a sheet of ten medicines with long words on people leaves nothing out', async () => {
  const long =
    'If it was injected seek help at once and show the leaflet to the doctor, also with a drop. '.repeat(4);
  const medicines: string[] = [];
  for (let n = 1; n <= 10; n += 1) {
    medicines.push(
      await label({ ...OILY, name: `Oil ${n}`, hazards: { people: `${long.trim()} End of ${n}` } }),
    );
  }
  const { text } = await read((await farm.ask('emergency-paper', { medicines })).paper);
  for (let n = 1; n <= 10; n += 1) expect(text).toContain(`End of ${n}`);
  const no = await farm.refused('emergency-paper', {});
  expect([no.code, no.field]).toEqual(['nothing-in-work', 'medicines']);
});

test('in oral work neither sheet nor steps have a word of needles', async () => {
  const subject = await ewe();
  await label(OILY);
  const id = await session(subject, await label(DRENCH));
  expect((await farm.ask('emergency', { session: id })).isInjected).toBe(false);
  const { text } = await read((await farm.ask('emergency-paper', { session: id })).paper);
  expect(text).toContain('A person swallowed it, or it got on skin or eyes');
  expect(text).not.toMatch(/needle|\bsites?\b|draw(?:ing|n)? back|inject/i);
  const sheet = await read((await farm.ask('work-sheet', { session: id })).paper);
  expect(sheet.text).toContain('Calverol drench');
  expect(sheet.text).not.toMatch(/needle|\bsites?\b|draw(?:ing|n)? back|inject/i);
});

test('an exposure is in the book with what was known, and says what is missing', async () => {
  const medicine = await label(OILY);
  await farm.ask('record-exposure', {
    who: 'Bram Field',
    how: 'injected',
    medicine,
    batch: 'EO-4',
    amount: 'about 0.5 mL',
    where: 'left thumb',
    done: 'Washed, driven to hospital by Isla.',
    told: 'hospital, poison line',
    happened: '2026-04-30T10:20',
  });
  const { exposures } = await farm.ask('exposures', {});
  expect(exposures).toHaveLength(1);
  expect(exposures[0]).toMatchObject({
    who: 'Bram Field',
    product: 'Elvaren oil vaccine',
    where: 'left thumb',
    local: '30 Apr 2026, 10:20',
    by: 'Isla Thorn',
  });
  const { entries } = await farm.ask('entries', {});
  expect(entries[0]?.text).toBe('Bram Field came into contact with Elvaren oil vaccine (injected)');
  const no = await farm.refused('record-exposure', { who: 'Bram Field', how: 'skin', done: 'Washed.' });
  expect([no.code, no.field]).toEqual(['what-was-it', 'medicine']);
});

test('a reaction belongs to its treatment and its animal, and is printed for the vet', async () => {
  const subject = await ewe();
  const medicine = await label(WATERY);
  const { administrations } = await farm.ask('treat', {
    subject,
    single: { medicine, source: 'vet', batch: 'OW-7', reason: 'lame' },
    site: 'neck',
    side: 'left',
    needle: '18G 1 in',
    happened: '2026-04-30T09:00',
  });
  const administration = administrations[0] ?? '';
  const before = await farm.refused('record-reaction', {
    administration,
    what: 'reaction',
    seen: 'Fell over',
    happened: '2026-04-30T08:59',
  });
  expect([before.code, before.field]).toEqual(['before-the-treatment', 'happened']);
  const { reaction } = await farm.ask('record-reaction', {
    administration,
    what: 'suspected',
    seen: 'Swelling as large as an egg at the place',
    outcome: 'getting-better',
    done: 'Left alone, looked at twice a day.',
    told: 'the vet, by telephone',
    // The day of the treatment, without a time: it may well have been after it.
    happened: '2026-04-30',
  });
  for (const asked of [{ administration }, { subject }, {}]) {
    const { reactions } = await farm.ask('reactions', asked);
    expect(reactions.map((one) => [one.reaction, one.batch, one.what, one.stands])).toEqual([
      [reaction, 'OW-7', 'suspected', true],
    ]);
  }
  const { text, pages } = await read((await farm.ask('reaction-paper', { reaction })).paper);
  expect(pages).toHaveLength(1);
  for (const said of [
    'Suspected reaction',
    'Swelling as large as an egg at the place',
    'UK 0 700123 00001',
    'OW-7',
    '30 Apr 2026, 09:00, 1 mL in all',
    'subcutaneous, left neck, needle 18G 1 in',
    'getting better',
    'the vet, by telephone',
  ]) {
    expect(text).toContain(said);
  }
  // Struck out, the treatment no longer stands under it; the report of what was seen stays.
  const { entry } = await farm.ask('treatment', { administration });
  await farm.ask('void', { entry, reason: 'It was another ewe' });
  expect((await farm.ask('reactions', { subject })).reactions[0]?.stands).toBe(false);
});

test('a reaction of a lot counts heads, never more than were treated', async () => {
  const medicine = await label(WATERY);
  const { lot } = await farm.ask('set-lot', { holding, name: 'Hill lambs', class: 'lamb', heads: 40 });
  const subject = `lot:${lot}`;
  const { administrations } = await farm.ask('treat', {
    subject,
    single: { medicine, source: 'vet', reason: 'yearly' },
    happened: '2026-04-28T09:00',
  });
  const report = {
    administration: administrations[0] ?? '',
    what: 'no-effect',
    seen: 'Still coughing',
  } as const;
  expect((await farm.refused('record-reaction', { ...report, heads: 41 })).field).toBe('heads');
  await farm.ask('record-reaction', { ...report, heads: 3 });
  expect((await farm.ask('reactions', { subject })).reactions[0]).toMatchObject({
    heads: 3,
    shown: 'Hill lambs',
  });
});

test('folded anew, exposures and reactions are the same', async () => {
  const subject = await ewe();
  const medicine = await label(WATERY);
  const { administrations } = await farm.ask('treat', {
    subject,
    single: { medicine, source: 'vet', reason: 'lame' },
  });
  await farm.ask('record-reaction', {
    administration: administrations[0] ?? '',
    what: 'reaction',
    seen: 'Shook',
  });
  await farm.ask('record-exposure', { who: 'Bram Field', how: 'skin', medicine, done: 'Washed.' });
  const rows = "SELECT what, subject, name FROM record WHERE what IN ('exposure', 'reaction') ORDER BY what";
  const before = await farm.peek((store) => store.read.all(rows));
  expect(before).toHaveLength(2);
  await farm.refold((store) => expect(store.read.all(rows)).toEqual(before));
});
