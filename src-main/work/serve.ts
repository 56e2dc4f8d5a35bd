import { parentPort, workerData } from 'node:worker_threads';
import { type Fault, faultOf } from '../../src-shared/refusal.ts';

/** What a thread is started with. */
export type JobStart = { name: string; input: unknown };

/** What a thread tells the one who started it. */
export type JobReport<T> =
  | { what: 'progress'; done: number; total: number; step?: string | undefined }
  | { what: 'done'; value: T }
  | { what: 'refused'; fault: Fault };

/**
 * Tells how far work is. With a step, in words ("Placing lines on pages"), it is how far that step is, and a total of 0
 * says that this cannot be known.
 */
export type TellProgress = (done: number, total: number, step?: string) => void;

export type JobTools = {
  /** May be called as often as one likes; it is passed on at most ten times a second. */
  progress: TellProgress;
};

/** A job takes plain data and answers plain data. It opens what it reads by itself. */
export type Job = (input: unknown, tools: JobTools) => unknown;

const BETWEEN_REPORTS_MS = 100;

/**
 * Passes progress on at most once in 100 ms, and always when all is done and when a new step begins.
 * @param nowMs a steady clock in milliseconds
 */
export function tenASecond(send: TellProgress, nowMs: () => number): TellProgress {
  let last = Number.NEGATIVE_INFINITY;
  let lastStep: string | undefined;
  return (done, total, step) => {
    const now = nowMs();
    const isEnd = done >= total && total > 0;
    if (!isEnd && step === lastStep && now - last < BETWEEN_REPORTS_MS) return;
    last = now;
    lastStep = step;
    send(done, total, step);
  };
}

/**
 * Runs the job this thread was started for, and answers. A Refusal crosses as its fault; any other error ends
 * the thread with it.
 */
export async function serveJobs(jobs: Readonly<Record<string, Job>>): Promise<void> {
  const port = parentPort;
  if (!port) throw new Error('the worker module was started outside a thread');
  const post = (report: JobReport<unknown>) => port.postMessage(report);
  const { name, input }: JobStart = workerData;
  const job = Object.hasOwn(jobs, name) ? jobs[name] : undefined;
  if (!job) throw new Error(`the worker has no job called ${name}`);
  const progress = tenASecond(
    (done, total, step) => post({ what: 'progress', done, total, step }),
    () => performance.now(),
  );
  let value: unknown;
  try {
    value = await job(input, { progress });
  } catch (thrown) {
    // Throws on whatever is not a Refusal, which ends the thread with that error.
    return post({ what: 'refused', fault: faultOf(thrown) });
  }
  post({ what: 'done', value });
}
