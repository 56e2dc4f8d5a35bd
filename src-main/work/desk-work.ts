import type { Backup } from '../store/backup.ts';
import type { StoreParts } from '../store/store.ts';
import type { Verified } from '../store/verify.ts';
import type { WorkTools } from './board.ts';
import { runJob } from './run.ts';
import { storeJobs } from './store-jobs.ts';

/** The long work that answers ask for beside the open book, with what each takes and answers. */
export type DeskWork = {
  verify: { input: { book: string; head?: string }; answer: Verified };
  backup: { input: { book: string; to: string }; answer: Backup };
};

/** Does one piece of long work. Throws the Refusal of the work, or `cancelled` when it was ended. */
export type Work = <N extends keyof DeskWork>(
  name: N,
  input: DeskWork[N]['input'],
  tools: WorkTools,
) => Promise<DeskWork[N]['answer']>;

/**
 * Long work in a thread of its own where the host hands in the worker module, so that the desk answers meanwhile;
 * else in this thread: a terminal waits for its one answer anyway.
 */
export function deskWork(parts: StoreParts, workerUrl?: URL): Work {
  if (workerUrl) return (name, input, tools) => runJob(name, input, { workerUrl, ...tools });
  const jobs = storeJobs(parts);
  return async (name, input, { onProgress }) => {
    const job = jobs[name];
    if (!job) throw new Error(`there is no job called ${name}`);
    // Each job answers what the function of its name answers, as DeskWork says it.
    return job(input, { progress: onProgress }) as Promise<DeskWork[typeof name]['answer']>;
  };
}
