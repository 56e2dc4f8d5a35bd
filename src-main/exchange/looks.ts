/**
 * What a cell looks like, for judging columns and headers. Looks only: nothing here reads a value for the book.
 */

const FIFTEEN_DIGITS = /^\d(?:[ -]?\d){14}$/;
const LETTERS_AND_DIGITS = /^[A-Z]{2}[ .-]?\d(?:[ .-]?\d){5,13}$/i;
const DAY =
  /^(?:\d{4}[-/.]\d{1,2}[-/.]\d{1,2}|\d{1,2}[-/. ](?:\d{1,2}|[a-zéû]{3,9})[-/. ](?:\d{4}|\d{2}))(?:[T ].*)?$/i;
const NUMBER = /^[+-]?\d+(?:[.,]\d+)?(?:\s*(?:kg|lbs?))?$/i;
/** What a spreadsheet leaves of a long number: 8.26E+14. */
const POWER = /^\d(?:[.,]\d+)?E\+?\d+$/i;

export type Look = 'blank' | 'chip' | 'tag' | 'day' | 'number' | 'words';

/** What one cell looks like. A chip that a spreadsheet spoilt still looks like a chip. */
export function lookOf(cell: string): Look {
  const bare = cell.trim().replace(/^'/, '');
  if (bare === '') return 'blank';
  if (FIFTEEN_DIGITS.test(bare) || POWER.test(bare)) return 'chip';
  if (LETTERS_AND_DIGITS.test(bare)) return 'tag';
  if (DAY.test(bare)) return 'day';
  return NUMBER.test(bare) ? 'number' : 'words';
}

/** True when a first row can only be data: an animal's number or a date stands in it, or hardly any words. */
export function looksLikeData(cells: readonly string[]): boolean {
  const looks = cells.map(lookOf).filter((look) => look !== 'blank');
  if (looks.some((look) => look === 'chip' || look === 'tag' || look === 'day')) return true;
  return looks.length > 0 && looks.filter((look) => look === 'number').length * 2 > looks.length;
}
