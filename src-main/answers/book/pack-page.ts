import { type Day, printDay } from '../../../src-shared/time/day.ts';
import type { PaperHead } from '../../paper/parts.ts';
import { sha256 } from '../../store/journal.ts';

/** Names of the files in a pack by which the rest of it is checked. */
export const PAGE = 'CHECK.txt';
export const SUMS = 'SHA256SUMS';
export const JOURNAL = 'journal/journal.jsonl';
export const HASHES = 'journal/hashes.txt';

/** The list of files as `sha256sum -c` reads it. */
export function sumsOf(files: readonly { name: string; hash: string }[]): string {
  return files.map(({ name, hash }) => `${hash}  ${name}\n`).join('');
}

/** The command that works the last hash out from the lines alone, in a shell with the usual tools. */
export const CHAIN_COMMAND = `previous=$(printf '%064d' 0)
while IFS= read -r line; do
  previous=$(printf '%s\\n%s' "$previous" "$line" | sha256sum | cut -d ' ' -f 1)
done < ${JOURNAL}
echo "$previous"`;

/** The same in a language that most computers have: at once, where the shell needs a minute for a thousand entries. */
export const CHAIN_PYTHON = `import hashlib
previous = '0' * 64
for line in open('${JOURNAL}', 'rb'):
    previous = hashlib.sha256(previous.encode() + b'\\n' + line.rstrip(b'\\n')).hexdigest()
print(previous)`;

/** The page that says what a pack is and how anybody checks it without Foldbook. Its own last line seals it. */
export function checkPage(of: {
  head: PaperHead;
  from: string;
  to: string;
  book: { seq: number; hash: string; checkCode: string };
  sums: string;
}): string {
  const { head, book } = of;
  const text = `${head.demo ? 'DEMO. Nothing in it is real.\n\n' : ''}MEDICINE BOOK OF ${head.business.name}
Holding ${head.holding.number}, ${head.holding.name}. Keeper: ${head.keeper}.
From ${printDay(of.from as Day)} to ${printDay(of.to as Day)}, both days included.
Made ${head.statedText}; the computer believed the day to be ${head.believedText}.

WHAT IS IN IT
book.pdf              the medicine book (book-volume-1-of-N.pdf when it is long)
book.csv              every line of it, every version, one set of columns
journal/              the whole journal since the book began, one entry a line, and the hash of each
declarations/         declarations as they were signed
attachments/          papers and photos, named by their SHA-256; attachments.csv says what they are
SHA256SUMS            the SHA-256 of every file above

THE END OF THE JOURNAL
entries:    ${book.seq}
last hash:  ${book.hash}
check code: ${book.checkCode}
The check code is on every paper made from the book at this moment. An older paper names an older entry: the hash of
that entry stands in ${HASHES}, and begins with the letters and figures of its check code.

HOW TO CHECK IT WITHOUT FOLDBOOK
Unpack it, open a terminal in its folder, and run:

sha256sum -c ${SUMS}

(on a Mac: shasum -a 256 -c ${SUMS}). Every file must be OK. Then the journal: the hash of an entry is the SHA-256 of
the hash before it, a line feed, and its line. Before the first entry stand 64 zeros. This works out the last one:

${CHAIN_COMMAND}

It must print the last hash above. (On a Mac write "shasum -a 256" for "sha256sum".) It starts a program for each
entry and takes a minute or more for a thousand of them. With python3 the same is done at once:

${CHAIN_PYTHON}

HOW TO CHECK IT WITH FOLDBOOK
npm run -s verify -- PACK.zip --head ${book.checkCode}

WHAT THIS PROVES, AND WHAT NOT
Whoever changes a line must change every hash after it. So the journal is proved up to an entry by any paper that
carries its check code and was in other hands before. Without such a paper it is proved only that the pack agrees with
itself. The pages are the farm's own, no official form, and claim no compliance with any law.

sha256 of ${SUMS}: ${of.sums}
`;
  return `${text}sha256 of the lines above: ${sha256(text)}\n`;
}

export type PageSays = { isSealed: boolean; entries: number; hash: string; checkCode: string; sums: string };

/** What a check page says, and whether its seal holds; nothing when it is no check page. */
export function readCheckPage(page: string): PageSays | undefined {
  const of = (pattern: RegExp) => pattern.exec(page)?.[1];
  const seal = /^([\s\S]*)sha256 of the lines above: ([0-9a-f]{64})\n$/.exec(page);
  const [entries, hash] = [of(/^entries: +(\d+)$/m), of(/^last hash: +([0-9a-f]{64})$/m)];
  const [checkCode, sums] = [of(/^check code: (\S+)$/m), of(/^sha256 of SHA256SUMS: ([0-9a-f]{64})$/m)];
  if (entries === undefined || hash === undefined || checkCode === undefined || sums === undefined) {
    return undefined;
  }
  const isSealed = seal !== null && sha256(seal[1] ?? '') === seal[2];
  return { isSealed, entries: Number(entries), hash, checkCode, sums };
}
