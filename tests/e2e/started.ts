import { spawn } from 'node:child_process';
import path from 'node:path';
import { programFolder } from '../../src-main/build.ts';

/** The address that a started desk prints. */
export const printedAddress = /(http:\/\/127\.0\.0\.1:\d+\/#key=[\w-]{43})\n/;

/**
 * Starts Foldbook as `npm start` does, in a process of its own, on a computer without internet, display or home of
 * its own.
 * @param folder its home and where it is started; a temporary folder of the caller
 */
export function startProgram(folder: string, words: readonly string[], env: Record<string, string> = {}) {
  const child = spawn(process.execPath, [path.join(programFolder, 'src-main', 'start.ts'), ...words], {
    cwd: folder,
    env: { HOME: folder, PATH: path.join(folder, 'empty'), FOLDBOOK_NO_FETCH: '1', ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let said = '';
  let told = (): void => {};
  const hear = (chunk: Buffer): void => {
    said += chunk.toString('utf8');
    told();
  };
  child.stdout.on('data', hear);
  child.stderr.on('data', hear);
  const ended = new Promise<number | null>((resolve) => child.once('close', (code) => resolve(code)));
  return {
    /** Its exit code; null when it was killed. */
    ended,
    said: () => said,
    /** Asks it to end, as Ctrl+C does. */
    stop: () => child.kill('SIGINT'),
    /** Ends it where it stands; nothing in it runs any more. Does nothing to one that has ended. */
    kill: () => child.kill('SIGKILL'),
    /** Resolves with what a pattern finds as soon as it is said; rejects when the program ends before. */
    hears: (pattern: RegExp) =>
      new Promise<string>((resolve, reject) => {
        told = () => {
          const found = pattern.exec(said);
          if (found !== null) resolve(found[1] ?? found[0]);
        };
        told();
        void ended.then((code) => reject(new Error(`ended with ${code} after saying:\n${said}`)));
      }),
  };
}
export type Started = ReturnType<typeof startProgram>;
