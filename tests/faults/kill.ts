import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { openStore } from '../../src-main/store/store.ts';
import { verifyBook } from '../../src-main/store/verify.ts';
import { steppingClock, toyParts } from '../store/toys.ts';

const WRITER = fileURLToPath(new URL('./writer.ts', import.meta.url));

/** Starts the writer, kills it as soon as it has said `after` lines, and answers every whole line it said. */
function killedAfter(path: string, run: number, after: number): Promise<string[]> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [WRITER, path, String(run)], {
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    let said = '';
    child.stdout.setEncoding('utf8');
    child.stdout.on('data', (chunk: string) => {
      said += chunk;
      if (said.split('\n').length > after) child.kill('SIGKILL');
    });
    child.on('error', reject);
    child.on('close', (code, signal) => {
      if (signal !== 'SIGKILL') reject(new Error(`the writer ended by itself with code ${code}`));
      else resolve(said.split('\n').slice(0, -1));
    });
  });
}

/**
 * Kills a writer again and again in one book. After each kill every call it had acknowledged is in the book,
 * whole; a call sent again is not done twice; and the book verifies against the last check code it printed.
 * @returns how many calls were acknowledged in all
 */
export async function killAgainAndAgain(path: string, kills: readonly number[]): Promise<number> {
  let acknowledged = 0;
  for (const [run, after] of kills.entries()) {
    const lines = await killedAfter(path, run, after);
    if (lines.length < after) throw new Error(`only ${lines.length} of ${after} lines came before the kill`);
    acknowledged += lines.length;
    const store = openStore(path, toyParts, steppingClock());
    try {
      for (const line of lines) {
        const [request = ''] = line.split(' ');
        for (const n of [1, 2]) {
          if (!store.entryNamed(request, n))
            throw new Error(`run ${run}: ${request}, ${n} was acknowledged and is lost`);
        }
      }
      const [last = ''] = (lines.at(-1) ?? '').split(' ');
      const head = store.head().seq;
      const call = lines.length - 1;
      const reply = store.write(last, call, () => ({ entries: [], reply: -1 }));
      if (reply !== call || store.head().seq !== head) throw new Error(`run ${run}: ${last} was done twice`);
      if (head % 2 !== 0) throw new Error(`run ${run}: half a call is in the book`);
    } finally {
      store.close();
    }
    const [, code = ''] = (lines.at(-1) ?? '').split(' ');
    const verified = verifyBook(path, toyParts, { head: code });
    if (!verified.ok)
      throw new Error(`run ${run}: ${verified.problems.map((problem) => problem.message).join(' ')}`);
  }
  return acknowledged;
}
