import { KINDS_OF_ENTRY } from '../../src-shared/entries/all.ts';
import { bookJobs } from '../answers/book/jobs.ts';
import { paperJobs } from '../paper/jobs.ts';
import { projections, projectionVersion } from '../store/projections.ts';
import { kindsOf } from '../store/store.ts';
import { serveJobs } from './serve.ts';
import { storeJobs } from './store-jobs.ts';

/**
 * The worker module: started by `runJob` in a thread of its own, never imported. Each job is one line of the
 * table.
 */
const parts = { kinds: kindsOf(Object.values(KINDS_OF_ENTRY)), projections, projectionVersion };

await serveJobs({ ...storeJobs(parts), ...bookJobs(parts.kinds), ...paperJobs });
