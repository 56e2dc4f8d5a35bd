import { spawnSync } from 'node:child_process';

/** npm run check: types, linter, tidy rules, one after the other; stops at the first that fails. */
const STEPS: readonly (readonly [string, readonly string[]])[] = [
  ['tsc', ['-p', '.']],
  ['biome', ['check', '--error-on-warnings', '.']],
  ['vitest', ['run', '--config', 'tests/vitest.config.ts', 'tests/tidy']],
];

for (const [command, words] of STEPS) {
  process.stdout.write(`${command} ${words.join(' ')}\n`);
  const { status } = spawnSync(command, words, { stdio: 'inherit', shell: process.platform === 'win32' });
  if (status !== 0) process.exit(status ?? 1);
}
