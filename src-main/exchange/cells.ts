import { Refusal } from '../../src-shared/refusal.ts';

/**
 * What spreadsheets do to cells. A spoilt number is refused with the reason; the digits that are gone are never
 * guessed, because a guess could name another animal.
 */

/** A cell without surrounding space and without the apostrophe that makes a spreadsheet keep it as text. */
export function bareCell(cell: string | undefined): string {
  return (cell ?? '')
    .replace(/[\u00a0\u202f\u2007]/g, ' ')
    .trim()
    .replace(/^'/, '')
    .trim();
}

/** Refuses what no cell may hold: `#####` and the names of spreadsheet errors. */
export function checkShown(cell: string, field: string): void {
  if (/^#{2,}$/.test(cell)) {
    throw new Refusal(
      'spreadsheet-narrow',
      'The column was too narrow in the spreadsheet and only ### was saved; widen it and save again.',
      { field },
    );
  }
  if (/^#(?:N\/A|REF!|VALUE!|NAME\?|DIV\/0!|NULL!|NUM!)$/i.test(cell)) {
    throw new Refusal(
      'spreadsheet-error',
      `The spreadsheet saved the error ${cell} here; correct it there.`,
      {
        field,
      },
    );
  }
}

/** Refuses a number of an animal that a spreadsheet has turned into something else. */
export function checkIdentityCell(cell: string, field: string): void {
  checkShown(cell, field);
  if (/^[+-]?\d+(?:[.,]\d+)?E[+-]?\d+$/i.test(cell)) {
    throw new Refusal(
      'spreadsheet-number',
      `The spreadsheet shortened this number to ${cell} and its last digits are gone; format the column as text and fill it again from the reader.`,
      { field },
    );
  }
  if (/^\d+[.,]0+$/.test(cell)) {
    throw new Refusal(
      'spreadsheet-point',
      `The spreadsheet made this number a decimal (${cell}); format the column as text and fill it again.`,
      { field },
    );
  }
  if (
    /^\d{1,2}[-. ](?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)$/i.test(cell) ||
    /^(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[-. ]\d{2}$/i.test(cell)
  ) {
    throw new Refusal(
      'spreadsheet-date',
      `The spreadsheet made this number a date (${cell}); format the column as text and type it again.`,
      { field },
    );
  }
  const digits = cell.replace(/[ -]/g, '');
  // A rounded number written out again ends in a row of noughts: 826012000000000.
  if (/^\d{15}$/.test(digits) && /0{8}$/.test(digits)) {
    throw new Refusal(
      'spreadsheet-rounded',
      `The last digits of ${cell} are all 0, as when a spreadsheet rounds; check it against the tag and format the column as text.`,
      { field },
    );
  }
  if (/^\d{16,}$/.test(digits)) {
    throw new Refusal('number-too-long', `${cell} has ${digits.length} digits; a chip has 15.`, { field });
  }
}

/**
 * The width that management numbers of a column are padded to ("001" to "250": 3), or undefined. In such a
 * column a shorter number has lost its noughts.
 */
export function paddedWidth(cells: readonly string[]): number | undefined {
  const widths = new Set<number>();
  for (const cell of cells) {
    if (/^0\d+$/.test(cell)) widths.add(cell.length);
  }
  const [width] = widths;
  return widths.size === 1 ? width : undefined;
}
