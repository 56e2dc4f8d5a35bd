import { copyFileSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import path from 'node:path';
import { openDesk } from '../src-main/answers/desk.ts';
import { identify, moveIntoPlace } from '../src-main/store/book-file.ts';
import type { Reply } from '../src-shared/calls/all.ts';
import { Refusal } from '../src-shared/refusal.ts';
import { type Built, buildDemo } from './build.ts';

/**
 * Whether there is a demo book at this place already. A book that is a farm's own is never built over.
 * @throws Refusal `not-a-book`, `not-a-demo`, `book-in-use`
 */
export async function demoIsThere(book: string): Promise<boolean> {
  if (identify(book) === 'missing') return false;
  const desk = openDesk({ book, clock: () => new Date().toISOString() });
  try {
    const answer = await desk.call('farm', {});
    if (!answer.ok) throw new Refusal(answer.error.code, answer.error.message, { next: answer.error.next });
    if ((answer.value as Reply<'farm'>).business?.demo === true) return true;
  } finally {
    await desk.close();
  }
  throw new Refusal('not-a-demo', `${book} is a book of a farm and not a demo.`, {
    field: '--book',
    next: 'Give the demo another name; this book was left as it is.',
  });
}

/**
 * Builds the demo beside its place and moves it there when it is whole, so that a build that is broken off leaves
 * nothing half made and the demo before it untouched.
 */
export async function buildInPlace(book: string, out: string): Promise<Built> {
  mkdirSync(path.dirname(book), { recursive: true });
  mkdirSync(out, { recursive: true });
  await demoIsThere(book);
  const site = mkdtempSync(path.join(path.dirname(book), '.demo-'));
  try {
    const made = path.join(site, path.basename(book));
    const built = await buildDemo({ book: made, out: site });
    for (const tail of ['-wal', '-shm']) rmSync(book + tail, { force: true });
    moveIntoPlace(made, book);
    const place = (paper: string): string => {
      const placed = path.join(out, path.basename(paper));
      // A copy and no rename: the papers may be wanted on another disk.
      copyFileSync(paper, placed);
      return placed;
    };
    const { record, declaration } = built.papers;
    return { ...built, book, papers: { record: place(record), declaration: place(declaration) } };
  } finally {
    rmSync(site, { recursive: true, force: true });
  }
}
