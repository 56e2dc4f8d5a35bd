import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const root = fileURLToPath(new URL('..', import.meta.url));

export default defineConfig({
  root,
  test: {
    include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
    pool: 'forks',
    testTimeout: 30_000,
    hookTimeout: 120_000,
    reporters: ['default', './tests/count-reporter.ts'],
  },
});
