import { existsSync } from 'node:fs';
import path from 'node:path';
import react from '@vitejs/plugin-react';
import { defineConfig } from 'electron-vite';
import type { Plugin } from 'vite';

const root = import.meta.dirname;
const at = (...names: string[]): string => path.join(root, ...names);
const worker = at('src-main', 'work', 'worker.ts');

/**
 * Leaves out the component library's words for languages that no screen is written in: about a tenth of
 * everything a window has to load. The words in English stay.
 */
function onlyEnglishWords(): Plugin {
  return {
    name: 'only-english-words',
    enforce: 'pre',
    load(id) {
      const named = /\/intl\/(?:[a-z]+\/)?([a-z]{2}-[A-Z]{2})\.(?:mjs|js|json)$/.exec(
        id.replaceAll('\\', '/'),
      );
      const isForeign = named?.[1] !== undefined && !named[1].startsWith('en-');
      return isForeign && /node_modules\/(?:@?react-)/.test(id.replaceAll('\\', '/'))
        ? 'export default {};'
        : null;
    },
  };
}

export default defineConfig({
  main: {
    build: {
      outDir: at('out', 'main'),
      // What the program needs at run time stays outside, above all the native database; the rest is bundled.
      externalizeDeps: true,
      sourcemap: false,
      rolldownOptions: {
        input: {
          electron: at('src-main', 'host-electron', 'main.ts'),
          // Long work runs in a thread that starts from a file of its own.
          ...(existsSync(worker) ? { worker } : {}),
        },
        output: { format: 'es', entryFileNames: '[name].js', chunkFileNames: 'part-[name]-[hash].js' },
      },
    },
  },
  preload: {
    build: {
      outDir: at('out', 'preload'),
      externalizeDeps: false,
      rolldownOptions: {
        input: { preload: at('src-main', 'host-electron', 'preload.ts') },
        // A sandboxed preload cannot be a module.
        output: { format: 'cjs', entryFileNames: '[name].cjs' },
      },
    },
  },
  renderer: {
    root: at('src-renderer'),
    plugins: [react(), onlyEnglishWords()],
    build: {
      outDir: at('out', 'renderer'),
      // Browsers of the loopback host may be older than Electron's.
      target: 'es2022',
      minify: true,
      // An asset put inline as data: would need a wider content policy for fonts.
      assetsInlineLimit: 0,
      rolldownOptions: { input: at('src-renderer', 'index.html') },
    },
  },
});
