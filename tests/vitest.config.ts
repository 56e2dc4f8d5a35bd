import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const root = fileURLToPath(new URL('..', import.meta.url));
const common = { root, pool: 'forks', testTimeout: 30_000, hookTimeout: 120_000 } as const;

export default defineConfig({
  root,
  test: {
    maxWorkers: 2,
    reporters: ['default', './tests/count-reporter.ts'],
    projects: [
      {
        test: {
          ...common,
          name: 'desk',
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
