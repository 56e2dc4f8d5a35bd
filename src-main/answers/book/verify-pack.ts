import { faultOf } from '../../../src-shared/refusal.ts';
import { lookAtBookCsv } from '../../exchange/book-csv.ts';
import { readZip } from '../../exchange/zip.ts';
import { checkCodeOf, FIRST_PREVIOUS, matchesCheckCode, parseCheckCode } from '../../store/check-code.ts';
import { chainHash, parseLine } from '../../store/journal.ts';
import { hashOfBytes } from '../../store/kept.ts';
import type { Verified } from '../../store/verify.ts';
import { HASHES, JOURNAL, PAGE, readCheckPage, SUMS } from './pack-page.ts';

export type PackVerified = Pick<Verified, 'ok' | 'entries' | 'head' | 'notes'> & { problems: string[] };

const MOST_LINES = 50;
const text = (bytes: Uint8Array) => Buffer.from(bytes).toString('utf8');

/**
 * Checks a pack from its bytes alone: the archive, every file against the list, every line of the journal against its
 * hash, every row of the book's file, and the page that says how it ends.
 * @param head a check code from a paper, which proves the journal up to its entry
 * @throws Refusal `not-a-pack`, `check-code`
 */
export function verifyPack(bytes: Uint8Array, head?: string): PackVerified {
  const code = head === undefined ? undefined : parseCheckCode(head);
  const { files, isWhole } = readZip(bytes);
  const problems: string[] = [];
  const there = new Map<string, Uint8Array>();
  for (const { name, bytes: own, rest } of files) {
    if (own !== undefined) there.set(name, own);
    else {
      problems.push(`${name} is damaged and cannot be unpacked as it was packed.`);
      const hashes = files.find((file) => file.name === HASHES)?.bytes;
      const where = rest && whereDamaged(name, rest, hashes);
      if (where !== undefined) problems.push(where);
    }
  }
  const damaged = new Set(files.filter((file) => file.bytes === undefined).map(({ name }) => name));
  const missing = (name: string) => !there.has(name) && !damaged.has(name);
  for (const name of [PAGE, SUMS, JOURNAL, HASHES, 'book.csv']) {
    if (missing(name)) problems.push(`${name} is missing.`);
  }

  const pageBytes = there.get(PAGE);
  const page = pageBytes && readCheckPage(text(pageBytes));
  if (pageBytes && !page?.isSealed)
    problems.push(`${PAGE} is not as it was written: its own last line does not fit.`);
  const sums = there.get(SUMS);
  const isListSound = sums !== undefined && (page === undefined || hashOfBytes(sums) === page.sums);
  if (sums && !isListSound) problems.push(`${SUMS} is not as it was written.`);
  if (sums && isListSound) problems.push(...checkSums(text(sums), there, damaged));

  const chain = checkChain(there, problems);
  if (page && chain && (page.entries !== chain.seq || page.hash !== chain.hash)) {
    problems.push(
      `${PAGE} says that the journal ends at entry ${page.entries} (${page.checkCode}); it ends at entry ${chain.seq} (${checkCodeOf(chain.seq, chain.hash)}).`,
    );
  }
  const notes: string[] = [];
  problems.push(...checkRows(there.get('book.csv'), notes));
  if (code === undefined) {
    notes.push('No check code was given, so it is proved only that the pack agrees with itself.');
  } else if (chain) {
    const found = code.seq === 0 ? FIRST_PREVIOUS : chain.hashes[code.seq - 1];
    if (found === undefined) {
      problems.push(`The paper names entry ${code.seq}, and the journal ends at entry ${chain.seq}.`);
    } else if (!matchesCheckCode(code, code.seq, found)) {
      problems.push(`The paper does not belong to this pack: entry ${code.seq} has another check code.`);
    }
  }
  if (!isWhole && problems.length === 0) {
    problems.push('The archive was changed between its files; every file in it is as it was.');
  }
  const { seq, hash } = chain ?? { seq: 0, hash: FIRST_PREVIOUS };
  return {
    ok: problems.length === 0,
    entries: seq,
    head: { seq, hash, checkCode: checkCodeOf(seq, hash) },
    problems,
    notes,
  };
}

/** The result as lines to print. */
export function packLines({ ok, entries, head, problems, notes }: PackVerified): string[] {
  const first = ok
    ? `The pack is whole: ${entries} entries, check code ${head.checkCode}.`
    : `The pack is not whole. ${entries} entries were found, and this is wrong:`;
  return [first, ...problems.map((problem) => `- ${problem}`), ...notes];
}

