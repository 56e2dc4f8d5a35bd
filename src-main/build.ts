import { createHash } from 'node:crypto';
import { existsSync, globSync, mkdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { setTimeout as later } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { runToEnd } from './electron-runtime.ts';

/** The three parts that are built, in the words of the build configuration. */
export type Part = 'main' | 'preload' | 'renderer';

const sourcesOf: Readonly<Record<Part, readonly string[]>> = {
  main: ['src-main/**/*', 'src-shared/**/*'],
  preload: ['src-main/host-electron/**/*', 'src-shared/**/*'],
  renderer: ['src-renderer/**/*', 'src-shared/**/*'],
};
const common = ['electron.vite.config.ts', 'package.json', 'package-lock.json', 'tsconfig.json'];
const resultOf: Readonly<Record<Part, string>> = {
  main: 'main/electron.js',
  preload: 'preload/preload.cjs',
  renderer: 'renderer/index.html',
};

const longestBuildMs = 5 * 60_000;

/** The folder of the program: the one that holds src-main. */
export const programFolder = fileURLToPath(new URL('..', import.meta.url));

/** One hash over the names and bytes of everything a part is built from. */
export function hashOfSources(folder: string, part: Part): string {
  const hash = createHash('sha256');
  const files = globSync([...sourcesOf[part]], { cwd: folder, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => path.join(entry.parentPath, entry.name));
  files.push(...common.map((name) => path.join(folder, name)).filter((file) => existsSync(file)));
  for (const file of files.sort()) {
    const bytes = readFileSync(file);
    // Lengths first, so that no two different sets of files run together into the same bytes.
    hash.update(`${path.relative(folder, file).split(path.sep).join('/')}\n${bytes.length}\n`);
    hash.update(bytes);
  }
  return hash.digest('hex');
}

function stampFile(folder: string, part: Part): string {
  return path.join(folder, 'out', `${part}.stamp`);
}

/** True when a part is built, and from exactly these sources. */
export function isBuilt(folder: string, part: Part, hash = hashOfSources(folder, part)): boolean {
  const stamp = stampFile(folder, part);
  return (
    existsSync(path.join(folder, 'out', resultOf[part])) &&
    existsSync(stamp) &&
    readFileSync(stamp, 'utf8') === hash
  );
}

function isRunning(id: number): boolean {
  try {
    process.kill(id, 0);
    return true;
  } catch (thrown) {
    return thrown instanceof Error && 'code' in thrown && thrown.code === 'EPERM';
  }
}

/** True when a builder left its lock behind: nobody answers to its number, or no build takes this long. */
function isAbandoned(lock: string): boolean {
  const made = statSync(lock, { throwIfNoEntry: false });
  if (made === undefined) return false;
  if (Date.now() - made.mtimeMs > longestBuildMs) return true;
  // Empty for the moment between making the file and writing the number into it.
  const holder = Number(readFileSync(lock, 'utf8'));
  return holder > 0 && !isRunning(holder);
}

/** Waits until nobody else builds here, and takes the turn. Returns how to give it back. */
async function takeTurn(folder: string): Promise<() => void> {
  const lock = path.join(folder, 'out', 'building');
  mkdirSync(path.dirname(lock), { recursive: true });
  for (;;) {
    try {
      writeFileSync(lock, String(process.pid), { flag: 'wx' });
      return () => rmSync(lock, { force: true });
    } catch (thrown) {
      if (!(thrown instanceof Error && 'code' in thrown && thrown.code === 'EEXIST')) throw thrown;
    }
    if (isAbandoned(lock)) rmSync(lock, { force: true });
    await later(100);
  }
}

/**
 * Builds the parts whose sources changed since they were last built, one after another; two programs that
 * start at once build once. Returns false when a part could not be built; what the builder said went to
 * standard error.
 */
export async function ensureBuilt(
  parts: readonly Part[],
  say: (line: string) => void,
  folder = programFolder,
): Promise<boolean> {
  if (parts.every((part) => isBuilt(folder, part))) return true;
  const giveBack = await takeTurn(folder);
  try {
    for (const part of parts) {
      const hash = hashOfSources(folder, part);
      if (isBuilt(folder, part, hash)) continue;
      say(
        part === 'renderer'
          ? 'Foldbook builds its screens. This takes some seconds.'
          : `Foldbook builds its ${part} part.`,
      );
      rmSync(stampFile(folder, part), { force: true });
      const script = fileURLToPath(new URL('./build-part.ts', import.meta.url));
      const ended = await runToEnd(process.execPath, [script, part], { folder });
      if (ended.code !== 0 || !existsSync(path.join(folder, 'out', resultOf[part]))) return false;
      writeFileSync(stampFile(folder, part), hash);
    }
    return true;
  } finally {
    giveBack();
  }
}
