import { createHash } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { deflateRawSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { bookFromPack } from '../../src-main/answers/book/from-pack.ts';
import { verifyPack } from '../../src-main/answers/book/verify-pack.ts';
import { openDesk } from '../../src-main/answers/desk.ts';
import { storeParts } from '../../src-main/answers/store-parts.ts';
import { readBookCsv } from '../../src-main/exchange/book-csv.ts';
import { readZip, zipWriter } from '../../src-main/exchange/zip.ts';
import { compareProjections } from '../../src-main/store/compare.ts';
import { openReading } from '../../src-main/store/sqlite.ts';
import { verifyBook } from '../../src-main/store/verify.ts';
import { readPdf } from '../paper/reading.ts';
import { DRENCH, type FarmDesk, farmDesk, one } from './farm-desk.ts';

const NOW = '2026-05-02T09:00:00.000Z';
const folder = mkdtempSync(join(tmpdir(), 'foldbook-pack-'));
let farm: FarmDesk;
let holding: string;
let pack: Buffer;
let checkCode: string;

beforeAll(async () => {
  farm = farmDesk();
  ({ holding } = await farm.started());
  const { medicine } = await farm.ask('set-label', { act: 'first', terms: structuredClone(DRENCH) });
  await farm.ask('receive-batch', {
    medicine,
    number: '=B4',
    expiry: '2027-03',
    packs: [{ count: 1, size: '500 mL' }],
    supplier: '+Vale Stores',
    supplierAddress: '-1 Vale Lane',
    proof: '@SUM(A1)',
  });
  const { animal } = await farm.ask('set-animal', { holding, tag: 'UK 0123456 00012', class: 'ewe' });
  const subject = `animal:${animal}`;
  await farm.ask('weigh', { subject, weight: '60 kg', how: 'crate' });
  const { administrations } = await farm.ask('treat', {
    subject,
    single: { medicine, reason: 'Worms' },
    given: '6 mL',
  });
  await farm.ask('correct-treatment', {
    administration: one(administrations),
    given: '5 mL',
    reason: 'misread',
  });
  const made = await farm.ask('make-pack', { holding, from: '2026-05-01', to: '2026-05-01' });
  checkCode = made.checkCode;
  const fetched = await farm.paper(made.file);
  if (!fetched) throw new Error('the pack was not there');
  pack = Buffer.from(fetched.bytes);
  expect(fetched.name).toMatch(/^pack-Thistle-Bank-2026-05-01-entry-\d+\.zip$/);
  expect(pack.length).toBe(made.bytes);
  // It is handed over once.
  expect(await farm.paper(made.file)).toBeUndefined();
});
afterAll(async () => {
  await farm.close();
  rmSync(folder, { recursive: true, force: true });
});

const fileOf = (name: string, of = pack) =>
  Buffer.from(readZip(of).files.find((file) => file.name === name)?.bytes ?? []);

/** The pack with one file changed, put together again by somebody who knows how. */
function withFile(name: string, change: (text: string) => string): Buffer {
  const parts: Uint8Array[] = [];
  const zip = zipWriter((bytes) => void parts.push(bytes));
  for (const file of readZip(pack).files) {
    const bytes = Buffer.from(file.bytes ?? []);
    zip.add(file.name, file.name === name ? Buffer.from(change(bytes.toString('utf8'))) : bytes);
  }
  zip.end();
  return Buffer.concat(parts);
}

describe("the inspector's pack", () => {
  test('is whole, agrees with its check code, and its journal ends where its page says, by its own recipe', () => {
    expect(verifyPack(pack, checkCode)).toMatchObject({ ok: true, problems: [], notes: [] });
    // As the page tells anybody to do: the hash before, a line feed, the line; 64 zeros before the first.
    let previous = '0'.repeat(64);
    for (const line of fileOf('journal/journal.jsonl').toString('utf8').split('\n').slice(0, -1)) {
      previous = createHash('sha256').update(`${previous}\n${line}`).digest('hex');
    }
    const page = fileOf('CHECK.txt').toString('utf8');
    expect(page).toContain(`last hash:  ${previous}`);
    expect(page).toContain(`check code: ${checkCode}`);
    for (const line of fileOf('SHA256SUMS').toString('utf8').trim().split('\n')) {
      const [hash = '', name = ''] = line.split('  ');
      expect(createHash('sha256').update(fileOf(name)).digest('hex')).toBe(hash);
    }
  });

  test('holds every line of the book, both versions of what was corrected', () => {
    const lines = readBookCsv(fileOf('book.csv'));
    expect(lines.map(({ act, state, dose, correction }) => [act, state, dose, correction])).toEqual([
      ['received', 'stands', '', ''],
      ['given', 'corrected', '6 mL', 'misread'],
      ['given', 'stands', '5 mL', ''],
      ['left', 'stands', '', ''],
    ]);
  });

  test('names that begin like a formula are the same on paper and read back, and no spreadsheet runs them', async () => {
    const typed = {
      batch: '=B4',
      supplier: '+Vale Stores',
      supplierAddress: '-1 Vale Lane',
      proof: '@SUM(A1)',
    };
    expect(readBookCsv(fileOf('book.csv'))[0]).toMatchObject(typed);
    const { text } = await readPdf(fileOf('book.pdf'));
    const csv = fileOf('book.csv').toString('utf8');
    for (const name of Object.values(typed)) {
      expect(csv).toContain(`'${name}`);
      expect(csv).not.toContain(`,${name}`);
      expect(text).toContain(name);
    }
  });

  test.each([
    [
      'journal/journal.jsonl',
      (text: string) => text.replace('Worms', 'Warms'),
      /^Line \d+ of journal\/journal\.jsonl/,
    ],
    [
      'journal/hashes.txt',
      (text: string) => text.replace(/[0-9]$/m, 'f'),
      /^journal\/hashes\.txt is not as it was/,
    ],
    ['book.csv', (text: string) => text.replace('5 mL', '4 mL'), /^Row 3 of book\.csv \(line 4\)/],
    ['CHECK.txt', (text: string) => text.replace('Isla', 'Isle'), /^CHECK\.txt is not as it was written/],
    [
      'SHA256SUMS',
      (text: string) => text.replace('book.pdf', 'look.pdf'),
      /^SHA256SUMS is not as it was written/,
    ],
    ['book.pdf', (text: string) => `${text} `, /^book\.pdf is not as it was written/],
  ])('%s changed and packed again is named', (name, change, says) => {
    const { ok, problems } = verifyPack(withFile(name, change));
    expect(ok).toBe(false);
    expect(
      problems.some((problem) => says.test(problem)),
      problems.join('\n'),
    ).toBe(true);
  });

  test('with one byte changed anywhere it is not whole, or no pack at all', () => {
    const step = 401;
    for (let at = 0; at < pack.length; at += step) {
      const other = Buffer.from(pack);
      other[at] = (other[at] ?? 0) ^ 1;
      let problems: string[];
      try {
        ({ problems } = verifyPack(other));
      } catch (thrown) {
        expect(thrown).toMatchObject({ code: 'not-a-pack' });
        continue;
      }
      expect(problems.length, `byte ${at}`).toBeGreaterThan(0);
    }
  });

  test('with one byte of the packed journal changed, the first line that differs is named', () => {
    const raw = fileOf('journal/journal.jsonl');
    const lines = raw.toString('utf8').split('\n').length - 1;
    // Where its stream begins: after the local header of 30 bytes and the name.
    const name = Buffer.from('journal/journal.jsonl');
    const start = pack.indexOf(name) + name.length;
    const length = deflateRawSync(raw).length;
    const named = new Set<number>();
    for (let at = start + 50; at < start + length - 50; at += 97) {
      const other = Buffer.from(pack);
      other[at] = (other[at] ?? 0) ^ 1;
      const { problems } = verifyPack(other);
      const line = /^Line (\d+) of journal\/journal\.jsonl/.exec(problems[1] ?? '')?.[1];
      expect(line, `byte ${at}: ${problems.join(' ')}`).toBeDefined();
      named.add(Number(line));
    }
    expect(Math.max(...named)).toBeLessThanOrEqual(lines);
    // Damage further on names later lines.
    expect([...named]).toEqual([...named].toSorted((a, b) => a - b));
    expect(named.size).toBeGreaterThan(5);
  });

  test('of another Foldbook, with other columns, is checked by its sums, and that is said', () => {
    const other = verifyPack(withFile('book.csv', (text) => text.replace('no,entry', 'nr,entry')));
    expect(other.problems).toEqual(['book.csv is not as it was written.']);
    expect(other.notes.some((note) => note.includes('other columns'))).toBe(true);
  });

  test('does not pass for a paper of another book', () => {
    const other = `${checkCode.slice(0, -1)}${checkCode.endsWith('0') ? '1' : '0'}`;
    expect(verifyPack(pack, other).problems).toEqual([expect.stringMatching(/does not belong to this pack/)]);
  });

  test('makes the same book in another zone: the same head, the same tables', () => {
    const zone = process.env.TZ;
    process.env.TZ = 'Pacific/Auckland';
    try {
      const made = join(folder, 'again.foldbook');
      const { checkCode: code } = bookFromPack(pack, made, storeParts, NOW, checkCode);
      expect(code).toBe(checkCode);
      expect(verifyBook(made, storeParts, { head: checkCode }).problems).toEqual([]);
      const [first, second] = [openReading(farm.book), openReading(made)];
      const differences: string[] = [];
      compareProjections(first, second, storeParts.projections, (table, says) =>
        differences.push(`${table}: ${says}`),
      );
      first.close();
      second.close();
      expect(differences).toEqual([]);
      expect(() => bookFromPack(pack, made, storeParts, NOW)).toThrowError(/already a file/);
      const bad = withFile('book.csv', (text) => text.replace('5 mL', '4 mL'));
      expect(() => bookFromPack(bad, join(folder, 'bad.foldbook'), storeParts, NOW)).toThrowError(
        /not whole/,
      );
    } finally {
      if (zone === undefined) delete process.env.TZ;
      else process.env.TZ = zone;
    }
  });
});

test('a pack that is cancelled, or whose work ends with its desk, leaves no file', async () => {
  const worker = new URL('../../src-main/work/worker.ts', import.meta.url);
  const book = join(folder, 'cancelled.foldbook');
  bookFromPack(pack, book, storeParts, NOW);
  const desk = openDesk({ book, clock: () => NOW, worker });
  const { readdirSync } = await import('node:fs');
  const work = '01933f77-66d0-7001-8000-0000000000aa';
  const making = desk.call('make-pack', { holding, from: '2026-05-01', to: '2026-05-01', work });
  const ended = await desk.call('cancel-work', { work });
  expect(ended).toMatchObject({ value: { wasRunning: true } });
  expect(await making).toMatchObject({ ok: false, error: { code: 'cancelled' } });
  expect(readdirSync(folder).filter((name) => name.includes('pack-to-save'))).toEqual([]);
  await desk.close();
});
