import { setTimeout as wait } from 'node:timers/promises';
import { serveJobs } from '../../src-main/work/serve.ts';
import { storeJobs } from '../../src-main/work/store-jobs.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import { toyParts } from './toys.ts';

/** A worker module as the program has one, over the toy kinds, with jobs that misbehave on purpose. */
await serveJobs({
  ...storeJobs(toyParts),
  refuse: () => {
    throw new Refusal('toy-no', 'The toy says no.', { field: 'toy', next: 'Ask again.' });
  },
  fail: () => {
    throw new Error('a fault of ours');
  },
  leave: () => process.exit(3),
  // Never ends by itself, and never lets its thread rest.
  endless: (_input, { progress }) => {
    for (let i = 0; ; i += 1) progress(i % 1000, 1000);
  },
  late: async (input) => {
    await wait(1);
    return input;
  },
});
