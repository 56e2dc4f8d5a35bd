import { createHash } from 'node:crypto';
import { constants, crc32, deflateRawSync, inflateRawSync } from 'node:zlib';
import { Refusal } from '../../src-shared/refusal.ts';

/**
 * A small ZIP archive (APPNOTE 6.3, no ZIP64, no encryption): names in UTF-8, each file deflated or stored, no times
 * of the clock, so that the same files give the same bytes. Its comment carries the SHA-256 of everything before the
 * end record, so that a change between the files is seen as well.
 */

const LOCAL = 0x04034b50;
const CENTRAL = 0x02014b50;
const END = 0x06054b50;
const END_BYTES = 22;
/** 2.0: deflate. */
const VERSION = 20;
/** The names are UTF-8. */
const FLAGS = 0x0800;
/** 1 January 1980: the first day a ZIP can name. */
const DOS_DAY = 0x21;
const MOST_FILES = 60_000;
const MOST_BYTES = 0xffff_0000;
/** The most that one file may unpack to. */
const MOST_UNPACKED = 1024 * 1024 * 1024;
const COMMENT = 'sha256 ';

type Entry = { name: string; method: 0 | 8; crc: number; packed: number; size: number; at: number };

/** A path that any system can unpack where it was told to: no drive, no way up, no leading or doubled slash. */
export function isCleanPath(path: string): boolean {
  return (
    path.length <= 200 &&
    /^[A-Za-z0-9][A-Za-z0-9._-]*(?:\/[A-Za-z0-9][A-Za-z0-9._-]*)*$/.test(path) &&
    !path.split('/').some((part) => part.endsWith('.') || DEVICE.test(part))
  );
}
/** Names that Windows keeps for itself. */
const DEVICE = /^(con|prn|aux|nul|com\d|lpt\d)(\.|$)/i;

/** A part of a path from any text a person wrote; `other` when nothing of it is left. */
export function cleanName(text: string, other: string): string {
  const plain = text
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/[^A-Za-z0-9._-]+/g, '-')
    .replace(/\.{2,}/g, '.')
    .replace(/^[.-]+/, '')
    .slice(0, 60)
    .replace(/[.-]+$/, '');
  const name = plain === '' ? other : plain;
  return DEVICE.test(name) ? `${other}-${name}` : name;
}

function localHeader({ name, method, crc, packed, size }: Entry): Buffer {
  const bytes = Buffer.from(name, 'utf8');
  const head = Buffer.alloc(30);
  head.writeUInt32LE(LOCAL, 0);
  head.writeUInt16LE(VERSION, 4);
  head.writeUInt16LE(FLAGS, 6);
  head.writeUInt16LE(method, 8);
  head.writeUInt16LE(0, 10);
  head.writeUInt16LE(DOS_DAY, 12);
  head.writeUInt32LE(crc, 14);
  head.writeUInt32LE(packed, 18);
  head.writeUInt32LE(size, 22);
  head.writeUInt16LE(bytes.length, 26);
  return Buffer.concat([head, bytes]);
}

function centralHeader(entry: Entry): Buffer {
  const bytes = Buffer.from(entry.name, 'utf8');
  const head = Buffer.alloc(46);
  head.writeUInt32LE(CENTRAL, 0);
  head.writeUInt16LE(VERSION, 4);
  head.writeUInt16LE(VERSION, 6);
  head.writeUInt16LE(FLAGS, 8);
  head.writeUInt16LE(entry.method, 10);
  head.writeUInt16LE(0, 12);
  head.writeUInt16LE(DOS_DAY, 14);
  head.writeUInt32LE(entry.crc, 16);
  head.writeUInt32LE(entry.packed, 20);
  head.writeUInt32LE(entry.size, 24);
  head.writeUInt16LE(bytes.length, 28);
  head.writeUInt32LE(entry.at, 42);
  return Buffer.concat([head, bytes]);
}

function endRecord(files: number, size: number, at: number, comment: string): Buffer {
  const text = Buffer.from(comment, 'latin1');
  const end = Buffer.alloc(END_BYTES);
  end.writeUInt32LE(END, 0);
  end.writeUInt16LE(files, 8);
  end.writeUInt16LE(files, 10);
  end.writeUInt32LE(size, 12);
  end.writeUInt32LE(at, 16);
  end.writeUInt16LE(text.length, 20);
  return Buffer.concat([end, text]);
}

function tooLarge(): Refusal {
  return new Refusal('pack-too-large', 'This pack would be larger than a ZIP can be.', {
    field: 'from',
    next: 'Choose a shorter period.',
  });
}

/**
 * Writes an archive piece by piece, as `write` takes it.
 * @throws Refusal `pack-too-large` beyond 4 GB or 60,000 files; Error for a name that is not clean, or comes twice
 */
