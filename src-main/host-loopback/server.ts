import type { IncomingMessage, ServerResponse } from 'node:http';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { performance } from 'node:perf_hooks';
import { Refusal } from '../../src-shared/refusal.ts';
import { builtFile } from '../built-files.ts';
import { strictHeaders } from '../content-policy.ts';
import type { Desk, Log } from '../desk-type.ts';
import { answerText, callLimits, isPaperHash, refused, takeFile } from '../host-calls.ts';
import { discardBody, readBody } from './body.ts';
import { headerValues, turnAway } from './gate.ts';
import { Keys } from './keys.ts';

/** What one running host bears, in bytes, milliseconds and requests at once. */
export const loopbackLimits = {
  callBytes: callLimits.callBytes,
  fileBytes: callLimits.fileBytes,
  keyBytes: 1024,
  requestsAtOnce: 32,
  filesAtOnce: 2,
  connections: 64,
  headersMs: 10_000,
  requestMs: 60_000,
  closingMs: 5_000,
  wrongKeys: 5,
  wrongKeysWindowMs: 60_000,
};

export type LoopbackLimits = typeof loopbackLimits;

export type LoopbackOptions = {
  desk: Desk;
  /** The folder of built screens. */
  screens: string;
  /** 0 or absent: whichever port is free. */
  port?: number;
  limits?: Partial<LoopbackLimits>;
  /** A clock that never runs backwards, in milliseconds. */
  nowMs?: () => number;
  log?: Log;
};

/** A running loopback host. */
export type LoopbackHost = {
  port: number;
  origin: string;
  /** The address with a new one-time key in its fragment, which no browser sends over a line. */
  newAddress(): string;
  /** Stops taking requests, lets those under way end for up to five seconds, and frees the port. */
  close(): Promise<void>;
};

/** The header that carries the token. A header and no cookie: a cookie would reach every port of 127.0.0.1. */
export const tokenHeader = 'x-foldbook-token';
/** The header that carries the name of a file, percent-encoded. */
export const fileNameHeader = 'x-foldbook-file';

const json = 'application/json; charset=utf-8';

function send(
  reply: ServerResponse,
  status: number,
  mime: string,
  body: string | Uint8Array,
  more: Record<string, string> = {},
): void {
  const bytes = typeof body === 'string' ? Buffer.from(body) : body;
  reply.writeHead(status, {
    ...strictHeaders,
    'content-type': mime,
    'content-length': String(bytes.byteLength),
    ...more,
  });
  reply.end(bytes);
}

/** Refuses, and closes the line: whatever else the sender had on it is not wanted. */
function turn(
  request: IncomingMessage,
  reply: ServerResponse,
  status: number,
  fault: { code: string; message: string; next: string },
  more: Record<string, string> = {},
): void {
  const body = JSON.stringify(refused(fault.code, fault.message, fault.next));
  send(reply, status, json, body, { ...more, connection: 'close' });
  if (!request.complete) discardBody(request, 8 * 1024 * 1024, 2_000);
}

const noKey = {
  code: 'no-key',
  message: 'This window has no key to Foldbook.',
  next: 'Open the address that Foldbook printed, or press Enter where Foldbook runs for a new address.',
};
const tooBig = {
  code: 'too-big',
  message: 'This is more than Foldbook takes at once.',
  next: 'Send a smaller file, or split it.',
};
const busy = {
  code: 'too-busy',
  message: 'Foldbook is busy with other requests.',
  next: 'Wait a moment and try again.',
};
const notFound = {
  code: 'not-found',
  message: 'There is nothing at this address.',
  next: 'Open the address that Foldbook printed.',
};
const wrongKind = {
  code: 'wrong-kind',
  message: 'Foldbook does not understand this kind of content.',
  next: 'Open the address that Foldbook printed.',
};

/**
 * Serves a desk and its screens to browsers on this computer: only on 127.0.0.1, only to a page that showed a
 * one-time key. Throws Refusal when the port cannot be had.
 */
