import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { openDesk } from '../../src-main/answers/desk.ts';
import { addDays } from '../../src-shared/time/day.ts';
import { benchFarm, today } from './farm.ts';
import type { Line } from './measure.ts';

const ROWS = 10_000;
const WORKER = new URL('../../src-main/work/worker.ts', import.meta.url);
const BARE = fileURLToPath(new URL('./bare-paper.ts', import.meta.url));
const SAMPLE_MS = 50;

type Run = { ms: number; megabytes: number };

/** Runs work in its thread, and says how long it took and by how much the memory of the process rose at most. */
async function measured(work: () => Promise<unknown>): Promise<Run> {
  const before = process.memoryUsage.rss();
  let most = before;
  const timer = setInterval(() => {
    most = Math.max(most, process.memoryUsage.rss());
  }, SAMPLE_MS);
  const begun = performance.now();
  try {
    await work();
  } finally {
    clearInterval(timer);
  }
  return { ms: performance.now() - begun, megabytes: (most - before) / 1e6 };
}

/** In a process of its own: memory that a thread gives back stays with its process, and would hide what the next takes. */
async function bare(): Promise<Run> {
  const { stdout } = await promisify(execFile)(process.execPath, [BARE, String(ROWS)]);
  return JSON.parse(stdout) as Run;
}

/** The treatment record of 10,000 administrations printed in the worker, beside bare pdfmake; and the desk meanwhile. */
export async function largeBook(): Promise<Line[]> {
  const farm = await benchFarm();
  try {
    await farm.take(ROWS);
    const medicine = await farm.stock();
    const { groups } = await farm.ask('groups', {});
    const { session } = await farm.ask('open-session', {
      holding: farm.holding,
      groups: groups.map(({ group }) => group),
      lines: [{ medicine, reason: 'Worms' }],
      name: 'All at once',
      mode: 'mass',
    });
    await farm.ask('treat-many', { session });
    await farm.desk.close();
    const desk = openDesk({ book: farm.book, clock: () => new Date().toISOString(), worker: WORKER });
    try {
      const waits: number[] = [];
      let isPrinting = true;
      const ask = {
        holding: farm.holding,
        from: addDays(today(), -1),
        to: addDays(today(), 1),
        form: 'treatments',
      };
      const paper = measured(async () => {
        const made = await desk.call('book-paper', ask);
        isPrinting = false;
        if (!made.ok) throw new Error(made.error.message);
        const { rows } = made.value as { rows: number };
        if (rows !== ROWS) throw new Error(`the paper has ${rows} rows`);
      });
      while (isPrinting) {
        const begun = performance.now();
        const answer = await desk.call('book', { from: ask.from, to: ask.to, limit: 50 });
        if (!answer.ok) throw new Error(answer.error.message);
        waits.push(performance.now() - begun);
        await new Promise((resolve) => setTimeout(resolve, 1000));
      }
      const was = await paper;
      const beside = await bare();
      const of = (value: number, unit: string) => ({ values: [value], unit });
      return [
        {
          what: 'A treatment record of 10,000 administrations as a PDF in the worker, read from the book',
          was: of(was.ms, 'ms'),
          beside: { what: 'bare pdfmake with the same columns, widths and font', was: of(beside.ms, 'ms') },
        },
        {
          what: 'Memory it took at most beyond what the desk had',
          was: of(was.megabytes, 'MB'),
          beside: { what: 'bare pdfmake', was: of(beside.megabytes, 'MB') },
        },
        {
          what: 'A page of 50 lines of the book asked for meanwhile',
          was: { values: waits, unit: 'ms' },
        },
      ];
    } finally {
      await desk.close();
    }
  } finally {
    await farm.close();
  }
}
