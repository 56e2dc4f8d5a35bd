import { createHash } from 'node:crypto';
import { connect } from 'node:net';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { loopbackLimits } from '../../src-main/host-loopback/server.ts';
import type { Reply, Wire } from './wire.ts';
import { openWire } from './wire.ts';

let wire: Wire;
beforeAll(async () => {
  wire = await openWire();
});
afterAll(() => wire.close());

const call = JSON.stringify({ name: 'echo', request: { tag: 'UK 1' } });
const codeOf = (reply: Reply): string => (JSON.parse(reply.text) as { error: { code: string } }).error.code;

describe('paths', () => {
  test('the page and its parts are served', async () => {
    expect((await wire.send('GET', '/')).text).toContain('<title>Screens');
    expect((await wire.send('GET', '/index.html?x=1')).headers['content-type']).toBe(
      'text/html; charset=utf-8',
    );
    expect((await wire.send('GET', '/assets/main.js')).text).toBe('export {};');
  });

  test.each([
    '/../secret.txt',
    '/assets/../../secret.txt',
    '/..%2fsecret.txt',
    '/%2e%2e/secret.txt',
    '/%2e%2e%2fsecret.txt',
    '/%252e%252e%252fsecret.txt',
    '/..%5csecret.txt',
    '/assets/..%5c..%5csecret.txt',
    '/../renderer-beside/secret.txt',
    '/..%2frenderer-beside%2fsecret.txt',
    '/assets/link.txt',
    '/assets/out/secret.txt',
    '/index.html%00.js',
    '/%00',
    '/.hidden.js',
    '/./index.html',
    '/assets/./main.js',
    '/assets//main.js',
    '/assets',
    '/assets/',
    '/book.foldbook',
    '/c:/secret.txt',
    '/%',
    '/%ff',
    '/etc/passwd',
    '/index.html/secret.txt',
  ])('%s leads nowhere and is not repeated', async (target) => {
    const reply = await wire.send('GET', target);
    expect([reply.status, codeOf(reply)]).toEqual([404, 'not-found']);
    expect(reply.text).not.toContain('secret');
    // What was asked for is not written back: nothing to smuggle markup into.
    expect(reply.text).not.toContain(target.slice(1, 30));
  });

  test('a name too long for the disk leads nowhere', async () => {
    expect((await wire.send('GET', `/${'a'.repeat(5000)}.js`)).status).toBe(404);
  });

  test('markup in a path is not echoed', async () => {
    const reply = await wire.send('GET', '/%3Cscript%3Ealert(1)%3C/script%3E');
    expect(reply.status).toBe(404);
    expect(reply.text).not.toContain('script');
    expect(reply.headers['content-type']).toBe('application/json; charset=utf-8');
  });
});

