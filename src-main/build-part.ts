import { resolveConfig } from 'electron-vite';
import { build } from 'vite';

// Run by build.ts in a process of its own: the builder needs much memory for a few seconds and sets variables
// of the environment that the program must not inherit. One part at a time, because the loopback host needs
// only the screens.
const part = process.argv[2];
if (part !== 'main' && part !== 'preload' && part !== 'renderer') {
  throw new Error('name one part to build: main, preload or renderer');
}
const root = process.cwd();
try {
  const { config } = await resolveConfig({ root, logLevel: 'silent' }, 'build', 'production');
  const chosen = config?.[part];
  if (chosen === undefined) throw new Error(`the build configuration has no part ${part}`);
  await build(chosen);
} catch (thrown) {
  // The message says which file and line; where in the builder it was noticed helps nobody.
  process.stderr.write(`${thrown instanceof Error ? thrown.message : String(thrown)}\n`);
  process.exitCode = 1;
}
