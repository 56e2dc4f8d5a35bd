import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readBookCsv, writeBookCsv } from '../../src-main/exchange/book-csv.ts';
import type { Ask } from '../../src-shared/calls/all.ts';
import { readPdf } from '../paper/reading.ts';
import { DRENCH, type FarmDesk, farmDesk, one } from './farm-desk.ts';

/** A prescribed injection of an invented substance. */
const JAB = {
  ...DRENCH,
  name: 'Ombrium injection',
  form: 'injection',
  purpose: 'antibiotic',
  prescription: 'vet-prescription',
  actives: [{ substance: 'ombrium', strength: '10 mg/mL' }],
  doseLines: [
    {
      id: 'd1',
      title: 'All sheep',
      route: 'subcutaneous',
      rate: { style: 'rate', text: '1 mg/kg', perVolume: '1 mL per 10 kg' },
    },
  ],
} satisfies Ask<'check-label'>['terms'];

let desk: FarmDesk;
let holding: string;
let medicine: string;
let jab: string;
let ewe: string;
let lot: string;
let container: string;
let vet: string;

const label = async (terms: Ask<'check-label'>['terms']) =>
  (await desk.ask('set-label', { act: 'first', terms: structuredClone(terms) })).medicine;
const given = (subject: string, of: string, dose: string, more: { heads?: number; happened?: string } = {}) =>
  desk.ask('treat', { subject, single: { medicine: of, reason: 'Worms' }, given: dose, ...more });

beforeAll(async () => {
  desk = farmDesk();
  ({ holding } = await desk.started());
  medicine = await label(DRENCH);
  jab = await label(JAB);
  ({ person: vet } = await desk.ask('set-person', { name: 'Moss Veterinary', roles: ['vet'] }));
  await desk.ask('set-person', { name: '=HYPERLINK("x")', roles: ['shepherd'] });
  const bare = await desk.ask('receive-batch', {
    medicine,
    number: '=B4',
    expiry: '2027-03',
    packs: [{ count: 2, size: '500 mL' }],
  });
  container = one(bare.containers).container;
  await desk.ask('receive-batch', {
    medicine: jab,
    number: '-J9',
    expiry: '2027-06',
    packs: [{ count: 1, size: '100 mL' }],
    supplier: '+Stores',
    supplierAddress: '@2 Market',
    proof: '=INV 1',
  });
  const animal = await desk.ask('set-animal', { holding, tag: 'UK 0123456 00012', class: 'ewe' });
  ewe = `animal:${animal.animal}`;
  await desk.ask('weigh', { subject: ewe, weight: '60 kg', how: 'crate' });
  const made = await desk.ask('set-lot', { holding, name: 'Tup lambs', class: 'lamb', heads: 40 });
  lot = `lot:${made.lot}`;
  await desk.ask('weigh', { subject: lot, weight: '30 kg', how: 'crate' });
});
afterAll(() => desk.close());

const gaps = async () => (await desk.ask('book-gaps', {})).gaps;
const items = async () => (await gaps()).filter((gap) => !gap.explained).map((gap) => gap.item);

