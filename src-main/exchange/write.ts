import { stringify } from 'csv-stringify/sync';
import { makeHarmless } from '../../src-shared/harmless.ts';

/**
 * Comma-separated text by RFC 4180: CRLF after every line, cells quoted where needed, and formulas made harmless.
 *
 * How it reads back: `readTable(writeCsv(header, rows), {header: true})` gives the same cells for every
 * well-formed string (half surrogates cannot be written in any encoding). Anyone else reading it sees an
 * apostrophe before = + - @ tab and return.
 *
 * `bom: true` puts a byte order mark first, which some spreadsheets need to see that it is UTF-8.
 */
export function writeCsv(
  header: readonly string[],
  rows: readonly (readonly string[])[],
  options: { bom?: boolean } = {},
): string {
  const text = stringify(
    [header, ...rows].map((cells) => cells.map(makeHarmless)),
    {
      delimiter: ',',
      record_delimiter: 'windows',
      // Every character that another program could take for a separator is quoted, so that `readTable` and
      // spreadsheets guess the comma; an empty cell is quoted because a line holding one alone would vanish.
      quoted_match: /[,;\t|"\r\n\ufeff]|^sep=|^\s|\s$/i,
      quoted_empty: true,
    },
  );
  return options.bom === true ? `\ufeff${text}` : text;
}
