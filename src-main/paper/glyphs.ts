/**
 * What the font of our papers can print. A character that is missing from a font leaves a blank, and a blank in a
 * name or a number is a false record: so it is printed as its code point instead.
 */

/** Ranges of code points that every face of the font has and that stand alone. */
export const PRINTABLE: readonly (readonly [from: number, to: number])[] = [
  [0x20, 0x7e],
  [0xa0, 0xac],
  [0xae, 0x17f],
  [0x192, 0x192],
  [0x1a0, 0x1a1],
  [0x1af, 0x1b0],
  [0x1fa, 0x1ff],
  [0x218, 0x21b],
  [0x384, 0x38a],
  [0x38c, 0x38c],
  [0x38e, 0x3a1],
  [0x3a3, 0x3ce],
  [0x400, 0x482],
  [0x48a, 0x513],
  [0x1e80, 0x1e85],
  [0x1e9e, 0x1e9e],
  [0x1ea0, 0x1ef9],
  [0x2013, 0x2015],
  [0x2018, 0x201e],
  [0x2020, 0x2022],
  [0x2026, 0x2026],
  [0x2030, 0x2030],
  [0x2032, 0x2033],
  [0x20ac, 0x20ac],
  [0x2116, 0x2116],
  [0x2122, 0x2122],
  [0x2260, 0x2260],
  [0x2264, 0x2265],
];

/** Spaces and hyphens of other kinds, which mean no more than the common ones. */
const PLAIN: Readonly<Record<string, string>> = {
  '\u00ad': '',
  '\u2007': ' ',
  '\u2009': ' ',
  '\u200a': ' ',
  '\u200b': '',
  '\u202f': ' ',
  '\u2010': '-',
  '\u2011': '-',
  '\u2012': '–',
  '\u2212': '–',
  '\u03bc': 'µ',
  '\ufeff': '',
};

/** What most text is made of, every character of it printable as it stands. */
const ALL_COMMON = /^[ -~]*$/;

function isPrintable(code: number): boolean {
  return PRINTABLE.some(([from, to]) => code >= from && code <= to);
}

/**
 * The text as the font can print it: accents joined to their letters, line ends and tabs as spaces, and whatever
 * the font lacks as "[U+4E2D]", so that the reader sees that something stands there.
 */
export function printable(text: string): string {
  if (ALL_COMMON.test(text)) return text;
  let out = '';
  for (const character of text.normalize('NFC')) {
    const code = character.codePointAt(0) ?? 0;
    const plain = PLAIN[character];
    if (plain !== undefined) out += plain;
    else if (/\s/u.test(character) && code !== 0xa0) out += ' ';
    else if (isPrintable(code)) out += character;
    else out += `[U+${code.toString(16).toUpperCase().padStart(4, '0')}]`;
  }
  return out;
}
