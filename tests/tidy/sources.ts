import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

export const ROOT = fileURLToPath(new URL('../..', import.meta.url));

export type Source = { file: string; text: string; lines: string[] };

/** Every source file below these folders, named from the project's root with forward slashes. */
export function sources(folders: readonly string[], endings = /\.(ts|tsx|css)$/): Source[] {
  return folders.flatMap((folder) =>
    readdirSync(path.join(ROOT, folder), { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile() && endings.test(entry.name))
      .map((entry) => path.join(entry.parentPath, entry.name))
      .map((full) => {
        const text = readFileSync(full, 'utf8');
        return { file: path.relative(ROOT, full).split(path.sep).join('/'), text, lines: text.split('\n') };
      }),
  );
}

export type Import = { from: string; to: string; typeOnly: boolean };

const IMPORT =
  /^\s*(?:import|export)\s+(type\s)?[^'"]*?from\s+['"]([^'"]+)['"]|^\s*import\s+['"]([^'"]+)['"]|import\(\s*['"]([^'"]+)['"]/gm;

/** Every import of a file; a relative one is resolved to a file name from the root, a package keeps its name. */
export function importsOf(source: Source): Import[] {
  return [...source.text.matchAll(IMPORT)].map((match) => {
    const named = match[2] ?? match[3] ?? match[4] ?? '';
    const to = named.startsWith('.') ? path.posix.join(path.posix.dirname(source.file), named) : named;
    return { from: source.file, to, typeOnly: match[1] !== undefined };
  });
}
