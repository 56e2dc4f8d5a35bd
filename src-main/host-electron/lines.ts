import type { Desk, IssuedPaper, Log } from '../desk-type.ts';
import { answerText, callLimits, isPaperHash, refused, takeFile } from '../host-calls.ts';

function tooBig(): string {
  return JSON.stringify(
    refused('too-big', 'This is more than Foldbook takes at once.', 'Send a smaller file, or split it.'),
  );
}

/**
 * What the main process answers on the three lines from a window. The sender is checked before; what it sent
 * is not trusted here either: kinds and sizes are looked at first.
 */
export function deskLines(desk: Desk, log: Log) {
  return {
    /** JSON text of a call in, JSON text of the envelope out. */
    call: async (text: unknown): Promise<string> => {
      if (typeof text !== 'string') return answerText(desk, '', log);
      // Never fewer bytes than UTF-16 units, so most texts need no counting.
      const isTooBig = text.length > callLimits.callBytes || Buffer.byteLength(text) > callLimits.callBytes;
      return isTooBig ? tooBig() : answerText(desk, text, log);
    },
    /** A file in, JSON text of the envelope with its token out. */
    file: (name: unknown, bytes: unknown): string => {
      if (typeof name !== 'string' || !(bytes instanceof ArrayBuffer)) {
        return JSON.stringify(refused('wrong-kind', 'This is not a file.', 'Choose the file again.'));
      }
      if (bytes.byteLength > callLimits.fileBytes) return tooBig();
      return JSON.stringify(takeFile(desk, name, new Uint8Array(bytes), log));
    },
    /** The hash of a kept paper in, the paper out, or undefined. */
    paper: async (hash: unknown): Promise<IssuedPaper | undefined> =>
      typeof hash === 'string' && isPaperHash(hash) ? desk.paper(hash) : undefined,
  };
}