/** Every file against the list, and the list against the files. */
function checkSums(
  list: string,
  there: ReadonlyMap<string, Uint8Array>,
  damaged: ReadonlySet<string>,
): string[] {
  const problems: string[] = [];
  const listed = new Set<string>([SUMS, PAGE]);
  for (const line of list.split('\n').filter((one) => one !== '')) {
    const found = /^([0-9a-f]{64}) {2}(.+)$/.exec(line);
    if (!found) {
      problems.push(`${SUMS} has a line that is no check sum: ${line.slice(0, 80)}`);
      continue;
    }
    const [, hash = '', name = ''] = found;
    listed.add(name);
    const bytes = there.get(name);
    if (bytes === undefined) {
      if (!damaged.has(name)) problems.push(`${name} is missing.`);
    } else if (hashOfBytes(bytes) !== hash) problems.push(`${name} is not as it was written.`);
  }
  for (const name of there.keys())
    if (!listed.has(name)) problems.push(`${name} does not belong in the pack.`);
  return problems;
}

type Chain = { seq: number; hash: string; hashes: string[] };

/** Where a damaged journal or book.csv begins to differ, by what can still be unpacked of it. */
function whereDamaged(
  name: string,
  rest: () => Uint8Array,
  hashes: Uint8Array | undefined,
): string | undefined {
  if (name === JOURNAL && hashes !== undefined) {
    const stated = text(hashes).split('\n');
    let previous = FIRST_PREVIOUS;
    for (const [i, line] of text(rest()).split('\n').entries()) {
      const hash = chainHash(previous, line);
      if (stated[i] !== `${i + 1} ${hash}`) {
        // After the last line feed, where the list of hashes ends as well.
        return line === '' && (stated[i] ?? '') === ''
          ? `Every line of ${JOURNAL} can still be read as it was written; the damage is in how it is packed.`
          : `Line ${i + 1} of ${JOURNAL} (entry ${i + 1}) is the first that is not as it was written.`;
      }
      previous = hash;
    }
  }
  if (name === 'book.csv') {
    const [first] = checkRows(rest(), []);
    return first;
  }
  return undefined;
}

/** Each line against the hash stated before it, so that one bad line does not hide the next. */
function checkChain(there: ReadonlyMap<string, Uint8Array>, problems: string[]): Chain | undefined {
  const journal = there.get(JOURNAL);
  const stated = there.get(HASHES);
  if (!journal || !stated) return undefined;
  const lines = text(journal).split('\n');
  if (lines.pop() !== '') problems.push(`${JOURNAL} ends in the middle of a line.`);
  const hashes = text(stated)
    .split('\n')
    .filter((line) => line !== '');
  if (hashes.length !== lines.length) {
    problems.push(`${JOURNAL} has ${lines.length} lines, and ${HASHES} has ${hashes.length} hashes.`);
  }
  let previous = FIRST_PREVIOUS;
  let wrong = 0;
  const all: string[] = [];
  for (const [i, line] of lines.entries()) {
    const seq = i + 1;
    const should = /^(\d+) ([0-9a-f]{64})$/.exec(hashes[i] ?? '');
    const hash = chainHash(previous, line);
    const isRight =
      should !== null && Number(should[1]) === seq && should[2] === hash && numberOf(line) === seq;
    if (!isRight && ++wrong <= MOST_LINES) {
      problems.push(`Line ${seq} of ${JOURNAL} (entry ${seq}) is not as it was written, or its hash is not.`);
    }
    previous = should?.[2] ?? hash;
    all.push(previous);
  }
  if (wrong > MOST_LINES)
    problems.push(`${wrong - MOST_LINES} more lines of ${JOURNAL} are not as they were written.`);
  return { seq: lines.length, hash: previous, hashes: all };
}

/** The number that a line says it has; nothing for a line that is no entry. */
function numberOf(line: string): number | undefined {
  try {
    return parseLine(line).seq;
  } catch (thrown) {
    // A line that is no JSON is named by its place, like any other that was changed.
    if (thrown instanceof SyntaxError) return undefined;
    throw thrown;
  }
}

/** Each row by its check. A pack of another Foldbook may have other columns: its list of sums still covers the file. */
function checkRows(bytes: Uint8Array | undefined, notes: string[]): string[] {
  if (!bytes) return [];
  try {
    return lookAtBookCsv(bytes)
      .wrong.slice(0, MOST_LINES)
      .map(({ row, line }) => `Row ${row} of book.csv (line ${line}) is not as it was written.`);
  } catch (thrown) {
    const { code, message } = faultOf(thrown);
    if (code !== 'not-the-book') return [`book.csv cannot be read: ${message}`];
    notes.push(
      'book.csv has other columns than this Foldbook writes, so its rows were not checked one by one.',
    );
    return [];
  }
}
