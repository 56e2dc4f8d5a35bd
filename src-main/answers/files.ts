import { createHash } from 'node:crypto';
import type { z } from 'zod';
import type { fileSchema } from '../../src-shared/calls/call.ts';
import { Refusal } from '../../src-shared/refusal.ts';

/** How many files, and bytes of them together, wait in memory at once; the oldest are dropped first. */
export const heldLimits = { files: 8, bytes: 128 * 1024 * 1024 } as const;

type Limits = { files: number; bytes: number };
type Held = { name: string; bytes: Uint8Array };

/**
 * Files that came by file input and wait for the call that names them. The token is the SHA-256 of the bytes, in
 * hex: whoever chooses the same file again after a lost answer sends the same request again.
 */
export function heldFiles(limits: Limits = heldLimits) {
  const files = new Map<string, Held>();
  let total = 0;
  const drop = (token: string) => {
    total -= files.get(token)?.bytes.byteLength ?? 0;
    files.delete(token);
  };
  return {
    /** Holds a file and answers its token. Refuses (`file-too-big`) what would not fit by itself. */
    put(name: string, bytes: Uint8Array): string {
      if (bytes.byteLength > limits.bytes) {
        throw new Refusal('file-too-big', `${name} is larger than Foldbook holds at once.`, {
          field: 'file',
          next: 'Split the file and bring in the parts.',
        });
      }
      const token = createHash('sha256').update(bytes).digest('hex');
      // Taken out and put back: the map's order is how long ago each came.
      drop(token);
      files.set(token, { name, bytes });
      total += bytes.byteLength;
      for (const oldest of files.keys()) {
        if (files.size <= limits.files && total <= limits.bytes) break;
        drop(oldest);
      }
      return token;
    },
    get: (token: string) => files.get(token),
  };
}

/** A file as a call gets it: the name is only ever shown. */
export type ChosenFile = { name: string; bytes: Uint8Array };
type FilesAtHand = { file(token: string): ChosenFile | undefined };
type FileAsked = z.output<typeof fileSchema>;

function atHand(files: FilesAtHand, token: string): ChosenFile {
  const found = files.file(token);
  if (found) return found;
  throw new Refusal('file-gone', 'This file is no longer at hand.', {
    field: 'file',
    next: 'Choose the file again.',
  });
}

/** The name of a file that a call names, and how many bytes it has, without reading it. Refuses (`file-gone`). */
export function sizeOfChosen(files: FilesAtHand, file: FileAsked): { name: string; bytes: number } {
  if ('token' in file) {
    const { name, bytes } = atHand(files, file.token);
    return { name, bytes: bytes.byteLength };
  }
  return { name: file.name, bytes: Math.floor((file.base64.replace(/=+$/, '').length * 3) / 4) };
}

/** The file that a call names, or brings with it. Refuses (`file-gone`, `file-unreadable`). */
export function chosenFile(files: FilesAtHand, file: FileAsked): ChosenFile {
  if ('token' in file) return atHand(files, file.token);
  const bytes = Buffer.from(file.base64, 'base64');
  // The decoder skips what it does not know; a file with a hole in it must not be read as if it were whole.
  if (bytes.length !== sizeOfChosen(files, file).bytes) {
    throw new Refusal('file-unreadable', 'This file did not come through whole.', {
      field: 'file',
      next: 'Choose the file again.',
    });
  }
  return { name: file.name, bytes };
}
