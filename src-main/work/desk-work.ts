import type { BookWork } from '../answers/book/jobs.ts';
import type { Backup } from '../store/backup.ts';
import type { Verified } from '../store/verify.ts';
import type { WorkTools } from './board.ts';
import { runJob } from './run.ts';
import type { Job } from './serve.ts';

/** The long work that answers ask for beside the open book, with what each takes and answers. */
export type DeskWork = {
  verify: { input: { book: string; head?: string }; answer: Verified };
  backup: { input: { book: string; to: string }; answer: Backup };
  'book-gaps': BookWork['book-gaps'];
  'book-volumes': BookWork['book-volumes'];
  'book-table': BookWork['book-table'];
  pack: BookWork['pack'];
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
 * @param jobs the same that the worker module has
 */
export function deskWork(jobs: Readonly<Record<string, Job>>, workerUrl?: URL): Work {
  if (workerUrl) return (name, input, tools) => runJob(name, input, { workerUrl, ...tools });
  return async (name, input, { onProgress }) => {
    const job = jobs[name];
    if (!job) throw new Error(`there is no job called ${name}`);
    // Each job answers what the function of its name answers, as DeskWork says it.
    return job(input, { progress: onProgress }) as Promise<DeskWork[typeof name]['answer']>;
  };
}
