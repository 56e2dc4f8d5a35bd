import { Refusal } from '../../src-shared/refusal.ts';

/** A remark about a whole file: a code for programs and a sentence for the person looking at the preview. */
export type Note = { code: string; text: string };

export type Encoding = 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252';

export type DecodedText = { text: string; encoding: Encoding; notes: Note[] };

/** The most a file may hold. A flock of 100,000 animals with every column filled is about 20 MB. */
export const MOST_FILE_BYTES = 64 * 1024 * 1024;

/** Bytes looked at for signs of what a file is. */
const LOOKED_AT = 64 * 1024;

/** Starts of files that are not text, and what to do about each. */
const NOT_TEXT: readonly { starts: readonly number[]; at?: number; code: string; says: string }[] = [
  {
    starts: [0xd0, 0xcf, 0x11, 0xe0],
    code: 'file-is-workbook',
    says: 'This is a spreadsheet workbook; save it as CSV first.',
  },
  {
    starts: [0x25, 0x50, 0x44, 0x46],
    code: 'file-is-pdf',
    says: 'This is a PDF; ask whoever sent it for a CSV file.',
  },
  { starts: [0x89, 0x50, 0x4e, 0x47], code: 'file-is-picture', says: '' },
  { starts: [0xff, 0xd8, 0xff], code: 'file-is-picture', says: '' },
  { starts: [0x47, 0x49, 0x46, 0x38], code: 'file-is-picture', says: '' },
  { starts: [0x49, 0x49, 0x2a, 0x00], code: 'file-is-picture', says: '' },
  { starts: [0x4d, 0x4d, 0x00, 0x2a], code: 'file-is-picture', says: '' },
  { starts: [0x66, 0x74, 0x79, 0x70, 0x68, 0x65, 0x69, 0x63], at: 4, code: 'file-is-picture', says: '' },
  { starts: [0x57, 0x45, 0x42, 0x50], at: 8, code: 'file-is-picture', says: '' },
  {
    starts: [0x1f, 0x8b],
    code: 'file-is-archive',
    says: 'This is a compressed file; unpack it and choose the CSV inside.',
  },
  {
    starts: [...'SQLite format 3'].map((c) => c.charCodeAt(0)),
    code: 'file-is-database',
    says: 'This is a database or a Foldbook book, not a list; open it from Farm, or save the list as CSV.',
  },
  {
    starts: [...'{\\rtf'].map((c) => c.charCodeAt(0)),
    code: 'file-is-document',
    says: 'This is a word-processor document; save the table in it as CSV first.',
  },
];

const PICTURE = 'This is a picture; type the list in, or ask whoever sent it for a CSV file.';

/** Windows-1252 where it differs from Latin-1, from byte 0x80; five bytes stand for nothing. */
const WINDOWS_1252_HIGH = '€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ';

function startsWith(bytes: Uint8Array, starts: readonly number[], at = 0): boolean {
  return bytes.length >= at + starts.length && starts.every((byte, i) => bytes[at + i] === byte);
}

function asLatin1(bytes: Uint8Array): string {
  return Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString('latin1');
}

function refuseKnownFormats(bytes: Uint8Array): void {
  if (startsWith(bytes, [0x50, 0x4b, 0x03, 0x04]) || startsWith(bytes, [0x50, 0x4b, 0x05, 0x06])) {
    const inside = asLatin1(bytes.subarray(0, LOOKED_AT));
    const ending = asLatin1(bytes.subarray(Math.max(0, bytes.length - LOOKED_AT)));
    if (/xl\/|opendocument\.spreadsheet/.test(inside + ending)) {
      throw new Refusal('file-is-workbook', 'This is a spreadsheet workbook; save it as CSV first.', {
        field: 'file',
        next: 'In the spreadsheet choose "Save as" and the type CSV UTF-8, then choose that file here.',
      });
    }
    throw new Refusal('file-is-archive', 'This is a zip archive; unpack it and choose the CSV inside.', {
      field: 'file',
    });
  }
  for (const format of NOT_TEXT) {
    if (startsWith(bytes, format.starts, format.at ?? 0)) {
      throw new Refusal(format.code, format.says === '' ? PICTURE : format.says, { field: 'file' });
    }
  }
}

function notText(): Refusal {
  return new Refusal('file-not-text', 'This file is not text; save the list as CSV and choose that.', {
    field: 'file',
  });
}

/** UTF-16 has no bytes that are wrong by themselves, but a half pair or an odd length is damage. */
function decodeUtf16(bytes: Uint8Array, bigEndian: boolean): string {
  const whole = new Uint8Array(bytes);
  if (whole.length % 2 !== 0) {
    throw new Refusal('file-cut-short', 'This file ends in the middle of a letter; fetch or save it again.', {
      field: 'file',
    });
  }
  const buffer = Buffer.from(whole.buffer, whole.byteOffset, whole.byteLength);
  if (bigEndian) buffer.swap16();
  const text = buffer.toString('utf16le');
  if (!text.isWellFormed()) throw notText();
  return text;
}

/** Which half of each pair of bytes is nearly always zero tells the byte order of unmarked UTF-16. */
function utf16ByZeroes(bytes: Uint8Array): 'utf-16le' | 'utf-16be' | undefined {
  const end = Math.min(bytes.length - (bytes.length % 2), LOOKED_AT);
  let first = 0;
  let second = 0;
  for (let i = 0; i < end; i += 2) {
    if (bytes[i] === 0) first += 1;
    if (bytes[i + 1] === 0) second += 1;
  }
  const pairs = end / 2;
  if (pairs === 0) return undefined;
  if (second / pairs > 0.4 && first / pairs < 0.02) return 'utf-16le';
  if (first / pairs > 0.4 && second / pairs < 0.02) return 'utf-16be';
  return undefined;
}