describe('sizes', () => {
  function* flood(bytes: number): Generator<Uint8Array> {
    const chunk = Buffer.alloc(64 * 1024, 0x20);
    for (let sent = 0; sent < bytes; sent += chunk.length) yield chunk;
  }

  test('a call of exactly the limit is taken, one byte more is not', async () => {
    const token = await wire.token();
    const shell = JSON.stringify({ name: 'echo', request: '' }).length;
    const exactly = JSON.stringify({ name: 'echo', request: 'x'.repeat(loopbackLimits.callBytes - shell) });
    expect(exactly.length).toBe(4 * 1024 * 1024);
    expect((await wire.send('POST', '/call', wire.ours(token), exactly)).status).toBe(200);
    const over = await wire.send('POST', '/call', wire.ours(token), `${exactly} `);
    expect([over.status, codeOf(over)]).toEqual([413, 'too-big']);
  });

  test('a stated length over the limit is refused before a byte of it is sent', async () => {
    const token = await wire.token();
    const came = await wire.raw(
      `POST /call HTTP/1.1\r\nHost: 127.0.0.1:${wire.host.port}\r\nOrigin: ${wire.host.origin}\r\n` +
        `Content-Type: application/json\r\nX-Foldbook-Token: ${token}\r\nContent-Length: 999999999\r\n\r\n`,
    );
    expect(came).toMatch(/^HTTP\/1\.1 413 /);
  });

  test('a body that states no length is let go of while it comes in', async () => {
    const token = await wire.token();
    const headers = { ...wire.ours(token), 'transfer-encoding': 'chunked' };
    const before = wire.desk.asked.length;
    const reply = await wire.send('POST', '/call', headers, { chunks: flood(6 * 1024 * 1024) });
    expect(reply.status).toBe(413);
    expect(wire.desk.asked.length).toBe(before);
  });

  test('a sender who goes on and on is cut off', async () => {
    const token = await wire.token();
    const headers = { ...wire.ours(token), 'transfer-encoding': 'chunked' };
    let sent = 0;
    const endless = function* (): Generator<Uint8Array> {
      for (const chunk of flood(1024 * 1024 * 1024)) {
        sent += chunk.length;
        yield chunk;
      }
    };
    const outcome = await wire.send('POST', '/call', headers, { chunks: endless() }).then(
      (reply) => reply.status,
      () => 'cut',
    );
    expect([413, 'cut']).toContain(outcome);
    expect(sent).toBeLessThan(64 * 1024 * 1024);
  });

  test('somebody without a token cannot make the host read', async () => {
    const headers = { ...wire.ours(), 'transfer-encoding': 'chunked' };
    const reply = await wire.send('POST', '/call', headers, { chunks: flood(1024 * 1024) });
    expect(reply.status).toBe(401);
  });

  test('somebody who asks before sending hears the refusal instead of "go on"', async () => {
    const ask = (token: string): string =>
      `POST /call HTTP/1.1\r\nHost: 127.0.0.1:${wire.host.port}\r\nOrigin: ${wire.host.origin}\r\n` +
      `Content-Type: application/json\r\nX-Foldbook-Token: ${token}\r\nExpect: 100-continue\r\n` +
      `Connection: close\r\nContent-Length: ${call.length}\r\n\r\n`;
    expect(await wire.raw(ask('wrong'))).toMatch(/^HTTP\/1\.1 401 /);
    expect(await wire.raw(ask(await wire.token()) + call)).toMatch(/^HTTP\/1\.1 100 [\s\S]*HTTP\/1\.1 200 /);
  });

  test('headers over 16 kB are refused', async () => {
    const huge = `GET / HTTP/1.1\r\nHost: 127.0.0.1:${wire.host.port}\r\nX-A: ${'a'.repeat(20_000)}\r\n\r\n`;
    expect(await wire.raw(huge)).toMatch(/^HTTP\/1\.1 400 /);
  });

  test('a file keeps its bytes and loses the folders of its name', async () => {
    const bytes = Buffer.alloc(5 * 1024 * 1024, 7);
    const headers = {
      ...wire.ours(await wire.token()),
      'content-type': 'application/octet-stream',
      'x-foldbook-file': encodeURIComponent('../../Zähl\u0000liste.csv'),
    };
    const reply = await wire.send('POST', '/file', headers, bytes);
    expect(JSON.parse(reply.text)).toMatchObject({ ok: true, value: { token: expect.any(String) } });
    const kept = wire.desk.files.get('Zählliste.csv');
    expect(
      createHash('sha256')
        .update(kept ?? '')
        .digest('hex'),
    ).toBe(createHash('sha256').update(bytes).digest('hex'));
    const { 'x-foldbook-file': _name, ...nameless } = headers;
    expect((await wire.send('POST', '/file', nameless, bytes)).status).toBe(400);
  });

  test('a file over its limit is refused while it comes in', async () => {
    const small = await openWire({ limits: { fileBytes: 1024 * 1024 } });
    const headers = {
      ...small.ours(await small.token()),
      'content-type': 'application/octet-stream',
      'x-foldbook-file': 'big.csv',
      'transfer-encoding': 'chunked',
    };
    const reply = await small.send('POST', '/file', headers, { chunks: flood(2 * 1024 * 1024) });
    expect(reply.status).toBe(413);
    expect(small.desk.files.size).toBe(0);
    await small.close();
  });
});

