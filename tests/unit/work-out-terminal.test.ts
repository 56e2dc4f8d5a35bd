import { execFile } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { programFolder } from '../../src-main/build.ts';
import { askOf } from '../../src-renderer/screens/work-out/fill.ts';
import { partsOf } from '../../src-renderer/screens/work-out/sentence.ts';
import { SENTENCES } from '../../src-renderer/screens/work-out/sentences.ts';
import { workOut } from '../../src-shared/calls/work-out.ts';
import { refused } from './refused.ts';

vi.setConfig({ testTimeout: 60_000 });

const home = mkdtempSync(path.join(tmpdir(), 'foldbook-work-out-terminal-'));
afterAll(() => rmSync(home, { recursive: true, force: true }));

/** Runs the terminal in a home of its own, in which nothing is. */
function run(topic: string, json: string): Promise<{ code: number; out: string; err: string }> {
  const program = path.join(programFolder, 'src-main', 'host-command', 'desk.ts');
  return new Promise((resolve) => {
    execFile(
      process.execPath,
      [program, 'work-out', topic, json],
      { cwd: home, env: { HOME: home, PATH: '' } },
      (failed, out, err) => {
        const code = failed === null ? 0 : typeof failed.code === 'number' ? failed.code : -1;
        resolve({ code, out, err });
      },
    );
  });
}

/** Each start of the program takes a second or more; the topics go one way through it. */
const STARTED = ['dose', 'draft', 'clearance'];

describe('what a screen asks, asked in a terminal', () => {
  it.each(SENTENCES)('$topic refuses to be asked nothing, in one sentence', ({ topic }) => {
    const { field, message } = refused(() => workOut(topic, {}));
    expect(field).toMatch(/^\w+$/);
    expect(message).toMatch(/^[A-Z].*\.$/);
  });

  it.each(SENTENCES.filter(({ topic }) => STARTED.includes(topic)))(
    '$topic: the same reply, and a refusal as one line of JSON; no book is made',
    async (sentence) => {
      const ask = askOf(sentence, sentence.example, partsOf(sentence, sentence.example));
      const right = await run(sentence.topic, JSON.stringify(ask));
      expect(right).toMatchObject({ code: 0, err: '' });
      // What is undefined in a reply is not there in JSON.
      expect(JSON.parse(right.out)).toEqual(JSON.parse(JSON.stringify(workOut(sentence.topic, ask))));

      const empty = await run(sentence.topic, '{}');
      expect(empty).toMatchObject({ code: 2, out: '' });
      expect(empty.err.trimEnd().split('\n')).toHaveLength(1);
      const { error } = JSON.parse(empty.err);
      expect(error.code).toMatch(/^[a-z-]+$/);
      expect(error.field).not.toBe('');
      expect(error.message).toMatch(/^[A-Z].*\.$/);
      expect(readdirSync(home)).toEqual([]);
    },
  );
});
