import { parentPort, workerData } from 'node:worker_threads';
import { type Fault, faultOf } from '../../src-shared/refusal.ts';

/** What a thread is started with. */
export type JobStart = { name: string; input: unknown };

/** What a thread tells the one who started it. */
export type JobReport<T> =
  | { what: 'progress'; done: number; total: number }
  | { what: 'done'; value: T }
  | { what: 'refused'; fault: Fault };

export type JobTools = {
  /** Tells how far it is. May be called as often as one likes; it is passed on at most ten times a second. */
  progress(done: number, total: number): void;
};

/** A job takes plain data and answers plain data. It opens what it reads by itself. */
export type Job = (input: unknown, tools: JobTools) => unknown;

const BETWEEN_REPORTS_MS = 100;

/**
 * Passes progress on at most once in 100 ms, and always when all is done.
 * @param nowMs a steady clock in milliseconds
 */
export function tenASecond(
  send: (done: number, total: number) => void,
  nowMs: () => number,
): (done: number, total: number) => void {
  let last = Number.NEGATIVE_INFINITY;
  return (done, total) => {
    const now = nowMs();
    if (done < total && now - last < BETWEEN_REPORTS_MS) return;
    last = now;
    send(done, total);
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
    (done, total) => post({ what: 'progress', done, total }),
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