function decodeUtf8(bytes: Uint8Array): string | undefined {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch (thrown) {
    // Only "not UTF-8" is an answer here; anything else is a fault of ours.
    if (thrown instanceof TypeError) return undefined;
    throw thrown;
  }
}

/** Own table: runtimes have decoded 0x80 to 0x9F as control characters under this name. */
function decodeWindows1252(bytes: Uint8Array): string {
  return asLatin1(bytes).replace(/[\u0080-\u009f]/g, (c) => WINDOWS_1252_HIGH.charAt(c.charCodeAt(0) - 0x80));
}

/** Share of control characters that no list has. ASCII 29 to 31 come from scanners and stay. */
function isRubbish(text: string): boolean {
  const sample = text.slice(0, LOOKED_AT);
  let odd = 0;
  for (let i = 0; i < sample.length; i++) {
    const code = sample.charCodeAt(i);
    if (code === 0) return true;
    if ((code < 0x1d && (code < 9 || code > 13)) || (code >= 0x7f && code < 0xa0)) odd += 1;
  }
  return odd * 50 > sample.length;
}

function refuseMarkup(text: string): void {
  if (/^\s*<(?:!doctype|html|table|\?xml|head|body)\b/i.test(text.slice(0, 2000))) {
    throw new Refusal(
      'file-is-markup',
      'This is a web page or XML, whatever its name says; open it in a spreadsheet and save it as CSV.',
      { field: 'file' },
    );
  }
}

function decodeByContent(bytes: Uint8Array, notes: Note[]): { text: string; encoding: Encoding } {
  if (startsWith(bytes, [0xff, 0xfe, 0, 0]) || startsWith(bytes, [0, 0, 0xfe, 0xff])) {
    throw new Refusal('file-encoding', 'This file is written in UTF-32; save it as CSV UTF-8.', {
      field: 'file',
    });
  }
  if (startsWith(bytes, [0xef, 0xbb, 0xbf])) {
    const text = decodeUtf8(bytes.subarray(3));
    if (text === undefined) {
      throw new Refusal(
        'file-encoding',
        'This file says it is UTF-8 but parts of it are not; save it again as CSV UTF-8.',
        { field: 'file' },
      );
    }
    return { text, encoding: 'utf-8' };
  }
  if (startsWith(bytes, [0xff, 0xfe]))
    return { text: decodeUtf16(bytes.subarray(2), false), encoding: 'utf-16le' };
  if (startsWith(bytes, [0xfe, 0xff]))
    return { text: decodeUtf16(bytes.subarray(2), true), encoding: 'utf-16be' };
  const unmarked = utf16ByZeroes(bytes);
  if (unmarked !== undefined) {
    notes.push({ code: 'utf-16-unmarked', text: 'Read as UTF-16, judged by its bytes: it carries no mark.' });
    return { text: decodeUtf16(bytes, unmarked === 'utf-16be'), encoding: unmarked };
  }
  const utf8 = decodeUtf8(bytes);
  if (utf8 !== undefined) return { text: utf8, encoding: 'utf-8' };
  const text = decodeWindows1252(bytes);
  notes.push({
    code: 'windows-1252',
    text: 'Read as Windows-1252 because it is not UTF-8; check that accented names look right.',
  });
  if (/[\u00c3\u00c5][\u0080-\u00bf]/.test(asLatin1(bytes))) {
    notes.push({
      code: 'mixed-encoding',
      text: 'Parts of this file seem to be in another encoding: names such as "Ã©" stand for "é". Save it again as CSV UTF-8.',
    });
  }
  return { text, encoding: 'windows-1252' };
}

/**
 * The text in the bytes of a file: UTF-8 with or without a mark, UTF-16 of either order with a mark or known by
 * its zero bytes, otherwise Windows-1252, which the notes then say.
 *
 * Bounds: 1 byte to 64 MB. Refuses (one sentence, field `file`) an empty file, workbooks, archives, PDF,
 * pictures, databases, web pages and anything else that is not text. A byte order mark and a closing
 * end-of-file character (ASCII 26) are not part of the text.
 */
export function decodeText(bytes: Uint8Array): DecodedText {
  if (bytes.length === 0) {
    throw new Refusal('file-empty', 'This file is empty; choose the file with the list in it.', {
      field: 'file',
    });
  }
  if (bytes.length > MOST_FILE_BYTES) {
    throw new Refusal('file-too-large', 'This file is larger than 64 MB; split it into smaller files.', {
      field: 'file',
    });
  }
  refuseKnownFormats(bytes);
  const notes: Note[] = [];
  const { text: decoded, encoding } = decodeByContent(bytes, notes);
  // Old devices close a text file with ASCII 26.
  const text = decoded.endsWith('\u001a') ? decoded.slice(0, -1) : decoded;
  if (isRubbish(text)) throw notText();
  refuseMarkup(text);
  if (text.trim() === '') {
    throw new Refusal('file-empty', 'This file holds no text; choose the file with the list in it.', {
      field: 'file',
    });
  }
  if (text.includes('\ufffd')) {
    notes.push({
      code: 'letters-lost',
      text: 'This file was saved with letters already lost (shown as \ufffd); check the names against the paper.',
    });
  }
  return { text, encoding, notes };
}
