import { parseArgs } from 'node:util';
import { faultOf, Refusal } from '../../src-shared/refusal.ts';
import { storeParts } from '../answers/store-parts.ts';
import { verifiedLines, verifyBook } from '../store/verify.ts';

/**
 * npm run -s verify -- FILE [--head CODE]: checks a book from end to end without writing to it. Exit code 0 when
 * it is whole, 1 when something is wrong with it, 2 when it could not be checked.
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
  throw new Refusal('how-to-use', `Name one book: ${USE}`, { field: 'FILE' });
}

try {
  const { file, head } = readWords();
  const result = verifyBook(file, storeParts, head === undefined ? {} : { head });
  process.stdout.write(`${verifiedLines(result).join('\n')}\n`);
  process.exitCode = result.ok ? 0 : 1;
} catch (thrown) {
  process.stderr.write(`${JSON.stringify({ error: faultOf(thrown) })}\n`);
  process.exitCode = 2;
}
