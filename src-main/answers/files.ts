import { createHash } from 'node:crypto';
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
