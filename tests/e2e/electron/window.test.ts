import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { _electron } from 'playwright-core';
import { expect, test } from 'vitest';
import { ensureBuilt, programFolder } from '../../../src-main/build.ts';
import { electronPackage, findRuntime, hasDisplay } from '../../../src-main/electron-runtime.ts';

const folder = electronPackage();
const runtime = folder && findRuntime(folder, process.env.ELECTRON_OVERRIDE_DIST_PATH);
const canRun = runtime !== undefined && hasDisplay(process.platform, process.env);
if (!canRun) {
  console.log(
    '\nSKIPPED: the Electron window was NOT tested. Its runtime or a display is missing on this machine.\n',
  );
}

/** Runs only where the runtime is: elsewhere it counts as skipped, and says so above. */
test.skipIf(!canRun)(
  'the window opens on an empty book, shows the first screen, and violates no policy',
  async () => {
    await ensureBuilt(['main', 'preload', 'renderer'], () => {});
    const home = mkdtempSync(path.join(tmpdir(), 'foldbook-window-'));
    const app = await _electron.launch({
      executablePath: runtime ?? '',
      args: [programFolder],
      env: { ...process.env, FOLDBOOK_BOOK: path.join(home, 'empty.foldbook'), HOME: home } as Record<
        string,
        string
      >,
    });
    try {
      const page = await app.firstWindow();
      const heard: string[] = [];
      page.on('console', (message) => {
        if (message.type() === 'error') heard.push(message.text());
      });
      await page.getByRole('heading', { level: 1 }).waitFor();
      expect(new URL(page.url()).protocol).toBe('app:');
      expect(await page.evaluate(() => typeof Reflect.get(window, 'require'))).toBe('undefined');
      expect(heard).toEqual([]);
    } finally {
      await app.close();
      rmSync(home, { recursive: true, force: true });
    }
  },
  120_000,
);
