/** What the kept kinds of file are, by their first and last bytes. The name says nothing about that. */
export type ContentMime = 'application/pdf' | 'image/jpeg' | 'image/png' | 'image/webp';

const PNG = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);

/** Endings by what they promise. Several are in use for one kind of picture. */
const ENDINGS: Readonly<Record<string, ContentMime>> = {
  pdf: 'application/pdf',
  jpg: 'image/jpeg',
  jpeg: 'image/jpeg',
  jpe: 'image/jpeg',
  jfif: 'image/jpeg',
  png: 'image/png',
  webp: 'image/webp',
};

/** What each kind is called in a sentence. */
export const CONTENT_WORDS: Readonly<Record<ContentMime, string>> = {
  'application/pdf': 'a PDF',
  'image/jpeg': 'a JPEG picture',
  'image/png': 'a PNG picture',
  'image/webp': 'a WebP picture',
};

/**
 * What a file is by its content, and whether its end is there: a picture that was cut off on its way is no proof of
 * anything. Looks at the marks each format prescribes (ISO 32000-1 7.5.2 and 7.5.5; ISO/IEC 10918-1 B.1.1.3; PNG 5.2
 * and 11.2.5; RFC 9649 2.4), and does not decode.
 * @returns nothing when it is none of the four
 */
export function contentOf(bytes: Uint8Array): { mime: ContentMime; isWhole: boolean } | undefined {
  const all = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const at = (from: number, to: number) => all.subarray(from, to).toString('latin1');
  if (at(0, 5) === '%PDF-')
    return { mime: 'application/pdf', isWhole: all.includes('%%EOF', -2048, 'latin1') };
  if (all[0] === 0xff && all[1] === 0xd8 && all[2] === 0xff) {
    // The end mark need not come last: some telephones put a short film behind the picture.
    return { mime: 'image/jpeg', isWhole: all.includes(Buffer.from([0xff, 0xd9]), 3) };
  }
  if (all.subarray(0, 8).equals(PNG))
    return { mime: 'image/png', isWhole: all.includes('IEND', 8, 'latin1') };
  if (at(0, 4) === 'RIFF' && at(8, 12) === 'WEBP') {
    return { mime: 'image/webp', isWhole: all.length >= all.readUInt32LE(4) + 8 };
  }
  return undefined;
}

/** What the ending of a name promises; `none` without an ending, `other` for one that is none of the four. */
export function promisedBy(name: string): ContentMime | 'none' | 'other' {
  const ending = /\.([A-Za-z0-9]{1,8})$/.exec(name)?.[1]?.toLowerCase();
  if (ending === undefined) return 'none';
  return Object.hasOwn(ENDINGS, ending) ? (ENDINGS[ending] ?? 'other') : 'other';
}