export function zipWriter(write: (bytes: Uint8Array) => void) {
  const entries: Entry[] = [];
  const names = new Set<string>();
  const hash = createHash('sha256');
  let at = 0;
  const put = (bytes: Uint8Array) => {
    if (at + bytes.length > MOST_BYTES) throw tooLarge();
    hash.update(bytes);
    write(bytes);
    at += bytes.length;
  };
  return {
    add(name: string, bytes: Uint8Array): void {
      if (!isCleanPath(name)) throw new Error(`${name} is no name for a file in a pack`);
      // Windows and many disks do not tell capitals apart.
      if (names.has(name.toLowerCase())) throw new Error(`${name} is in the pack already`);
      if (entries.length >= MOST_FILES) throw tooLarge();
      names.add(name.toLowerCase());
      const deflated = deflateRawSync(bytes);
      const isSmaller = deflated.length < bytes.length;
      const packed = isSmaller ? deflated : bytes;
      const entry: Entry = {
        name,
        method: isSmaller ? 8 : 0,
        crc: crc32(bytes),
        packed: packed.length,
        size: bytes.length,
        at,
      };
      put(localHeader(entry));
      put(packed);
      entries.push(entry);
    },
    /** Closes the archive and answers how many bytes it has. */
    end(): number {
      const directory = at;
      for (const entry of entries) put(centralHeader(entry));
      const end = endRecord(entries.length, at - directory, directory, COMMENT + hash.digest('hex'));
      write(end);
      return at + end.length;
    },
  };
}

export type UnzippedFile = {
  name: string;
  /** Absent when it cannot be unpacked as it was packed. */
  bytes: Uint8Array | undefined;
  /** What can still be unpacked of such a file, from its beginning: only to say where it is damaged. */
  rest?: () => Uint8Array;
};
export type Unzipped = {
  /** In the order of the archive. */
  files: UnzippedFile[];
  /** Whether every byte outside the end record is as it was written. */
  isWhole: boolean;
};

/**
 * Reads an archive that `zipWriter` wrote. Nothing is trusted: every name, place and size is checked before use, and
 * a file that does not unpack to its own check sum is given without bytes.
 * @throws Refusal `not-a-pack` when the directory itself cannot be read
 */
export function readZip(bytes: Uint8Array): Unzipped {
  const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const endAt = buffer.length - END_BYTES - COMMENT.length - 64;
  const bad = () =>
    new Refusal('not-a-pack', 'This is not a pack as Foldbook writes it, or its end is damaged or missing.', {
      field: 'file',
      next: 'Fetch or copy the file again.',
    });
  if (endAt < 0 || buffer.readUInt32LE(endAt) !== END) throw bad();
  const files = buffer.readUInt16LE(endAt + 10);
  const directory = buffer.readUInt32LE(endAt + 16);
  if (directory > endAt) throw bad();
  const comment = buffer.toString('latin1', endAt + END_BYTES);
  const should = endRecord(files, endAt - directory, directory, comment);
  const hash = createHash('sha256').update(buffer.subarray(0, endAt)).digest('hex');
  const isWhole = comment === COMMENT + hash && should.equals(buffer.subarray(endAt));
  const found: Unzipped['files'] = [];
  const names = new Set<string>();
  let at = directory;
  for (let n = 0; n < files; n += 1) {
    if (at + 46 > endAt || buffer.readUInt32LE(at) !== CENTRAL) throw bad();
    const length = buffer.readUInt16LE(at + 28);
    const name = buffer.toString('utf8', at + 46, at + 46 + length);
    if (!isCleanPath(name) || names.has(name.toLowerCase())) throw bad();
    names.add(name.toLowerCase());
    found.push({ name, ...unpacked(buffer, at, name, directory) });
    at += 46 + length;
  }
  return { files: found, isWhole };
}

/** The bytes of one file; without them when its headers, its size or its check sum are not what they should be. */
function unpacked(
  buffer: Buffer,
  central: number,
  name: string,
  directory: number,
): Omit<UnzippedFile, 'name'> {
  const method = buffer.readUInt16LE(central + 10);
  const entry: Entry = {
    name,
    method: method === 8 ? 8 : 0,
    crc: buffer.readUInt32LE(central + 16),
    packed: buffer.readUInt32LE(central + 20),
    size: buffer.readUInt32LE(central + 24),
    at: buffer.readUInt32LE(central + 42),
  };
  const head = localHeader(entry);
  const start = entry.at + head.length;
  if (start + entry.packed > directory || entry.size > MOST_UNPACKED) return { bytes: undefined };
  const packed = buffer.subarray(start, start + entry.packed);
  const rest = () => (entry.method === 0 ? packed : inflatedPart(packed, entry.size));
  if (!head.equals(buffer.subarray(entry.at, start))) return { bytes: undefined, rest };
  const bytes = entry.method === 0 ? packed : inflated(packed, entry.size);
  return bytes !== undefined && bytes.length === entry.size && crc32(bytes) === entry.crc
    ? { bytes }
    : { bytes: undefined, rest };
}

/** Nothing for bytes that are not as they were; with `isPart` the stream may end anywhere. */
function inflated(packed: Uint8Array, size: number, isPart = false): Uint8Array | undefined {
  try {
    return inflateRawSync(packed, {
      maxOutputLength: size + 1,
      ...(isPart ? { finishFlush: constants.Z_SYNC_FLUSH } : {}),
    });
  } catch (thrown) {
    if (
      thrown instanceof Error &&
      'code' in thrown &&
      /^(Z_|ERR_BUFFER_TOO_LARGE)/.test(String(thrown.code))
    ) {
      return undefined;
    }
    throw thrown;
  }
}

/** What a damaged stream unpacks to before it cannot go on: the longest beginning that the inflater takes. */
function inflatedPart(packed: Uint8Array, size: number): Uint8Array {
  let found: Uint8Array = new Uint8Array();
  let [taken, refused] = [0, packed.length + 1];
  while (refused - taken > 1) {
    const middle = Math.floor((taken + refused) / 2);
    const part = inflated(packed.subarray(0, middle), size, true);
    if (part === undefined) refused = middle;
    else [found, taken] = [part, middle];
  }
  return found;
}
