import { Refusal } from '../../src-shared/refusal.ts';

/** What the first entry's hash is counted on. */
export const FIRST_PREVIOUS = '0'.repeat(64);

const HEX_SHOWN = 12;

/**
 * The short form of a head that is printed on papers: the number of the last entry and the first 12 hex digits
 * of its hash, "1234-ab12-cd34-ef56". It names a place in the journal, so an old paper still proves everything
 * up to that place.
 */
export function checkCodeOf(seq: number, hash: string): string {
  const shown = hash.slice(0, HEX_SHOWN);
  return [String(seq), shown.slice(0, 4), shown.slice(4, 8), shown.slice(8, 12)].join('-');
}

/**
 * Reads a check code as typed from a paper: capitals and spaces do no harm.
 * @throws Refusal `check-code` (field `head`)
 */
export function parseCheckCode(text: string): { seq: number; start: string } {
  const tidy = text
    .trim()
    .toLowerCase()
    .replace(/[\s–—]+/g, '-');
  const found = /^(\d{1,15})-([0-9a-f]{4})-?([0-9a-f]{4})-?([0-9a-f]{4})$/.exec(tidy);
  if (!found) {
    throw new Refusal('check-code', `"${text}" is not a check code.`, {
      field: 'head',
      next: 'Type it as it is printed on the paper, such as 1234-ab12-cd34-ef56.',
    });
  }
  return { seq: Number(found[1]), start: `${found[2]}${found[3]}${found[4]}` };
}

/** Whether a hash at that place is the one a check code names. */
export function matchesCheckCode(code: { seq: number; start: string }, seq: number, hash: string): boolean {
  return code.seq === seq && hash.startsWith(code.start);
}
