import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import type { IncomingHttpHeaders } from 'node:http';
import { request } from 'node:http';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Desk } from '../../src-main/desk-type.ts';
import type { LoopbackHost, LoopbackOptions } from '../../src-main/host-loopback/server.ts';
import { serveDesk } from '../../src-main/host-loopback/server.ts';

export type Reply = { status: number; headers: IncomingHttpHeaders; text: string };

/** A desk that answers with what it was asked, and remembers it. */
export function echoDesk(): Desk & { asked: string[]; files: Map<string, Uint8Array> } {
  const asked: string[] = [];
  const files = new Map<string, Uint8Array>();
  return {
    asked,
    files,
    call: (name, request) => {
      asked.push(name);
      return Promise.resolve({ ok: true, value: { name, request } });
    },
    file: (name, bytes) => {
      files.set(name, bytes);
      return { token: `file-${files.size}` };
    },
    paper: (hash) =>
      hash === 'a'.repeat(64)
        ? { name: 'März "book"\r\n.pdf', mime: 'application/pdf', bytes: Buffer.from('%PDF-1.7') }
        : undefined,
    close: () => {},
  };
}

/** A folder of screens with a file beside it that must never be served, and links that lead to it. */
export function screensFolder(): { screens: string; remove(): void } {
  const folder = mkdtempSync(path.join(tmpdir(), 'screens-'));
  const screens = path.join(folder, 'renderer');
  mkdirSync(path.join(screens, 'assets'), { recursive: true });
  mkdirSync(path.join(folder, 'renderer-beside'));
  writeFileSync(path.join(screens, 'index.html'), '<!doctype html><title>Screens</title>');
  writeFileSync(path.join(screens, 'assets', 'main.js'), 'export {};');
  writeFileSync(path.join(screens, '.hidden.js'), 'secret');
  writeFileSync(path.join(screens, 'book.foldbook'), 'secret');
  writeFileSync(path.join(folder, 'secret.txt'), 'secret');
  writeFileSync(path.join(folder, 'renderer-beside', 'secret.txt'), 'secret');
  symlinkSync(path.join(folder, 'secret.txt'), path.join(screens, 'assets', 'link.txt'));
  symlinkSync(folder, path.join(screens, 'assets', 'out'));
  return { screens, remove: () => rmSync(folder, { recursive: true }) };
}

export type Wire = {
  host: LoopbackHost;
  desk: ReturnType<typeof echoDesk>;
  logged: string[];
  /** Sends one request as it is: no header is added but Host. */
  send(method: string, target: string, headers?: Record<string, string>, body?: Body): Promise<Reply>;
  /** The headers of one of our own pages. */
  ours(token?: string): Record<string, string>;
  key(): string;
  token(): Promise<string>;
  /** Sends text over a bare line and gives back all that came until the line was closed. */
  raw(text: string): Promise<string>;
  close(): Promise<void>;
};
type Body = string | Uint8Array | { chunks: Iterable<Uint8Array> };

export async function openWire(options: Partial<LoopbackOptions> = {}): Promise<Wire> {
  const folder = screensFolder();
  const desk = echoDesk();
  const logged: string[] = [];
  const host = await serveDesk({
    desk,
    screens: folder.screens,
    log: (line) => logged.push(line),
    ...options,
  });
  const send: Wire['send'] = (method, target, headers = {}, body = '') =>
    new Promise((resolve, reject) => {
      const sent = request({
        host: '127.0.0.1',
        port: host.port,
        method,
        path: target,
        headers: { host: `127.0.0.1:${host.port}`, ...headers },
        agent: false,
      });
      sent.on('response', (reply) => {
        const chunks: Buffer[] = [];
        reply.on('data', (chunk: Buffer) => chunks.push(chunk));
        reply.on('error', reject);
        reply.on('end', () =>
          resolve({
            status: reply.statusCode ?? 0,
            headers: reply.headers,
            text: Buffer.concat(chunks).toString('utf8'),
          }),
        );
      });
      // A line cut while more was being sent counts only when no reply came before.
      sent.on('error', reject);
      if (typeof body === 'string' || body instanceof Uint8Array) sent.end(body);
      else {
        const chunks = body.chunks[Symbol.iterator]();
        const more = (): void => {
          for (;;) {
            const next = chunks.next();
            if (next.done) return void sent.end();
            if (!sent.write(next.value)) return void sent.once('drain', more);
          }
        };
        more();
      }
    });
  const ours: Wire['ours'] = (token) => ({
    origin: host.origin,
    'content-type': 'application/json',
    ...(token === undefined ? {} : { 'x-foldbook-token': token }),
  });
  const key = (): string => host.newAddress().split('#key=')[1] ?? '';
  return {
    host,
    desk,
    logged,
    send,
    ours,
    key,
    token: async () => {
      const reply = await send('POST', '/key', ours(), JSON.stringify({ key: key() }));
      const said = JSON.parse(reply.text) as { value: { token: string } };
      return said.value.token;
    },
    raw: (text) =>
      new Promise((resolve, reject) => {
        const line = connect(host.port, '127.0.0.1');
        let came = '';
        line.on('data', (chunk) => {
          came += chunk.toString('latin1');
        });
        line.on('close', () => resolve(came));
        line.on('error', reject);
        line.write(text);
      }),
    close: async () => {
      await host.close();
      folder.remove();
    },
  };
}
