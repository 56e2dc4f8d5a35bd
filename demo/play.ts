import { spawn } from 'node:child_process';
import { homedir } from 'node:os';
import path from 'node:path';
import { Refusal } from '../src-shared/refusal.ts';
import { demoHelp, readDemoOptions } from './options.ts';
import { buildInPlace, demoIsThere } from './place.ts';

// npm run demo: builds the invented farm and opens it in the desk; with --no-window it only builds and prints.

const say = (line: string): void => {
  process.stdout.write(`${line}\n`);
};

async function build(book: string, out: string): Promise<void> {
  say('Building the demo farm. Everything in it is invented: farm, people, medicines, substances.');
  const started = performance.now();
  const built = await buildInPlace(book, out);
  const seconds = ((performance.now() - started) / 1000).toFixed(1);
  say(`DEMO book:          ${built.book}`);
  say(`Entries:            ${built.entries}, built in ${seconds} s`);
  say(`Check code:         ${built.checkCode}`);
  say(`Treatment record:   ${built.papers.record}`);
  say(`Declaration:        ${built.papers.declaration}`);
}

/** The same program as `npm start`, on the demo book. */
function open(book: string): Promise<number> {
  const start = path.join(import.meta.dirname, '..', 'src-main', 'start.ts');
  return new Promise((resolve, reject) => {
    const desk = spawn(process.execPath, [start, '--book', book], { stdio: 'inherit' });
    // It gets the same Ctrl+C from the terminal, ends in its own time, and the demo with it.
    const wait = (): void => {};
    const pass = (): void => void desk.kill('SIGTERM');
    process.on('SIGINT', wait);
    process.on('SIGTERM', pass);
    desk.once('error', reject);
    desk.once('exit', (code) => {
      process.off('SIGINT', wait);
      process.off('SIGTERM', pass);
      resolve(code ?? 0);
    });
  });
}

async function play(): Promise<number> {
  const options = readDemoOptions(
    process.argv.slice(2),
    { platform: process.platform, env: process.env, home: homedir() },
    process.cwd(),
  );
  if (options.help) {
    say(demoHelp);
    return 0;
  }
  if (options.noWindow) {
    await build(options.book, options.out);
    return 0;
  }
  if (options.fresh || !(await demoIsThere(options.book))) await build(options.book, options.out);
  else say(`The demo farm is there already: ${options.book}. With --fresh it is built anew.`);
  return open(options.book);
}

try {
  process.exitCode = await play();
} catch (thrown) {
  if (!(thrown instanceof Refusal)) throw thrown;
  process.stderr.write(`${[thrown.message, thrown.next ?? ''].join(' ').trim()}\n`);
  process.exitCode = 2;
}
