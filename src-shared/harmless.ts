/**
 * Cells that a spreadsheet would run as a formula. It looks past apostrophes and space, so that what is written
 * can always be read back; the wide forms are run by spreadsheets set to East Asian languages.
 */
const RUNS_AT_START = /^(?:['\s]*[=+\-@＝＋－＠]|'*[\t\r\n])/;
/** The same inside a cell: a spreadsheet that splits at another separator would begin a cell there. */
const RUNS_INSIDE = /(?<=[,;\t|\r\n])(?='*[=+\-@＝＋－＠])/g;
const MADE_HARMLESS_INSIDE = /(?<=[,;\t|\r\n])'(?='*[=+\-@＝＋－＠])/g;

/**
 * A cell as it may be written: where a spreadsheet would start a formula (= + - @ tab, return) an apostrophe
 * goes before it. `readHarmless` takes exactly that apostrophe away again, for every string.
 */
export function makeHarmless(cell: string): string {
  const inside = cell.replace(RUNS_INSIDE, "'");
  return RUNS_AT_START.test(inside) ? `'${inside}` : inside;
}

/** The cell that `makeHarmless` was given; other cells stay as they are. `readTable` does this to every cell. */
export function readHarmless(cell: string): string {
  const start = cell.startsWith("'") && RUNS_AT_START.test(cell.slice(1)) ? cell.slice(1) : cell;
  return start.includes("'") ? start.replace(MADE_HARMLESS_INSIDE, '') : start;
}
