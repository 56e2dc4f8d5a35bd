import { Worker } from 'node:worker_threads';
import { Refusal } from '../../src-shared/refusal.ts';
import type { JobReport, JobStart, TellProgress } from './serve.ts';

export type RunOptions = {
  /** The worker module, handed in by the host: built and unbuilt lie in different places. */
  workerUrl: URL;
  /** How far it is; called at most ten times a second, once for each new step, and once when done. */
  onProgress?: TellProgress;
  /** Ends the thread at once. What it was writing is left under its `.part` name, never under the real one. */
  signal?: AbortSignal;
};

/**
 * Room for what is made and soon thrown away, in MB; it is taken only by work that needs it. Ten thousand lines of a
 * paper are laid out in two thirds of the time that they take with the usual 48.
 */
const YOUNG_MB = 192;

/** What the caller of ended work is told. */
export function cancelled(): Refusal {
  return new Refusal('cancelled', 'This was cancelled.', { next: 'Start it again when you want it.' });
}

/**
 * Runs one job of the worker module in a thread of its own, so that the desk answers meanwhile.
 * @param input plain data that can be sent to a thread
 * @returns what the job answers, typed by the caller: both sides are of one build
 * @throws Refusal as the job threw it; Refusal `cancelled`; Error for a fault in the program
 */
export function runJob<T>(name: string, input: unknown, options: RunOptions): Promise<T> {
  const { workerUrl, onProgress, signal } = options;
  if (signal?.aborted) return Promise.reject(cancelled());
  const start: JobStart = { name, input };
  const worker = new Worker(workerUrl, {
    workerData: start,
    resourceLimits: { maxYoungGenerationSizeMb: YOUNG_MB },
  });
  return new Promise<T>((resolve, reject) => {
    let settled = false;
    const settle = (finish: () => void) => {
      if (settled) return;
      settled = true;
      signal?.removeEventListener('abort', abort);
      // The thread must be gone before the caller goes on, so that no file is still open in it.
      worker.terminate().then(finish, reject);
    };
    const abort = () => settle(() => reject(cancelled()));
    signal?.addEventListener('abort', abort);
    worker.on('message', (report: JobReport<T>) => {
      if (report.what === 'progress') {
        if (!settled) onProgress?.(report.done, report.total, report.step);
      } else if (report.what === 'done') settle(() => resolve(report.value));
      else settle(() => reject(refusalOf(report)));
    });
    worker.on('error', (thrown) => settle(() => reject(thrown)));
    worker.on('exit', (code) =>
      settle(() => reject(new Error(`the job ${name} ended without an answer (exit code ${code})`))),
    );
  });
}

function refusalOf({ fault }: Extract<JobReport<unknown>, { what: 'refused' }>): Refusal {
  return new Refusal(fault.code, fault.message, { field: fault.field, next: fault.next });
}
