import { createHash, randomUUID } from 'node:crypto';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { START } from '../../demo/farm.ts';
import { readDemoOptions } from '../../demo/options.ts';
import { buildInPlace, demoIsThere } from '../../demo/place.ts';
import { openDesk } from '../../src-main/answers/desk.ts';
import { Refusal } from '../../src-shared/refusal.ts';

const folder = mkdtempSync(join(tmpdir(), 'foldbook-demo-place-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function bookOf(name: string, demo: boolean): Promise<string> {
  const book = join(folder, name);
  const desk = openDesk({ book, clock: () => '2026-11-20T12:00:00.000Z' });
  const business = { ...START.business, demo };
  const { holding, keeper } = START;
  const asked = { request: randomUUID(), by: 'nobody', business, holding, keeper };
  expect(await desk.call('start-book', asked)).toMatchObject({ ok: true });
  await desk.close();
  return book;
}

const hashOf = (file: string) => createHash('sha256').update(readFileSync(file)).digest('hex');

test('a demo that is there is known, and where nothing is there is none', async () => {
  expect(await demoIsThere(join(folder, 'none.foldbook'))).toBe(false);
  expect(await demoIsThere(await bookOf('demo.foldbook', true))).toBe(true);
});

test('a farm’s own book is refused and stays as it was, and nothing is left beside it', async () => {
  const book = await bookOf('own.foldbook', false);
  const before = hashOf(book);
  const there = readdirSync(folder);
  await expect(buildInPlace(book, folder)).rejects.toMatchObject({ code: 'not-a-demo' });
  expect(hashOf(book)).toBe(before);
  expect(readdirSync(folder)).toEqual(there);
});

test('a file that is no book is refused', async () => {
  await expect(demoIsThere(import.meta.filename)).rejects.toMatchObject({ code: 'not-a-book' });
});

describe('the command line', () => {
  const computer = {
    platform: 'linux' as const,
    env: { FOLDBOOK_BOOK: '/own/farm.foldbook' },
    home: '/home/someone',
  };
  const read = (...words: string[]) => readDemoOptions(words, computer, '/here');

  test('has a book of its own, whatever the usual one is', () => {
    expect(read()).toEqual({
      book: '/home/someone/.local/share/foldbook/demo.foldbook',
      out: '/home/someone/.local/share/foldbook',
      noWindow: false,
      fresh: false,
      help: false,
    });
  });

  test('the papers lie beside the book unless another folder is named', () => {
    expect(read('--book', 'a/x.foldbook', '--no-window')).toMatchObject({
      book: '/here/a/x.foldbook',
      out: '/here/a',
      noWindow: true,
    });
    expect(read('--out', 'papers', '--fresh')).toMatchObject({ out: '/here/papers', fresh: true });
  });

  test.each([[['--farm']], [['x.foldbook']], [['--book']], [['--book', '']]])('refuses %j', (words) => {
    expect(() => read(...words)).toThrow(Refusal);
  });
});
