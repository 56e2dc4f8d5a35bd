import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { ensureBuilt, programFolder } from '../../src-main/build.ts';

/** The browser to test with, and the file that names its fonts where it brings its own. */
export type TestBrowser = { program: string; fonts: string | undefined };

function packageVersion(): string {
  // The package does not let its package.json be resolved by name; it lies above its entry.
  const entry = createRequire(import.meta.url).resolve('@sparticuz/chromium');
  return readFileSync(path.join(path.dirname(entry), '..', 'package.json'), 'utf8');
}

/**
 * Unpacks the browser that comes as a package, once for each version of it, however many test files start at
 * the same time. FOLDBOOK_TEST_BROWSER names an installed Chromium instead: the package is for Linux on x64
 * only.
 */
export async function prepareBrowser(): Promise<TestBrowser> {
  const named = process.env.FOLDBOOK_TEST_BROWSER;
  if (named !== undefined) return { program: named, fonts: undefined };
  if (process.platform !== 'linux' || process.arch !== 'x64') {
    throw new Error('set FOLDBOOK_TEST_BROWSER to an installed Chromium to run the browser tests here');
  }
  const version = createHash('sha256').update(packageVersion()).digest('hex').slice(0, 12);
  const folder = path.join(tmpdir(), `foldbook-test-browser-${version}`);
  if (!existsSync(folder)) await unpackInto(folder);
  return { program: path.join(folder, 'chromium'), fonts: path.join(folder, 'fonts.conf') };
}

async function unpackInto(folder: string): Promise<void> {
  // The package unpacks to the folder for temporary files and takes a half-written browser for a whole one.
  // So it is given a folder of our own, which gets its name only when it is complete.
  const part = `${folder}-${process.pid}`;
  mkdirSync(part, { recursive: true });
  const before = process.env.TMPDIR;
  process.env.TMPDIR = part;
  try {
    const { default: chromium } = await import('@sparticuz/chromium');
    await chromium.executablePath();
  } finally {
    if (before === undefined) delete process.env.TMPDIR;
    else process.env.TMPDIR = before;
  }
  // The package's own list of fonts names folders of another computer; without a font, text has no height.
  writeFileSync(
    path.join(part, 'fonts.conf'),
    `<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig>
  <dir>${path.join(folder, 'fonts')}</dir>
  <cachedir>${path.join(folder, 'font-cache')}</cachedir>
</fontconfig>
`,
  );
  try {
    renameSync(part, folder);
  } catch (thrown) {
    // Another test file was faster and its copy is as good.
    if (!existsSync(folder)) throw thrown;
    rmSync(part, { recursive: true });
  }
}

let screens: Promise<string> | undefined;

/** Builds the screens when their sources changed, once however many test files ask. Returns their folder. */
export function prepareScreens(): Promise<string> {
  // Once for each test file: building again under a running host would take its files away.
  screens ??= buildScreens();
  return screens;
}

async function buildScreens(): Promise<string> {
  const isReady = await ensureBuilt(['renderer'], (line) => process.stderr.write(`${line}\n`));
  if (!isReady) throw new Error('the screens could not be built; see the messages above');
  return path.join(programFolder, 'out', 'renderer');
}
