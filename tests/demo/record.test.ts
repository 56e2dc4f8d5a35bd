import { randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { buildDemo } from '../../demo/build.ts';
import { LAST_DAY } from '../../demo/farm.ts';
import { verifyPack } from '../../src-main/answers/book/verify-pack.ts';
import { openDesk } from '../../src-main/answers/desk.ts';
import type { Desk } from '../../src-main/desk-type.ts';
import { readBookCsv } from '../../src-main/exchange/book-csv.ts';
import { readZip } from '../../src-main/exchange/zip.ts';
import { type Ask, CALLS, type CallName, type Reply } from '../../src-shared/calls/all.ts';
import {
  type BookLine,
  bookLine,
  COLUMN_NAMES,
  type ColumnName,
  recordActOf,
} from '../../src-shared/record/columns.ts';
import { gapsOf } from '../../src-shared/record/gaps.ts';
import { type ItemId, itemOf } from '../../src-shared/record/items.ts';
import { PROFILES, profilesFor } from '../../src-shared/record/profiles.ts';
import { type Day, printDay } from '../../src-shared/time/day.ts';
import { readPdf } from '../paper/reading.ts';

/** The last year of the demo farm, as a pack: its book is what an inspector would get. */
const YEAR = { from: '2025-11-21', to: LAST_DAY };
const folder = mkdtempSync(join(tmpdir(), 'foldbook-record-'));
let desk: Desk;
let holding: string;
let keeper: string;
let lines: BookLine[];
let paper: string;
let journal: string;

async function ask<N extends CallName>(name: N, request: Omit<Ask<N>, 'request' | 'by'>): Promise<Reply<N>> {
  const writing = CALLS[name].writes ? { request: randomUUID(), by: keeper } : {};
  const answer = await desk.call(name, { ...writing, ...request });
  if (!answer.ok) throw new Error(`${name}: ${answer.error.message}`);
  return answer.value as Reply<N>;
}

beforeAll(async () => {
  const book = join(folder, 'demo.foldbook');
  await buildDemo({ book, out: folder });
  desk = openDesk({ book, clock: () => `${LAST_DAY}T16:00:00.000Z` });
  const { holdings } = await ask('farm', {});
  const [only] = holdings;
  if (only?.keeper === undefined) throw new Error('the demo has no holding');
  ({ holding, keeper } = { holding: only.holding, keeper: only.keeper });
  const made = await ask('make-pack', { holding, ...YEAR });
  const pack = await desk.paper(made.file);
  if (!pack) throw new Error('the pack was not there');
  expect(verifyPack(pack.bytes, made.checkCode).problems).toEqual([]);
  const files = new Map(readZip(pack.bytes).files.map((file) => [file.name, file.bytes ?? new Uint8Array()]));
  lines = readBookCsv(files.get('book.csv') ?? new Uint8Array());
  journal = Buffer.from(files.get('journal/journal.jsonl') ?? []).toString('utf8');
  paper = flat((await readPdf(files.get('book.pdf') ?? new Uint8Array())).text);
}, 300_000);

afterAll(async () => {
  await desk?.close();
  rmSync(folder, { recursive: true, force: true });
});

/** Text as a page may break it: a line may end anywhere. */
const flat = (text: string) => text.replace(/\s+/g, '');

/** A cell as the paper shows it: days in words, the rest as it is. */
function printed(column: ColumnName, cell: string): string[] {
  if (column === 'happened' || column === 'firstDay' || column === 'lastDay') {
    return [printDay(cell.slice(0, 10) as Day)];
  }
  // Who reaches the vet is one line with the vet; a dose may carry how it was found.
  return cell.split(/, | \(/).filter((part) => part.length > 1);
}

const CASES = Object.values(PROFILES).flatMap((profile) =>
  profile.items.map((id): [string, ItemId] => [profile.id, id]),
);

describe('every item of every profile, over a full year of the demo', () => {
  test('stands in the file and on the paper wherever it is not named as missing', () => {
    let looked = 0;
    for (const id of new Set(CASES.map(([, item]) => item))) {
      const item = itemOf(id);
      const own = lines.filter(
        (line) =>
          recordActOf(line) === item.act &&
          line.state === 'stands' &&
          item.when?.(line, { milk: true }) !== false &&
          item.columns.every((column) => line[column] !== ''),
      );
      expect(own.length, `${id} is in the file at least once`).toBeGreaterThan(0);
      for (const column of item.columns) {
        // The species, the place and who is known by what stand once for all of them, or not beside each line.
        if (column === 'animalsKnown') continue;
        for (const cell of new Set(own.map((line) => line[column]))) {
          for (const part of printed(column, cell)) {
            expect(paper.includes(flat(part)), `${id}: ${part} on the paper`).toBe(true);
            looked += 1;
          }
        }
      }
    }
    expect(looked).toBeGreaterThan(500);
  });

  test.each(CASES)('%s: without its cells %s is named as missing, and nothing else is', (id, item) => {
    const profile = Object.values(PROFILES).find((one) => one.id === id);
    const act = itemOf(item).act;
    // A line with every cell filled, prescribed, the vet's own and no vaccine, of the act that the item is of.
    const acts = { purchase: 'received', administration: 'given', disposal: 'disposed' } as const;
    const full = bookLine({
      ...Object.fromEntries(COLUMN_NAMES.map((name) => [name, 'x'])),
      act: acts[act],
      state: 'stands',
      supply: 'vet-prescription',
      from: 'the vet',
      purpose: 'antibiotic',
    });
    const of = (line: BookLine) =>
      gapsOf(line, profile ? [profile] : [], { milk: true }, 0).map((gap) => gap.item);
    expect(of(full)).toEqual([]);
    const blank = Object.fromEntries(itemOf(item).columns.map((column) => [column, '']));
    expect(of({ ...full, ...blank })).toEqual([item]);
    expect(of({ ...full, ...blank, state: 'corrected' })).toEqual([]);
  });

  test('no gap is false: each is found again in what was written, by another way', async () => {
    await ask('set-record-rules', { holding, profile: 'eu', assurance: { items: ['traceable'], own: [] } });
    const { gaps, looked } = await ask('book-gaps', YEAR);
    const standing = lines.filter((line) => line.state === 'stands');
    expect(looked).toEqual({
      purchase: standing.filter(({ act }) => act === 'received').length,
      administration: standing.filter(({ act }) => act === 'given').length,
      disposal: standing.filter(({ act }) => act === 'disposed' || act === 'returned').length,
    });
    const named = new Set(gaps.map((gap) => `${gap.item} ${gap.entry.request}#${gap.entry.n}`));
    const expected = new Set<string>();
    const resolved = new Set(
      everyEntry().flatMap(({ kind, data }) => (kind === 'hold-ended' ? [data.hold] : [])),
    );
    for (const { name, kind, data } of everyEntry()) {
      // The one who came through unread in the last autumn and of whom nobody knows yet: asked of its session.
      if (kind === 'held' && data.cause === 'possibly-treated' && !resolved.has(data.hold)) {
        expected.add(`possibly-treated ${String(data.session).replace('.', '#')}`);
      }
      if (!standing.some((line) => line.entry === name)) continue;
      if (kind === 'batch-received' && data.proof === undefined) expected.add(`proof ${name}`);
      if (kind === 'administered') {
        const line = standing.find((one) => one.entry === name);
        if (line?.prescriber === '' && line.supply.startsWith('vet-')) {
          expected.add(`prescriber ${name}`);
          expected.add(`prescription ${name}`);
        }
      }
    }
    // The one treatment of a part of a lot that the demo tells of.
    const part = [...named].filter((one) => one.startsWith('traceable'));
    expect(part).toHaveLength(1);
    expect([...named].filter((one) => !one.startsWith('traceable')).sort()).toEqual([...expected].sort());
  });

  test('once everything is filled in or explained, nothing is open', async () => {
    const { gaps } = await ask('book-gaps', YEAR);
    for (const gap of gaps) {
      if (gap.item === 'proof') {
        await ask('complete-entry', { entry: gap.entry, proof: '=DEMO-1', reason: 'Found in the drawer' });
      } else if (gap.mend.how === 'session') {
        const { possibly } = await ask('session', { session: gap.mend.session ?? '' });
        for (const { hold, subject } of possibly) {
          await ask('resolve-possible', { hold, subject, how: 'not-treated', why: 'Was in the other pen' });
        }
      } else await ask('explain-gap', { gap: gap.gap, says: 'The paper is with the vet' });
    }
    const { open, explained } = await ask('book-gaps', YEAR);
    expect(open).toBe(0);
    expect(explained).toBeGreaterThan(0);
  });
});

test('the law of the holding chooses its profile, and another may be chosen', () => {
  expect(['eu', 'gb', 'ni', 'us', 'nz', 'other'].map((law) => profilesFor(law)[0]?.id)).toEqual([
    'eu',
    'gb',
    'ni',
    'us',
    'plain',
    'plain',
  ]);
  expect(
    profilesFor('other', { profile: 'victoria', assurance: { items: ['reason'], own: [] } }).map(
      ({ id }) => id,
    ),
  ).toEqual(['victoria', 'assurance']);
});

/** Every entry as it was first written. */
function everyEntry() {
  return journal
    .split('\n')
    .slice(0, -1)
    .map((line) => {
      const { request, n, kind, data } = JSON.parse(line) as {
        request: string;
        n: number;
        kind: string;
        data: Record<string, unknown>;
      };
      return { name: `${request}#${n}`, kind, data };
    });
}