describe('gaps of the book by the law of the holding', () => {
  test('a bare delivery lacks supplier, address and proof; a whole one lacks nothing', async () => {
    const found = await gaps();
    expect(found.map((gap) => gap.item).sort()).toEqual(['proof', 'supplier', 'supplier-address']);
    expect(one(found).text).toContain('batch =B4');
    expect(one(found).asked).toEqual(['Great Britain']);
    expect(one(found).mend.how).toBe('complete');
  });

  test('filling in what was missing mends it, once, and changes no stock', async () => {
    const entry = one(await gaps()).entry;
    const before = await desk.ask('cabinet', { medicine });
    const asked = await desk.ask('entry-to-complete', { entry });
    expect(asked.blanks).toEqual(['supplier', 'supplierAddress', 'proof', 'prescription']);
    expect(asked.suppliers).toEqual([{ supplier: '+Stores', supplierAddress: '@2 Market' }]);
    expect((await desk.refused('complete-entry', { entry, reason: 'found it' })).code).toBe(
      'nothing-filled-in',
    );
    await desk.ask('complete-entry', {
      entry,
      supplier: 'Vale Stores',
      supplierAddress: '3 Vale',
      reason: 'found the note',
    });
    expect(await items()).toEqual(['proof']);
    expect((await desk.refused('complete-entry', { entry, supplier: 'Others', reason: 'x' })).code).toBe(
      'already-said',
    );
    await desk.ask('complete-entry', { entry, proof: 'Invoice 77', reason: 'found the invoice' });
    expect(await items()).toEqual([]);
    expect(await desk.ask('cabinet', { medicine })).toMatchObject({
      containers: before.containers.map(({ container: id, left }) => ({ container: id, left })),
    });
  });

  test('a treatment of the whole lot is traceable, one of a part of it is not; a vet is asked for', async () => {
    await desk.ask('set-record-rules', {
      holding,
      profile: 'eu',
      assurance: { items: ['traceable', 'reason'], own: ['The store is locked.'] },
    });
    // Two halves of one dose: a second whole one on the same day would be outside the label.
    await given(lot, medicine, '1.5 mL');
    expect(await items()).toEqual([]);
    await given(lot, medicine, '1.5 mL', { heads: 12 });
    expect(await items()).toEqual(['traceable']);
    await given(ewe, jab, '6 mL');
    const found = (await gaps()).filter((gap) => gap.item !== 'traceable');
    expect(found.map((gap) => gap.item).sort()).toEqual(['prescriber', 'prescription']);
    const { prescription } = await desk.ask('record-prescription', {
      number: 'RX 5',
      vet,
      medicine: jab,
      written: '2026-05-01',
    });
    const { entry } = one(found);
    await desk.ask('complete-entry', {
      entry,
      prescription: `prescription:${prescription}`,
      reason: 'paper came later',
    });
    const left = (await gaps()).filter((gap) => gap.item !== 'traceable');
    expect(left.map((gap) => [gap.item, gap.mend.how, gap.mend.person])).toEqual([
      ['prescriber-contact', 'person', vet],
    ]);
    await desk.ask('set-person', {
      person: vet,
      name: 'Moss Veterinary',
      roles: ['vet'],
      phone: '01000 000001',
    });
    expect(await items()).toEqual(['traceable']);
  });

  test('a disposal that does not say where, and an entry written late by the rules of Victoria', async () => {
    await desk.ask('set-record-rules', { holding });
    await desk.ask('move-stock', {
      container,
      cause: 'disposed',
      amount: '20 mL',
      why: 'spoilt',
      how: 'Taken back',
    });
    expect(await items()).toEqual(['disposed-where']);
    const { entry } = one(await gaps());
    await desk.ask('complete-entry', { entry, where: 'Vale Stores', reason: 'asked the driver' });
    expect(await items()).toEqual([]);
    desk.at('2026-05-08T09:00:00.000Z');
    await given(ewe, medicine, '6 mL', { happened: '2026-05-03' });
    expect(await items()).toEqual([]);
    await desk.ask('set-record-rules', { holding, profile: 'victoria' });
    const late = one((await gaps()).filter((gap) => gap.item === 'late'));
    expect(late.mend.how).toBe('explain');
    expect((await desk.refused('explain-gap', { gap: 'nothing#1 late', says: 'x' })).code).toBe(
      'no-such-gap',
    );
    await desk.ask('explain-gap', { gap: late.gap, says: 'The shepherd was away.' });
    const { open, explained, gaps: after } = await desk.ask('book-gaps', {});
    expect([open, explained]).toEqual([0, 1]);
    expect(one(after).explained?.says).toBe('The shepherd was away.');
    const entry2 = late.gap.split(' ')[0];
    expect((await desk.refused('explain-gap', { gap: `${entry2} weather`, says: 'x' })).code).toBe(
      'no-such-gap',
    );
    await desk.ask('set-record-rules', { holding });
    const bare = await desk.ask('receive-batch', {
      medicine,
      number: 'B6',
      expiry: '2027-06',
      packs: [{ count: 1, size: '500 mL' }],
      supplier: 'Vale Stores',
    });
    const [address, proof] = (await gaps()).filter((gap) => gap.text.includes('batch B6'));
    expect(bare.containers).toHaveLength(1);
    await desk.ask('explain-gap', { gap: proof?.gap ?? '', says: 'The invoice burned.' });
    await desk.ask('explain-gap', { gap: address?.gap ?? '', says: 'The firm is gone.' });
    await desk.ask('complete-entry', {
      entry: one([address].flatMap((gap) => gap ?? [])).entry,
      supplierAddress: '3 Vale',
      reason: 'found after all',
    });
  });

  test('the whole book says what came in, went, is left, was disposed of; late and both versions', async () => {
    await desk.ask('set-record-rules', { holding });
    const made = await desk.ask('book-paper', {
      holding,
      from: '2026-05-01',
      to: '2026-05-08',
      form: 'whole',
    });
    const { base64 } = await desk.ask('paper', { paper: made.paper });
    const { text } = await readPdf(Buffer.from(base64, 'base64'));
    for (const said of [
      'What came in',
      'Vale Stores, 3 Vale',
      'Invoice 77',
      'Taken back',
      'What is left',
      'Late entry: written 4 days',
      'found the invoice',
      'Prescribed by Moss Veterinary',
      'Page 1 of',
      'Why it was written late. Explained by Isla Thorn on 8 May 2026: The shepherd was away.',
      'Missing: there is no proof of purchase. Explained by Isla Thorn on 8 May 2026: The invoice burned.',
    ]) {
      expect(text).toContain(said);
    }
    // What was filled in after all is missing no more.
    expect(text).not.toContain('The firm is gone.');
    for (const form of ['animals', 'medicines'] as const) {
      const other = await desk.ask('book-paper', { holding, from: '2026-05-01', to: '2026-05-08', form });
      const page = await desk.ask('paper', { paper: other.paper });
      const read = await readPdf(Buffer.from(page.base64, 'base64'));
      expect(read.text).toContain(form === 'animals' ? 'UK 0 123456 00012' : 'Balance');
    }
    const group = await desk.ask('book', { from: '2026-05-01', to: '2026-05-08', batch: '=b4' });
    expect(new Set(group.rows.map((row) => row.batch))).toEqual(new Set(['=B4']));
  });

  test('the treatment record too says what was late and why, and who prescribed it', async () => {
    const made = await desk.ask('book-paper', { holding, from: '2026-05-01', to: '2026-05-08' });
    const { base64 } = await desk.ask('paper', { paper: made.paper });
    const { text } = await readPdf(Buffer.from(base64, 'base64'));
    expect(text).toContain('Late entry: written 4 days');
    expect(text).toContain('Why it was written late. Explained by Isla Thorn');
    expect(text).toContain('Prescribed by Moss Veterinary');
  });

  test('what is left is said of today, not of a day that has not come; a count says how far it was off', async () => {
    // 500 mL, less 20 mL spoilt, 40 and 12 lambs of 1.5 mL, and a ewe of 6 mL.
    await desk.ask('move-stock', {
      container,
      cause: 'counted',
      amount: '300 mL',
      why: 'Year',
    });
    const made = await desk.ask('book-paper', {
      holding,
      from: '2026-01-01',
      to: '2026-12-31',
      form: 'whole',
    });
    const { base64 } = await desk.ask('paper', { paper: made.paper });
    const { text } = await readPdf(Buffer.from(base64, 'base64'));
    expect(text).toContain('What is left at the end of 8 May 2026');
    expect(text).toContain('Counted; this much was there: 96 mL less than the book had');
  });

  test('a period turned round, or what is not in the book, makes no empty paper', async () => {
    const days = { from: '2026-05-01', to: '2026-05-08' };
    const crossed = { holding, from: days.to, to: days.from };
    for (const name of ['book', 'book-paper', 'book-table', 'make-pack', 'book-gaps'] as const) {
      expect(await desk.refused(name, crossed)).toMatchObject({ code: 'dates-crossed', field: 'to' });
    }
    const unknown = {
      medicine: 'no-such-medicine',
      group: 'no-such-group',
      person: 'no-such-person',
      subject: 'no-such-animal',
    };
    for (const [field, code] of Object.entries(unknown)) {
      const narrowed = { holding, ...days, [field]: field === 'subject' ? 'animal:none' : 'none' };
      expect(await desk.refused('book-table', narrowed)).toMatchObject({ code, field });
      expect(await desk.refused('book-paper', narrowed)).toMatchObject({ code, field });
    }
    const balance = { holding, ...days, form: 'medicines', subject: ewe } as const;
    expect(await desk.refused('book-paper', balance)).toMatchObject({
      code: 'cannot-narrow',
      field: 'subject',
    });
  });

  test('a place on the animal is printed beside the route, and what was explained stands in the table', async () => {
    const days = { from: '2026-05-01', to: '2026-05-08' };
    const { session } = await desk.ask('open-session', {
      holding,
      name: 'Feet',
      subjects: [ewe],
      lines: [{ medicine: jab, reason: 'Lame', source: 'ours' }],
    });
    await desk.ask('treat', {
      ...{ session, subject: ewe, given: '6 mL', site: 'high on the neck', side: 'left' },
      confirmed: ['dosed-today'],
    });
    await desk.ask('close-session', { session, headsThrough: 1 });
    const { paper } = await desk.ask('book-paper', { holding, ...days, medicine: jab });
    const { text: read } = await readPdf((await desk.paper(paper))?.bytes ?? new Uint8Array());
    expect(read).toContain('subcutaneous left high on the neck');
    // A record of one medicine does not pass for the record of all.
    expect(read).toContain('both days included only Ombrium injection');
    const { text } = await desk.ask('book-table', { holding, ...days });
    const lines = readBookCsv(Buffer.from(text, 'utf8'));
    expect(lines.map(({ explained }) => explained).filter((said) => said !== '')).toEqual(
      expect.arrayContaining([
        'Why it was written late. Explained by Isla Thorn on 8 May 2026: The shepherd was away.',
        'Missing: there is no proof of purchase. Explained by Isla Thorn on 8 May 2026: The invoice burned.',
      ]),
    );
    // What is read back is what was written, to the last cell.
    expect(writeBookCsv(lines)).toBe(text);
  });

  test('a session in which somebody went through unread is missing its record until that is settled', async () => {
    const { animal } = await desk.ask('set-animal', { holding, tag: 'UK 0123456 00013', class: 'ewe' });
    const other = `animal:${animal}`;
    await desk.ask('weigh', { subject: other, weight: '60 kg', how: 'crate' });
    const { session } = await desk.ask('open-session', {
      holding,
      name: 'Worming',
      subjects: [ewe, other],
      lines: [{ medicine, reason: 'Worms', source: 'ours' }],
    });
    await desk.ask('treat', { session, subject: ewe, confirmed: ['dosed-today'] });
    await desk.ask('close-session', { session, headsThrough: 2 });
    const found = (await gaps()).filter(({ item }) => item === 'possibly-treated');
    expect(found).toMatchObject([
      {
        missing:
          '1 animal or lot went through without a record of Calverol drench, and may have been treated',
        mend: { how: 'session', session },
      },
    ]);
    // It cannot be explained away: the animal would stay held.
    const away = { gap: one(found).gap, says: 'Nobody knows' };
    expect((await desk.refused('explain-gap', away)).field).toBe('gap');
    const { hold } = one((await desk.ask('session', { session })).possibly);
    await desk.ask('resolve-possible', {
      ...{ hold, subject: other, how: 'not-treated', why: 'Stood in the pen the whole day' },
    });
    expect((await gaps()).filter(({ item }) => item === 'possibly-treated')).toEqual([]);
  });
});
