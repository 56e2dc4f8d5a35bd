import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Built, buildDemo } from '../../demo/build.ts';
import { DEMO_CODES } from '../../demo/chapters/cabinet-2026.ts';
import { LAST_DAY } from '../../demo/farm.ts';
import { demoFiles } from '../../demo/flock/files.ts';
import { openDesk } from '../../src-main/answers/desk.ts';
import { storeParts } from '../../src-main/answers/store-parts.ts';
import type { Desk } from '../../src-main/desk-type.ts';
import { verifyBook } from '../../src-main/store/verify.ts';
import type { Ask, CallName, Reply } from '../../src-shared/calls/all.ts';
import { FORMS, ROUTES } from '../../src-shared/label/terms.ts';
import { readPdf } from '../paper/reading.ts';

const FILES = new URL('../../demo/files/', import.meta.url);
const folder = mkdtempSync(join(tmpdir(), 'foldbook-demo-'));
let first: Built;
let second: Built;
let desk: Desk;

async function build(name: string): Promise<Built> {
  const out = join(folder, name);
  mkdirSync(out);
  return buildDemo({ book: join(out, 'demo.foldbook'), out });
}

async function ask<N extends CallName>(name: N, request: Ask<N>): Promise<Reply<N>> {
  const answer = await desk.call(name, request);
  if (!answer.ok) throw new Error(`${name}: ${answer.error.message}`);
  return answer.value as Reply<N>;
}

beforeAll(async () => {
  first = await build('one');
  second = await build('two');
  desk = openDesk({ book: first.book, clock: () => `${LAST_DAY}T16:00:00.000Z` });
}, 400_000);

afterAll(async () => {
  await desk?.close();
  rmSync(folder, { recursive: true, force: true });
});

test('the demo is the same book and the same papers each time', () => {
  expect(second.checkCode).toBe(first.checkCode);
  expect(second.entries).toBe(first.entries);
  for (const paper of ['record', 'declaration'] as const) {
    expect(readFileSync(second.papers[paper]).equals(readFileSync(first.papers[paper]))).toBe(true);
  }
});

test('the whole book verifies against its own check code', () => {
  const result = verifyBook(second.book, storeParts, { head: second.checkCode });
  expect(result.problems).toEqual([]);
  expect(result.ok).toBe(true);
});

test('after each long pause the day was confirmed, and every other entry was written by a believed clock', async () => {
  let before: number | undefined;
  let seen = 0;
  do {
    const page = await ask('entries', { limit: 500, ...(before === undefined ? {} : { before }) });
    seen += page.entries.length;
    const doubted = page.entries.filter((entry) => entry.clock === 'doubted');
    expect(doubted.filter((entry) => entry.kind !== 'date-confirmed')).toEqual([]);
    before = page.next;
  } while (before !== undefined);
  expect(seen).toBe(first.entries);
});

test('the files kept in the folder are those its flock makes', () => {
  const kept = readdirSync(FILES).filter((name) => name.endsWith('.csv'));
  const made = demoFiles();
  expect(kept.sort()).toEqual(made.map(({ name }) => name).sort());
  for (const { name, bytes } of made)
    expect(readFileSync(new URL(name, FILES)).equals(bytes), name).toBe(true);
});

