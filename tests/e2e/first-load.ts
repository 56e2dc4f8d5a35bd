import { readFileSync } from 'node:fs';
import path from 'node:path';
import { gzipSync } from 'node:zlib';

/** The most that may come before the first screen is opened, compressed, in bytes. */
export const FIRST_LOAD_MOST_BYTES = 200_000;

/** What the built page loads before any screen that is loaded when opened: each file with its compressed size. */
export type FirstLoad = { files: { name: string; bytes: number; gzipBytes: number }[]; gzipBytes: number };

/** What a page names: scripts, preloads, style sheets. Addresses with a scheme of their own are no files. */
const IN_PAGE = /<(?:script|link)\b[^>]*?\b(?:src|href)="([^"]+)"/g;
/** `import x from"./a.js"`, `import"./a.js"`, `export{x}from"./a.js"`, but not `import("./a.js")`. */
const IN_SCRIPT = /\b(?:import|export)\b(?:[\w$\s{},*]*?\bfrom)?\s*["'](\.{1,2}\/[^"']+)["']/g;
const IN_STYLES = /url\(\s*["']?([^"')]+)["']?\s*\)|@import\s*["']([^"']+)["']/g;

function named(file: string, text: string): string[] {
  const pattern = file.endsWith('.html') ? IN_PAGE : file.endsWith('.js') ? IN_SCRIPT : IN_STYLES;
  return [...text.matchAll(pattern)]
    .map((match) => match[1] ?? match[2] ?? '')
    .filter((target) => target !== '' && !/^[a-z]+:/.test(target));
}

/**
 * Follows the built page through everything it names and every static import, as a browser does before it can
 * show anything. Each file is compressed by itself, as a server would.
 * @param folder the folder of built screens
 */
export function firstLoad(folder: string): FirstLoad {
  const files: FirstLoad['files'] = [];
  const waiting = ['index.html'];
  const seen = new Set(waiting);
  for (let name = waiting.shift(); name !== undefined; name = waiting.shift()) {
    const bytes = readFileSync(path.join(folder, name));
    files.push({ name, bytes: bytes.length, gzipBytes: gzipSync(bytes).length });
    if (!/\.(html|js|css)$/.test(name)) continue;
    for (const target of named(name, bytes.toString('utf8'))) {
      const next = path.posix.join(path.posix.dirname(name), target);
      if (seen.has(next)) continue;
      seen.add(next);
      waiting.push(next);
    }
  }
  return { files, gzipBytes: files.reduce((sum, file) => sum + file.gzipBytes, 0) };
}