export async function serveDesk(options: LoopbackOptions): Promise<LoopbackHost> {
  const { desk, screens } = options;
  const limits = { ...loopbackLimits, ...options.limits };
  const log = options.log ?? (() => {});
  const keys = new Keys(
    options.nowMs ?? (() => performance.now()),
    limits.wrongKeys,
    limits.wrongKeysWindowMs,
  );
  let authority = '';
  let underWay = 0;
  let filesUnderWay = 0;

  async function takeBody(
    request: IncomingMessage,
    reply: ServerResponse,
    mime: string,
    limitBytes: number,
  ): Promise<Buffer<ArrayBuffer> | undefined> {
    // A kind that a plain form cannot send: it makes a browser ask before another page may send it.
    if (request.headers['content-type']?.split(';')[0]?.trim().toLowerCase() !== mime) {
      turn(request, reply, 415, wrongKind);
      return undefined;
    }
    const body = await readBody(request, reply, limitBytes);
    if (body.kind === 'too-big') turn(request, reply, 413, tooBig);
    return body.kind === 'read' ? body.bytes : undefined;
  }

  async function exchangeKey(request: IncomingMessage, reply: ServerResponse): Promise<void> {
    const bytes = await takeBody(request, reply, 'application/json', limits.keyBytes);
    if (bytes === undefined) return;
    const answer = keys.exchange(keyIn(bytes.toString('utf8')));
    if (answer.kind === 'token') {
      send(reply, 200, json, JSON.stringify({ ok: true, value: { token: answer.token } }));
    } else if (answer.kind === 'wait') {
      const fault = {
        code: 'too-many-keys',
        message: 'Too many wrong keys were tried.',
        next: `Wait ${answer.seconds} seconds and try again.`,
      };
      turn(request, reply, 429, fault, { 'retry-after': String(answer.seconds) });
    } else {
      const fault = {
        ...noKey,
        code: 'key-not-valid',
        message: 'This address was used before or is not right.',
        next: 'Press Enter where Foldbook runs for a new address, or use the window that is already open.',
      };
      turn(request, reply, 403, fault);
    }
  }

  async function takeCall(request: IncomingMessage, reply: ServerResponse): Promise<void> {
    const bytes = await takeBody(request, reply, 'application/json', limits.callBytes);
    if (bytes === undefined) return;
    send(reply, 200, json, await answerText(desk, bytes.toString('utf8'), log));
  }

  async function takeFileBody(request: IncomingMessage, reply: ServerResponse): Promise<void> {
    const [written] = headerValues(request.rawHeaders, fileNameHeader);
    const name = decoded(written);
    if (name === undefined) return turn(request, reply, 400, wrongKind);
    if (filesUnderWay >= limits.filesAtOnce) return turn(request, reply, 503, busy, { 'retry-after': '1' });
    filesUnderWay += 1;
    try {
      const bytes = await takeBody(request, reply, 'application/octet-stream', limits.fileBytes);
      if (bytes !== undefined) send(reply, 200, json, JSON.stringify(takeFile(desk, name, bytes, log)));
    } finally {
      filesUnderWay -= 1;
    }
  }

  async function sendPaper(request: IncomingMessage, reply: ServerResponse, hash: string): Promise<void> {
    const paper = isPaperHash(hash) ? await desk.paper(hash) : undefined;
    if (paper === undefined) return turn(request, reply, 404, notFound);
    // The name travels percent-encoded only: nothing a user typed can break out of a header.
    const name = encodedName(paper.name);
    send(reply, 200, paper.mime, paper.bytes, {
      [fileNameHeader]: name,
      'content-disposition': `attachment; filename*=UTF-8''${name}`,
    });
  }

  async function route(request: IncomingMessage, reply: ServerResponse): Promise<void> {
    const [path = ''] = (request.url ?? '').split('?', 1);
    const isPost = request.method === 'POST';
    if (isPost && path === '/key') return exchangeKey(request, reply);
    const guarded = isPost || path.startsWith('/paper/');
    if (guarded && !keys.isToken(headerValues(request.rawHeaders, tokenHeader)[0])) {
      return turn(request, reply, 401, noKey);
    }
    if (isPost && path === '/call') return takeCall(request, reply);
    if (isPost && path === '/file') return takeFileBody(request, reply);
    if (isPost && path === '/fresh-key') {
      return send(reply, 200, json, JSON.stringify({ ok: true, value: { address: newAddress() } }));
    }
    if (!isPost && path.startsWith('/paper/')) return sendPaper(request, reply, path.slice('/paper/'.length));
    const file = isPost ? undefined : await builtFile(screens, path);
    if (file === undefined) return turn(request, reply, 404, notFound);
    send(reply, 200, file.mime, file.bytes);
  }

  async function answer(request: IncomingMessage, reply: ServerResponse): Promise<void> {
    const turned = turnAway(
      {
        method: request.method ?? '',
        target: request.url ?? '',
        hosts: headerValues(request.rawHeaders, 'host'),
        origins: headerValues(request.rawHeaders, 'origin'),
        fetchSite: headerValues(request.rawHeaders, 'sec-fetch-site')[0],
      },
      authority,
    );
    if (turned !== undefined) {
      return turn(request, reply, turned.status, turned, turned.status === 405 ? { allow: 'GET, POST' } : {});
    }
    if (underWay >= limits.requestsAtOnce) return turn(request, reply, 503, busy, { 'retry-after': '1' });
    underWay += 1;
    try {
      await route(request, reply);
    } finally {
      underWay -= 1;
    }
  }

  function listener(request: IncomingMessage, reply: ServerResponse): void {
    answer(request, reply).catch((thrown: unknown) => {
      log(`loopback failed: ${thrown instanceof Error ? (thrown.stack ?? thrown.message) : String(thrown)}`);
      if (reply.headersSent) return request.socket.destroy();
      turn(request, reply, 500, {
        code: 'desk-failed',
        message: 'Foldbook could not finish this because of a fault in the program.',
        next: 'Try again, or start Foldbook again.',
      });
    });
  }

  function newAddress(): string {
    return `http://${authority}/#key=${keys.newKey()}`;
  }

  const server = createServer(
    {
      maxHeaderSize: 16 * 1024,
      headersTimeout: limits.headersMs,
      requestTimeout: limits.requestMs,
      keepAliveTimeout: 5_000,
      connectionsCheckingInterval: Math.min(1_000, limits.headersMs),
      requireHostHeader: false,
    },
    listener,
  );
  server.maxConnections = limits.connections;
  server.on('checkContinue', listener);
  server.on('clientError', (error: NodeJS.ErrnoException, socket) => {
    if (error.code === 'ECONNRESET' || !socket.writable) return socket.destroy();
    const status = error.code === 'ERR_HTTP_REQUEST_TIMEOUT' ? '408 Request Timeout' : '400 Bad Request';
    socket.end(`HTTP/1.1 ${status}\r\nconnection: close\r\ncontent-length: 0\r\n\r\n`);
  });

  const bound = await new Promise<AddressInfo>((resolve, reject) => {
    server.once('error', (error: NodeJS.ErrnoException) => {
      reject(
        new Refusal('port-not-free', `Foldbook cannot use port ${options.port ?? 0}.`, {
          field: '--port',
          next: `Leave --port out, or give another number. The system says ${error.code ?? error.message}.`,
        }),
      );
    });
    server.listen({ host: '127.0.0.1', port: options.port ?? 0 }, () => {
      const address = server.address();
      if (typeof address === 'object' && address !== null) resolve(address);
      else reject(new Error('a listening server has no port'));
    });
  });
  authority = `127.0.0.1:${bound.port}`;

  return {
    port: bound.port,
    origin: `http://${authority}`,
    newAddress,
    close: () =>
      new Promise((resolve) => {
        const cut = setTimeout(() => server.closeAllConnections(), limits.closingMs);
        server.close(() => {
          clearTimeout(cut);
          resolve();
        });
        server.closeIdleConnections();
      }),
  };
}

/** Percent-encoded as a header's value needs it (RFC 8187), the four signs that the function leaves included. */
function encodedName(name: string): string {
  return encodeURIComponent(name.toWellFormed()).replace(
    /['()*]/g,
    (sign) => `%${sign.charCodeAt(0).toString(16).toUpperCase()}`,
  );
}

function keyIn(text: string): string {
  try {
    const body: unknown = JSON.parse(text);
    return typeof body === 'object' && body !== null && 'key' in body && typeof body.key === 'string'
      ? body.key
      : '';
  } catch {
    // No key at all counts as a wrong one, so that it is limited in the same way.
    return '';
  }
}

function decoded(written: string | undefined): string | undefined {
  try {
    return written === undefined ? undefined : decodeURIComponent(written);
  } catch {
    return undefined;
  }
}
