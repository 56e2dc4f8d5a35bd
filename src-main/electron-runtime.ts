import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';

const fetchLimitMs = 90_000;
const failureHeldMs = 24 * 60 * 60 * 1000;

/** Where the package that brings the runtime lies, or undefined when it is not installed. */
export function electronPackage(): string | undefined {
  try {
    // Its package.json and never the package itself: loading that starts a download.
    return path.dirname(createRequire(import.meta.url).resolve('electron/package.json'));
  } catch {
    return undefined;
  }
}

/**
 * The runtime to start, if it is there: the package writes its name into path.txt when its download is
 * complete. `overrideFolder` is ELECTRON_OVERRIDE_DIST_PATH, a runtime kept elsewhere.
 */
export function findRuntime(packageFolder: string, overrideFolder?: string): string | undefined {
  const note = path.join(packageFolder, 'path.txt');
  const noted = existsSync(note) ? readFileSync(note, 'utf8').trim() : '';
  const folder = overrideFolder ? overrideFolder : path.join(packageFolder, 'dist');
  const name = noted === '' && overrideFolder ? runtimeName(process.platform) : noted;
  if (name === '') return undefined;
  const runtime = path.join(folder, name);
  return existsSync(runtime) ? runtime : undefined;
}

function runtimeName(platform: NodeJS.Platform): string {
  if (platform === 'win32') return 'electron.exe';
  return platform === 'darwin' ? 'Electron.app/Contents/MacOS/Electron' : 'electron';
}

/** True where a window can be shown at all. */
export function hasDisplay(
  platform: NodeJS.Platform,
  env: Readonly<Record<string, string | undefined>>,
): boolean {
  return (
    platform === 'win32' || platform === 'darwin' || Boolean(env.DISPLAY) || Boolean(env.WAYLAND_DISPLAY)
  );
}

/** A child process that ended: its code, or undefined when a signal or the limit ended it. */
export type Ended = { code: number | undefined; ranMs: number };

/** Runs a program to its end, or ends it (only it) after `limitMs`. */
export function runToEnd(
  program: string,
  words: readonly string[],
  options: {
    limitMs?: number;
    env?: NodeJS.ProcessEnv;
    folder?: string;
    signal?: AbortSignal;
    quiet?: boolean;
  } = {},
): Promise<Ended> {
  const startedMs = performance.now();
  return new Promise((resolve) => {
    const child = spawn(program, words, {
      stdio: options.quiet ? 'ignore' : ['ignore', 'inherit', 'inherit'],
      ...(options.env ? { env: options.env } : {}),
      ...(options.folder ? { cwd: options.folder } : {}),
    });
    const end = (): void => {
      child.kill('SIGTERM');
    };
    const timer =
      options.limitMs === undefined ? undefined : setTimeout(() => child.kill('SIGKILL'), options.limitMs);
    options.signal?.addEventListener('abort', end, { once: true });
    const ended = (code: number | null | undefined): void => {
      clearTimeout(timer);
      options.signal?.removeEventListener('abort', end);
      resolve({ code: code ?? undefined, ranMs: performance.now() - startedMs });
    };
    child.once('error', () => ended(undefined));
    child.once('exit', (code) => ended(code));
  });
}

/** The note of a fetch that failed, so that a farm without internet does not wait at every start. */
type FailureNote = { failedAt: string; package: string };

function readNote(file: string): FailureNote | undefined {
  if (!existsSync(file)) return undefined;
  try {
    const note: unknown = JSON.parse(readFileSync(file, 'utf8'));
    if (typeof note !== 'object' || note === null) return undefined;
    if (!('failedAt' in note) || typeof note.failedAt !== 'string') return undefined;
    if (!('package' in note) || typeof note.package !== 'string') return undefined;
    return { failedAt: note.failedAt, package: note.package };
  } catch {
    // A note that cannot be read only costs one more try; the next failure writes it again.
    return undefined;
  }
}

function packageVersion(packageFolder: string): string {
  const stated: unknown = JSON.parse(readFileSync(path.join(packageFolder, 'package.json'), 'utf8'));
  const known = typeof stated === 'object' && stated !== null && 'version' in stated;
  return known ? String(stated.version) : '';
}

/** What fetching came to: `there`, or why not. */
export type Fetched =
  | { kind: 'there'; runtime: string }
  | { kind: 'not-allowed' }
  | { kind: 'failed-before'; at: string }
  | { kind: 'failed' };

export type FetchOptions = {
  packageFolder: string;
  overrideFolder?: string | undefined;
  /** The folder that keeps the note of a failure. */
  notes: string;
  nowMs: number;
  mayFetch: boolean;
  limitMs?: number;
  /** Told just before the download starts. */
  say: (line: string) => void;
};

/**
 * Finds the runtime, or fetches it once by the package's own installer, for at most 90 seconds. A failure is
 * remembered for a day and for this version of the package.
 */
export async function fetchRuntime(options: FetchOptions): Promise<Fetched> {
  const { packageFolder, overrideFolder } = options;
  const there = findRuntime(packageFolder, overrideFolder);
  if (there !== undefined) return { kind: 'there', runtime: there };
  if (!options.mayFetch || overrideFolder) return { kind: 'not-allowed' };
  const noteFile = path.join(options.notes, 'window-runtime.json');
  const version = packageVersion(packageFolder);
  const note = readNote(noteFile);
  if (note !== undefined && note.package === version) {
    const sinceMs = options.nowMs - Date.parse(note.failedAt);
    if (sinceMs >= 0 && sinceMs < failureHeldMs) return { kind: 'failed-before', at: note.failedAt };
  }
  options.say(
    'Foldbook fetches its window runtime (Electron). This happens once and takes up to 90 seconds.',
  );
  await runToEnd(process.execPath, [path.join(packageFolder, 'install.js')], {
    limitMs: options.limitMs ?? fetchLimitMs,
    quiet: true,
  });
  const fetched = findRuntime(packageFolder);
  if (fetched !== undefined) return { kind: 'there', runtime: fetched };
  mkdirSync(options.notes, { recursive: true });
  const failed: FailureNote = { failedAt: new Date(options.nowMs).toISOString(), package: version };
  writeFileSync(noteFile, JSON.stringify(failed));
  return { kind: 'failed' };
}

/** The exit code with which the Electron host says "I refused, and told the person why". */
export const refusedCode = 3;
const earlyMs = 5_000;

/**
 * What the end of the Electron host means: it closed, it refused and said why, or it could not run here and
 * a browser has to do (it ended within five seconds with an error).
 */
export function meaningOfEnd({ code, ranMs }: Ended): 'closed' | 'refused' | 'cannot-run' | 'broke' {
  if (code === 0) return 'closed';
  if (code === refusedCode) return 'refused';
  return ranMs < earlyMs ? 'cannot-run' : 'broke';
}
