import { randomUUID } from 'node:crypto';

/** How many files wait in memory at once; the oldest is dropped first. */
const MOST = 8;

/** Files that came by file input and wait for the call that names them. */
export function heldFiles() {
  const files = new Map<string, { name: string; bytes: Uint8Array }>();
  return {
    put(name: string, bytes: Uint8Array): string {
      const token = randomUUID();
      files.set(token, { name, bytes });
      const oldest = files.keys().next().value;
      if (files.size > MOST && oldest !== undefined) files.delete(oldest);
      return token;
    },
    get: (token: string) => files.get(token),
  };
}
