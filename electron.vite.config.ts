import { existsSync } from 'node:fs';
import path from 'node:path';
import react from '@vitejs/plugin-react';
import { defineConfig } from 'electron-vite';

const root = import.meta.dirname;
const at = (...names: string[]): string => path.join(root, ...names);
const worker = at('src-main', 'work', 'worker.ts');

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
    plugins: [react()],
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
