import { createHash } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { checkSize } from '../../src-main/answers/attachment/attach.ts';
import { storeParts } from '../../src-main/answers/store-parts.ts';
import { openBare } from '../../src-main/store/sqlite.ts';
import { verifyBook } from '../../src-main/store/verify.ts';
import { refused } from '../unit/refused.ts';
import { DRENCH, type FarmDesk, farmDesk, one } from './farm-desk.ts';

/** The smallest files of each kind that have their marks: enough for what looks at marks and decodes nothing. */
const PDF = Buffer.from('%PDF-1.7\n1 0 obj\n<<>>\nendobj\ntrailer <<>>\n%%EOF\n');
const JPEG = Buffer.from([0xff, 0xd8, 0xff, 0xe0, 0x00, 0x02, 0x41, 0xff, 0xd9]);
const PNG = Buffer.from('89504e470d0a1a0a0000000049454e44ae426082', 'hex');
const WEBP = Buffer.from('524946460c00000057454250565038200000000000000000', 'hex').subarray(0, 20);

const base64 = (bytes: Buffer) => bytes.toString('base64');
const file = (name: string, bytes: Buffer) => ({ name, base64: base64(bytes) });
const invoice = { paper: 'invoice' as const };

describe('papers and photos are kept with what they belong to', () => {
  let farm: FarmDesk;
  let holding: string;
  let medicine: { what: 'medicine'; id: string };

  beforeAll(async () => {
    farm = farmDesk();
    ({ holding } = await farm.started());
    const made = await farm.ask('set-label', { act: 'first', terms: structuredClone(DRENCH) });
    medicine = { what: 'medicine', id: made.medicine };
  });
  afterAll(() => farm.close());

  async function addEwe(): Promise<string> {
    const { animal } = await farm.ask('set-animal', { holding, class: 'ewe', management: 'Tansy' });
    return `animal:${animal}`;
  }

  test('each kind comes back byte for byte, with who put it there and why', async () => {
    const kinds = [
      ['leaflet.PDF', PDF, 'application/pdf'],
      ['bottle.jpeg', JPEG, 'image/jpeg'],
      ['bottle.png', PNG, 'image/png'],
      ['bottle.webp', WEBP, 'image/webp'],
    ] as const;
    for (const [name, bytes, mime] of kinds) {
      const { attachment, hash } = await farm.ask('attach', {
        to: medicine,
        file: file(name, bytes),
        paper: 'insert',
        why: 'as it lay in the box',
      });
      expect(hash).toBe(createHash('sha256').update(bytes).digest('hex'));
      const back = await farm.ask('attachment', { attachment });
      expect(back).toMatchObject({ name, mime, bytes: bytes.length, why: 'as it lay in the box' });
      expect(Buffer.from(back.base64, 'base64').equals(bytes)).toBe(true);
      expect(await farm.ask('paper', { paper: hash })).toMatchObject({ name, mime, base64: base64(bytes) });
    }
    const { attachments } = await farm.ask('attachments', { of: [medicine] });
    expect(attachments.map(({ name }) => name)).toEqual(kinds.map(([name]) => name));
    expect(one(attachments)).toMatchObject({ by: 'Isla Thorn', paper: 'insert', sizeText: '48 bytes' });
  });

  test('what is not what its name says, cut off, empty or of another kind is refused in one sentence', async () => {
    const cases = [
      [
        'scan.pdf',
        PNG,
        'file-not-its-name',
        'File: scan.pdf is a PNG picture, and its name says something else.',
      ],
      [
        'scan.pdf',
        Buffer.from('<html>'),
        'file-not-its-name',
        'File: scan.pdf is not a PDF, though its name says so.',
      ],
      ['notes.txt', PDF, 'file-not-its-name', 'File: notes.txt is a PDF, and its name says something else.'],
      [
        'page.svg',
        Buffer.from('<svg/>'),
        'file-kind',
        'File: page.svg is no PDF and no JPEG, PNG or WebP picture.',
      ],
      ['half.jpg', JPEG.subarray(0, 6), 'file-cut-off', 'File: the end of half.jpg is missing.'],
      ['half.pdf', PDF.subarray(0, 20), 'file-cut-off', 'File: the end of half.pdf is missing.'],
      ['half.png', PNG.subarray(0, 12), 'file-cut-off', 'File: the end of half.png is missing.'],
      ['half.webp', WEBP.subarray(0, 16), 'file-cut-off', 'File: the end of half.webp is missing.'],
      ['none.pdf', Buffer.alloc(0), 'file-empty', 'File: there is nothing in none.pdf.'],
    ] as const;
    const before = await farm.head();
    for (const [name, bytes, code, message] of cases) {
      const fault = await farm.refused('attach', { to: medicine, file: file(name, bytes), ...invoice });
      expect(fault).toMatchObject({ code, message, field: 'file' });
      expect(fault.next).toBeTruthy();
    }
    expect(await farm.head()).toBe(before);
  });

  test('more than 10 MB is refused before its letters are read', async () => {
    // Letters that are no file at all: reading them would be refused in another way.
    const base64 = '!'.repeat(14_000_000);
    const fault = await farm.refused('attach', {
      to: medicine,
      file: { name: 'film.pdf', base64 },
      ...invoice,
    });
    expect(fault).toMatchObject({ code: 'file-too-big', message: 'File: film.pdf is larger than 10 MB.' });
    expect(refused(() => checkSize('film.pdf', 10 * 1024 * 1024 + 1)).code).toBe('file-too-big');
    checkSize('largest.pdf', 10 * 1024 * 1024);
  });

  test('the same file twice at one thing is refused, at another kept once', async () => {
    const to = { what: 'subject' as const, id: await addEwe() };
    await farm.ask('attach', { to, file: file('a.jpg', JPEG), paper: 'photo' });
    expect(await farm.refused('attach', { to, file: file('b.jpg', JPEG), paper: 'photo' })).toMatchObject({
      code: 'already-attached',
      message: 'File: this one is kept here already, as a.jpg.',
    });
    const kept = await farm.peek((store) =>
      store.read.get<{ n: number }>(
        "SELECT count(*) AS n FROM record WHERE what = 'attachment' AND data LIKE '%image/jpeg%'",
      ),
    );
    expect(kept?.n).toBe(2);
  });

  test('a thing that is not in the book gets none', async () => {
    for (const what of [
      'batch',
      'container',
      'prescription',
      'declaration',
      'treatment',
      'subject',
    ] as const) {
      const fault = await farm.refused('attach', {
        to: { what, id: 'nothing' },
        file: file('a.pdf', PDF),
        ...invoice,
      });
      expect(fault).toMatchObject({ code: 'no-such-thing', field: 'to' });
    }
  });

  test('a name is only shown: no folder, no sign that hides the ending', async () => {
    const to = { what: 'medicine' as const, id: medicine.id };
    const { attachment } = await farm.ask('attach', {
      to,
      file: file('C:\\papers\\bill\u202efdp.pdf', Buffer.concat([PDF, PDF])),
      ...invoice,
    });
    expect((await farm.ask('attachment', { attachment })).name).toBe('billfdp.pdf');
  });

  test('taken off by striking out: gone from the thing, still in the journal and in the file', async () => {
    const { attachments } = await farm.ask('attachments', { of: [medicine] });
    const first = one(attachments);
    await farm.ask('void', { entry: first.entry, reason: 'the leaflet of another' });
    const after = await farm.ask('attachments', { of: [medicine] });
    expect(after.attachments.length).toBe(attachments.length - 1);
    expect(await farm.refused('attachment', { attachment: first.attachment })).toMatchObject({
      code: 'no-such-attachment',
    });
    const kept = await farm.peek((store) => store.kept.attachments.get(first.hash));
    expect(kept && Buffer.from(kept).equals(PDF)).toBe(true);
  });

  test('checking the book finds a file that was changed, exchanged or taken out', async () => {
    const { attachments } = await farm.ask('attachments', { of: [medicine] });
    const { hash, name } = one(attachments);
    const problems = () => verifyBook(farm.book, storeParts).problems;
    expect(problems()).toEqual([]);
    const other = Buffer.concat([JPEG, JPEG]);
    const tamper = (sql: string, ...values: (string | Buffer)[]) => {
      const db = openBare(farm.book);
      db.prepare(sql).run(...values);
      db.close();
    };
    tamper('UPDATE kept_attachment SET bytes = ? WHERE hash = ?', other, hash);
    expect(problems().map(({ code }) => code)).toEqual(['attachment-changed']);
    const otherHash = createHash('sha256').update(other).digest('hex');
    tamper('UPDATE kept_attachment SET hash = ? WHERE hash = ?', otherHash, hash);
    expect(problems().map(({ code }) => code)).toEqual(expect.arrayContaining(['attachment-missing']));
    expect(problems().some(({ message }) => message.includes(name))).toBe(true);
  });
});
