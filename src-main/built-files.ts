import { readFile, realpath, stat } from 'node:fs/promises';
import path from 'node:path';

/** A file of the built screens, ready to send. */
export type BuiltFile = { bytes: Buffer<ArrayBuffer>; mime: string };

const mimes: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.webp': 'image/webp',
  '.woff2': 'font/woff2',
  '.ttf': 'font/ttf',
  '.txt': 'text/plain; charset=utf-8',
};

/** True when `inner` is strictly below `outer`. By relative path: a prefix test takes /a/bc for part of /a/b. */
export function isBelow(outer: string, inner: string): boolean {
  const relative = path.relative(outer, inner);
  return (
    relative !== '' &&
    relative !== '..' &&
    !relative.startsWith(`..${path.sep}`) &&
    !path.isAbsolute(relative)
  );
}

/**
 * The file below `folder` that the path of an address asks for, or undefined when it asks for anything else:
 * a way out of the folder in any spelling, a hidden name, a folder, a link that leads out. `/` is the page.
 * Decodes once; what is still encoded after that is a trick and is refused.
 */
export async function builtFile(folder: string, addressPath: string): Promise<BuiltFile | undefined> {
  let name: string;
  try {
    name = decodeURIComponent(addressPath);
  } catch {
    // Not an address that any of our pages makes.
    return undefined;
  }
  if (name === '/') name = '/index.html';
  if (!name.startsWith('/') || /[\\%:\p{Cc}]/u.test(name)) return undefined;
  if (
    name
      .slice(1)
      .split('/')
      .some((part) => part === '' || part.startsWith('.'))
  )
    return undefined;
  const mime = mimes[path.extname(name).toLowerCase()];
  if (mime === undefined) return undefined;
  const wanted = path.resolve(folder, name.slice(1));
  if (!isBelow(path.resolve(folder), wanted)) return undefined;
  try {
    // Links are followed first: the place a link leads to is what would be read.
    const [root, real] = await Promise.all([realpath(folder), realpath(wanted)]);
    if (!isBelow(root, real) || !(await stat(real)).isFile()) return undefined;
    return { bytes: await readFile(real), mime };
  } catch (thrown) {
    if (thrown instanceof Error && 'code' in thrown && isAbsence(thrown.code)) return undefined;
    throw thrown;
  }
}

function isAbsence(code: unknown): boolean {
  return code === 'ENOENT' || code === 'ENOTDIR' || code === 'ENAMETOOLONG' || code === 'ELOOP';
}
