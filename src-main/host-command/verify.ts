import { closeSync, existsSync, openSync, readFileSync, readSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { faultOf, Refusal } from '../../src-shared/refusal.ts';
import { packLines, verifyPack } from '../answers/book/verify-pack.ts';
import { storeParts } from '../answers/store-parts.ts';
import { verifiedLines, verifyBook } from '../store/verify.ts';

/**
 * npm run -s verify -- FILE [--head CODE]: checks a book, or an inspector's pack, from end to end without writing to
 * it. Exit code 0 when it is whole, 1 when something is wrong with it, 2 when it could not be checked.
 */
const USE = 'npm run -s verify -- FILE [--head CODE]';

function readWords(): { file: string; head: string | undefined } {
  try {
    const { values, positionals } = parseArgs({
      allowPositionals: true,
      options: { head: { type: 'string' } },
    });
    const [file, second] = positionals;
    if (file !== undefined && second === undefined) return { file, head: values.head };
  } catch {
    // Said below, with how it is used.
  }
  throw new Refusal('how-to-use', `Name one book or one pack: ${USE}`, { field: 'FILE' });
}

type Result = { ok: boolean; lines: string[] };

/** A pack is told from a book by its first bytes, whatever it is called. */
function isZip(file: string): boolean {
  if (!existsSync(file)) return false;
  const start = Buffer.alloc(4);
  const opened = openSync(file, 'r');
  try {
    readSync(opened, start, 0, 4, 0);
  } finally {
    closeSync(opened);
  }
  return start.readUInt32LE(0) === 0x04034b50;
}

function ofPack(file: string, head: string | undefined): Result {
  const result = verifyPack(readFileSync(file), head);
  return { ok: result.ok, lines: packLines(result) };
}

function ofBook(file: string, head: string | undefined): Result {
  const result = verifyBook(file, storeParts, head === undefined ? {} : { head });
  return { ok: result.ok, lines: verifiedLines(result) };
}

try {
  const { file, head } = readWords();
  const { ok, lines } = isZip(file) ? ofPack(file, head) : ofBook(file, head);
  process.stdout.write(`${lines.join('\n')}\n`);
  process.exitCode = ok ? 0 : 1;
} catch (thrown) {
  process.stderr.write(`${JSON.stringify({ error: faultOf(thrown) })}\n`);
  process.exitCode = 2;
}
