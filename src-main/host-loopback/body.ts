import type { IncomingMessage, ServerResponse } from 'node:http';

/** What came of reading the body of a request. */
export type Body =
  | { kind: 'read'; bytes: Buffer<ArrayBuffer> }
  | { kind: 'too-big' }
  | { kind: 'broken-off' };

/**
 * Reads a body of at most `limitBytes`, counting while it comes in: a stated length over the limit is refused
 * unread, and a body without a stated length is let go of at the first byte too many.
 */
export function readBody(request: IncomingMessage, reply: ServerResponse, limitBytes: number): Promise<Body> {
  const stated = request.headers['content-length'];
  if (stated !== undefined && Number(stated) > limitBytes) return Promise.resolve({ kind: 'too-big' });
  // Somebody who asked first is told to go on only now, when everything but the body has been looked at.
  if (request.headers.expect !== undefined) reply.writeContinue();
  return new Promise((resolve) => {
    const chunks: Buffer[] = [];
    let size = 0;
    const settle = (body: Body): void => {
      request.off('data', take);
      request.off('end', end);
      request.off('close', broken);
      request.off('error', broken);
      resolve(body);
    };
    const take = (chunk: Buffer): void => {
      size += chunk.length;
      if (size > limitBytes) {
        request.pause();
        settle({ kind: 'too-big' });
      } else chunks.push(chunk);
    };
    const end = (): void => settle({ kind: 'read', bytes: Buffer.concat(chunks) });
    const broken = (): void => settle({ kind: 'broken-off' });
    request.on('data', take);
    request.on('end', end);
    request.on('close', broken);
    request.on('error', broken);
  });
}

/**
 * Gets rid of a body that nobody wants, after the reply went out. Cutting the line at once would reset it and
 * the sender would never see why, so a little more is thrown away first: at most `mostBytes`, at most
 * `mostMs`.
 */
export function discardBody(request: IncomingMessage, mostBytes: number, mostMs: number): void {
  let size = 0;
  const cut = (): void => {
    clearTimeout(timer);
    request.socket.destroy();
  };
  const timer = setTimeout(cut, mostMs);
  request.on('data', (chunk: Buffer) => {
    size += chunk.length;
    if (size > mostBytes) cut();
  });
  request.on('end', () => clearTimeout(timer));
  request.on('close', () => clearTimeout(timer));
  request.on('error', () => clearTimeout(timer));
  request.resume();
}