describe('what is on the farm', () => {
  test('400 named animals in groups and 300 unnamed lambs', async () => {
    const { counts, business } = await ask('farm', {});
    expect(business?.demo).toBe(true);
    expect(counts).toMatchObject({ animals: 400, groups: 6, openSessions: 1 });
    const { lots } = await ask('lots', {});
    expect(lots.reduce((sum, lot) => sum + lot.heads, 0)).toBe(300);
    const { groups } = await ask('groups', {});
    expect(groups.reduce((sum, group) => sum + group.heads, 0)).toBe(400);
  });

  test('two years of weighings came by files of every shape, and each file says what became of its rows', async () => {
    const { imports } = await ask('imports', {});
    expect(imports.filter((one) => one.what === 'weighings').map((one) => one.on.slice(0, 4))).toEqual([
      '2026',
      '2026',
      '2026',
      '2025',
      '2025',
      '2025',
    ]);
    expect(imports.filter((one) => one.what === 'animals')).toHaveLength(4);
    const encodings = new Set<string>();
    const delimiters = new Set<string>();
    for (const { name, bytes } of demoFiles()) {
      const call = name.startsWith('crate') ? 'preview-weighings' : 'preview-animals';
      const file = { name, base64: bytes.toString('base64') };
      const options = { dateOrder: 'dmy' as const, oddWeights: 'take' as const, weightUnit: 'kg' as const };
      const seen = await ask(call, { file, options });
      encodings.add(seen.encoding);
      delimiters.add(seen.delimiter);
      const { totals } = seen;
      expect(totals.taken + totals.refused + totals.alreadyThere, name).toBe(totals.in);
    }
    expect([...encodings].sort()).toEqual(['utf-8', 'windows-1252']);
    expect([...delimiters].sort()).toEqual(['\t', ',', ';']);
  });

  test('accented names came through', async () => {
    const { animals } = await ask('animals', { class: 'ram' });
    expect(animals.map((ram) => ram.management)).toContain('Dieudonné');
    expect(animals.map((ram) => ram.management)).toContain('Ødd');
  });

  test('a dozen medicines and more, of every form and route', async () => {
    const { medicines } = await ask('medicines', {});
    expect(medicines.length).toBeGreaterThanOrEqual(12);
    expect(new Set(medicines.map((one) => one.form))).toEqual(new Set(FORMS));
    expect(new Set(medicines.flatMap((one) => one.routes))).toEqual(new Set(ROUTES));
    expect(medicines.filter((one) => one.state === 'draft').map((one) => one.name)).toEqual([
      'Snufflock nose vaccine',
    ]);
  });

  test('a new insert is a second revision, a typing error is not', async () => {
    const { medicines } = await ask('medicines', {});
    const revisionsOf = async (name: string) => {
      const found = medicines.find((one) => one.name === name);
      return (await ask('medicine', { medicine: found?.medicine ?? '' })).revisions.map(
        (one) => one.terms.periods.find((row) => row.produce === 'meat')?.value,
      );
    };
    expect((await revisionsOf('Marlexan 2.5 % drench')).sort()).toEqual(['21 d', '28 d']);
    expect(await revisionsOf('Orvethin 1 % injection')).toEqual(['35 d']);
  });

  test('the cabinet has a container in every state', async () => {
    const { containers } = await ask('cabinet', { show: 'all' });
    expect(new Set(containers.map((one) => one.state))).toEqual(
      new Set(['sealed', 'open', 'past-in-use', 'expired', 'empty', 'quarantined', 'disposed', 'returned']),
    );
    expect(containers.filter((one) => one.left.text.includes('count it'))).toEqual([]);
  });

  test('every screen of the cabinet has something to show', async () => {
    const { ahead } = await ask('shelf-ahead', {});
    expect(ahead.map(({ key, on }) => [key, on])).toEqual([
      ['session', '2026-12-03'],
      ['lambing', '2027-04-12'],
    ]);
    const { readings } = await ask('storage-log', {});
    expect(readings.map(({ store, outside }) => [store, outside])).toContainEqual(['Cool box', 1]);
    const { disposals } = await ask('disposals', {});
    expect(new Set(disposals.map(({ cause }) => cause))).toEqual(new Set(['disposed', 'returned']));
    for (const one of disposals) expect(one.how !== '' && one.where !== '', one.label).toBe(true);
    const { medicines } = await ask('drift', {});
    expect(medicines.map(({ sum }) => sum)).toEqual(expect.arrayContaining(['−20 mL', '−5 mL']));
    const scan = `]d201${DEMO_CODES.calstrand}10CS-655\u001d21CS003`;
    expect((await ask('read-pack', { scan })).here.map(({ label }) => label)).toEqual(['CS-655-3']);
    const { consumables } = await ask('consumables', {});
    expect(consumables.filter(({ isShort }) => isShort).map(({ name }) => name)).toEqual(['Blue spray']);
  });

  test('who is clear and who is held is answered at once, and the reasons are of several kinds', async () => {
    const started = performance.now();
    const { clear, held } = await ask('clear-list', { at: `${LAST_DAY}T16:00` });
    // It once took minutes: every hold read every administration. Far above what it takes on a busy computer.
    expect(performance.now() - started).toBeLessThan(10_000);
    expect(clear.length).toBeGreaterThan(100);
    const causes = new Set(held.flatMap((row) => row.holds.map((hold) => hold.cause)));
    expect([...causes].sort()).toEqual(['bought-in', 'possibly-treated', 'treatment']);
    const states = new Set(held.flatMap((row) => row.holds.map((hold) => hold.state)));
    for (const state of ['until', 'event', 'life', 'unknown'] as const) expect(states).toContain(state);
  });

  test('the declaration was touched by a later correction, and says so', async () => {
    const { declarations } = await ask('declarations', {});
    expect(declarations).toHaveLength(1);
    expect(declarations[0]?.notices).toHaveLength(1);
    expect(declarations[0]?.notices[0]).toContain('UK 0 999999 00112');
  });

  test('one treatment struck out, one corrected, and no deviation but the dose the vet had ordered', async () => {
    const { rows } = await ask('book', { from: '2024-11-18', to: LAST_DAY, limit: 20_000 });
    expect(rows.length).toBeGreaterThan(1500);
    expect(rows.filter((row) => row.state === 'voided')).toHaveLength(1);
    expect(rows.filter((row) => row.state === 'replaced')).toHaveLength(1);
    const deviating = rows.filter((row) => row.deviations.length > 0);
    expect(deviating.map((row) => row.reason)).toEqual(Array(2).fill('Lung infection, as the vet wrote'));
    expect(new Set(rows.map((row) => row.source)).size).toBeGreaterThanOrEqual(3);
  });
});

test('every page of both papers says DEMO', async () => {
  for (const file of Object.values(first.papers)) {
    const { pages } = await readPdf(readFileSync(file));
    expect(pages.length).toBeGreaterThan(1);
    for (const page of pages) expect(page).toContain('DEMO');
  }
});