describe('calls', () => {
  test('text that is no call is answered in an envelope and does not reach the desk', async () => {
    const token = await wire.token();
    const before = wire.desk.asked.length;
    const deep = `{"name":"echo","request":${'['.repeat(100_000)}${']'.repeat(100_000)}}`;
    const bad = ['', '{', '[]', 'null', '{"name":1}', '{"name":"a b"}', '{"name":"echo","more":1}', deep];
    for (const text of bad) {
      const reply = await wire.send('POST', '/call', wire.ours(token), text);
      expect([reply.status, codeOf(reply)]).toEqual([200, 'call-not-understood']);
    }
    expect(wire.desk.asked.length).toBe(before);
  });

  test('a fault in the program tells the screen nothing of its inside', async () => {
    const failing = await openWire({
      desk: {
        call: () => Promise.reject(new Error('secret place in the program')),
        file: () => ({ token: '' }),
        paper: () => undefined,
        close: () => {},
      },
    });
    const reply = await failing.send('POST', '/call', failing.ours(await failing.token()), call);
    expect(codeOf(reply)).toBe('desk-failed');
    expect(reply.text).not.toContain('secret');
    expect(failing.logged.join('\n')).toContain('secret place in the program');
    await failing.close();
  });

  test('a paper is sent as it was kept, and its name cannot break a header', async () => {
    const token = await wire.token();
    const reply = await wire.send('GET', `/paper/${'a'.repeat(64)}`, wire.ours(token));
    expect([reply.status, reply.text]).toEqual([200, '%PDF-1.7']);
    expect(reply.headers['content-type']).toBe('application/pdf');
    expect(reply.headers['x-foldbook-file']).toBe('M%C3%A4rz%20%22book%22%0D%0A.pdf');
    expect(reply.headers['content-disposition']).toBe(
      "attachment; filename*=UTF-8''M%C3%A4rz%20%22book%22%0D%0A.pdf",
    );
    for (const hash of ['b'.repeat(64), '..%2f..', 'A'.repeat(64), '']) {
      expect((await wire.send('GET', `/paper/${hash}`, wire.ours(token))).status).toBe(404);
    }
  });
});

describe('load', () => {
  test('more requests at once than the host bears are told to wait, and the rest go on', async () => {
    const waiting: (() => void)[] = [];
    let arrived = (): void => {};
    const bothIn = new Promise<void>((resolve) => {
      arrived = resolve;
    });
    const busy = await openWire({
      limits: { requestsAtOnce: 2 },
      desk: {
        call: () =>
          new Promise((resolve) => {
            waiting.push(() => resolve({ ok: true, value: 'late' }));
            if (waiting.length === 2) arrived();
          }),
        file: () => ({ token: '' }),
        paper: () => undefined,
        close: () => {},
      },
    });
    const token = await busy.token();
    const held = [1, 2].map(() => busy.send('POST', '/call', busy.ours(token), call));
    await bothIn;
    const third = await busy.send('POST', '/call', busy.ours(token), call);
    expect([third.status, codeOf(third), third.headers['retry-after']]).toEqual([503, 'too-busy', '1']);
    for (const go of waiting) go();
    expect((await Promise.all(held)).map((reply) => reply.status)).toEqual([200, 200]);
    expect((await busy.send('GET', '/')).status).toBe(200);
    await busy.close();
  });

  test('a line on which headers only trickle is closed', async () => {
    const patient = await openWire({ limits: { headersMs: 200 } });
    const came = await patient.raw(`GET / HTTP/1.1\r\nHost: 127.0.0.1:${patient.host.port}\r\nX-A`);
    expect(came).toMatch(/^HTTP\/1\.1 408 /);
    await patient.close();
  });

  test('a body that stops coming is given up', async () => {
    const patient = await openWire({ limits: { headersMs: 200, requestMs: 400 } });
    const token = await patient.token();
    const before = patient.desk.asked.length;
    await patient.raw(
      `POST /call HTTP/1.1\r\nHost: 127.0.0.1:${patient.host.port}\r\nOrigin: ${patient.host.origin}\r\n` +
        `Content-Type: application/json\r\nX-Foldbook-Token: ${token}\r\nContent-Length: 100\r\n\r\n{"na`,
    );
    expect(patient.desk.asked.length).toBe(before);
    await patient.close();
  });

  test('the port answers on 127.0.0.1 only, and is free again after closing', async () => {
    const short = await openWire();
    const { port } = short.host;
    const other = new Promise((resolve) => {
      const line = connect(port, '127.0.0.2');
      line.on('connect', () => resolve('answered'));
      line.on('error', () => resolve('refused'));
    });
    expect(await other).toBe('refused');
    await short.close();
    const again = await openWire({ port });
    expect(again.host.port).toBe(port);
    await expect(openWire({ port })).rejects.toMatchObject({ code: 'port-not-free', field: '--port' });
    await again.close();
  });
});
