import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';
import LongestFirst from './longest-first.ts';

const root = fileURLToPath(new URL('..', import.meta.url));
const common = { root, pool: 'forks', testTimeout: 30_000, hookTimeout: 120_000 } as const;

export default defineConfig({
  root,
  test: {
    maxWorkers: 2,
    sequence: { sequencer: LongestFirst },
    reporters: ['default', './tests/count-reporter.ts'],
    projects: [
      {
        test: {
          ...common,
          name: 'desk',
          // The program keeps nothing between two books, so its modules are loaded once a worker: half the time.
          isolate: false,
          include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
          exclude: ['tests/e2e/**'],
        },
      },
      {
        // A real browser on a busy machine can miss its moment once. What is wrong fails twice.
        test: { ...common, name: 'browser', include: ['tests/e2e/**/*.test.ts'], retry: 1 },
      },
    ],
  },
});
