import { serveJobs } from '../work/serve.ts';
import { paperJobs } from './jobs.ts';

// A thread that prints papers and nothing else, for whoever has no worker for all long work.
await serveJobs(paperJobs);
