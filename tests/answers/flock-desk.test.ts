import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { openDesk } from '../../src-main/answers/desk.ts';
import { bytesOf } from '../exchange/fixture.ts';

test('a file handed to the desk is previewed by its token, and refusals come in the envelope', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'foldbook-flock-'));
  const desk = await openDesk({ book: join(folder, 'a.foldbook'), clock: () => '2026-04-12T10:00:00.000Z' });
  try {
    const file = desk.file('flock.csv', bytesOf('flock-utf8.csv'));
    const preview = await desk.call('preview-animals', { file });
    expect(preview).toMatchObject({
      ok: true,
      value: { encoding: 'utf-8', totals: { in: 6, taken: 6, refused: 0, alreadyThere: 0 } },
    });
    const gone = await desk.call('preview-animals', { file: { token: 'gone' } });
    expect(gone).toMatchObject({ ok: false, error: { code: 'file-gone', field: 'file' } });
    const none = await desk.call('find-subject', { read: '826012345600001' });
    expect(none).toEqual({ ok: true, value: { found: [] } });
  } finally {
    await desk.close();
    rmSync(folder, { recursive: true });
  }
});
