import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Reply, Wire } from './wire.ts';
import { openWire } from './wire.ts';

let wire: Wire;
beforeAll(async () => {
  wire = await openWire();
});
afterAll(() => wire.close());

const call = JSON.stringify({ name: 'echo', request: { tag: 'UK 1' } });
const codeOf = (reply: Reply): string => (JSON.parse(reply.text) as { error: { code: string } }).error.code;

describe('the key', () => {
  test('opens once, and its token carries calls', async () => {
    const key = wire.key();
    const first = await wire.send('POST', '/key', wire.ours(), JSON.stringify({ key }));
    expect(first.status).toBe(200);
    const { token } = (JSON.parse(first.text) as { value: { token: string } }).value;
    expect(token).toMatch(/^[\w-]{43}$/);
    expect(token).not.toBe(key);
    const again = await wire.send('POST', '/key', wire.ours(), JSON.stringify({ key }));
    expect([again.status, codeOf(again)]).toEqual([403, 'key-not-valid']);
    const reply = await wire.send('POST', '/call', wire.ours(token), call);
    expect(reply.status).toBe(200);
    expect(JSON.parse(reply.text)).toEqual({
      ok: true,
      value: { name: 'echo', request: { tag: 'UK 1' } },
    });
    // Loading the page again means using the same token again.
    expect((await wire.send('POST', '/call', wire.ours(token), call)).status).toBe(200);
  });

  test('is nowhere in a cookie, and the address carries it only in the fragment', async () => {
    expect(wire.host.newAddress()).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/#key=[\w-]{43}$/);
    const reply = await wire.send('POST', '/key', wire.ours(), JSON.stringify({ key: wire.key() }));
    expect(reply.status).toBe(200);
    expect(reply.headers['set-cookie']).toBeUndefined();
  });

  test('a page that has a token may ask for a fresh one, a page that has none may not', async () => {
    const token = await wire.token();
    const fresh = await wire.send('POST', '/fresh-key', wire.ours(token), '{}');
    const { address } = (JSON.parse(fresh.text) as { value: { address: string } }).value;
    const key = address.split('#key=')[1];
    expect((await wire.send('POST', '/key', wire.ours(), JSON.stringify({ key }))).status).toBe(200);
    expect((await wire.send('POST', '/fresh-key', wire.ours(), '{}')).status).toBe(401);
  });
});

describe('guessing', () => {
  test('after five wrong keys not even the right one is heard for a minute', async () => {
    let nowMs = 0;
    const guessed = await openWire({ nowMs: () => nowMs });
    const guess = (key: string) => guessed.send('POST', '/key', guessed.ours(), JSON.stringify({ key }));
    for (let tried = 0; tried < 5; tried += 1) expect((await guess(`guess-${tried}`)).status).toBe(403);
    const key = guessed.key();
    const early = await guess(key);
    expect([early.status, codeOf(early), early.headers['retry-after']]).toEqual([429, 'too-many-keys', '60']);
    nowMs = 59_999;
    expect((await guess(key)).status).toBe(429);
    nowMs = 60_000;
    expect((await guess(key)).status).toBe(200);
    await guessed.close();
  });

  test('a body that holds no key counts as a wrong one', async () => {
    const guessed = await openWire({ nowMs: () => 0 });
    for (const body of ['', '{', '[]', '{"key":7}', 'null']) {
      expect((await guessed.send('POST', '/key', guessed.ours(), body)).status).toBe(403);
    }
    expect((await guessed.send('POST', '/key', guessed.ours(), '{}')).status).toBe(429);
    await guessed.close();
  });
});

describe('who may ask', () => {
  test.each([
    ['no token', undefined],
    ['an empty token', ''],
    ['a made-up token', 'A'.repeat(43)],
  ])('%s is turned away before the desk hears of it', async (_what, token) => {
    const before = wire.desk.asked.length;
    for (const target of ['/call', '/file', '/fresh-key', '/anything']) {
      const reply = await wire.send('POST', target, wire.ours(token), call);
      expect([target, reply.status, codeOf(reply)]).toEqual([target, 401, 'no-key']);
    }
    const paper = await wire.send('GET', `/paper/${'a'.repeat(64)}`, wire.ours(token));
    expect(paper.status).toBe(401);
    expect(wire.desk.asked.length).toBe(before);
  });

  test('a token in a cookie or in the address is no token', async () => {
    const token = await wire.token();
    const cookie = { ...wire.ours(), cookie: `x-foldbook-token=${token}` };
    expect((await wire.send('POST', '/call', cookie, call)).status).toBe(401);
    expect((await wire.send('POST', `/call?x-foldbook-token=${token}`, wire.ours(), call)).status).toBe(401);
  });

  test('a token of one host opens no other', async () => {
    const other = await openWire();
    const token = await other.token();
    expect((await wire.send('POST', '/call', wire.ours(token), call)).status).toBe(401);
    await other.close();
  });

  test.each([
    'https://example.org',
    'null',
    'http://127.0.0.1',
    'http://127.0.0.1:1',
    'http://localhost:PORT',
    'https://127.0.0.1:PORT',
    'http://127.0.0.1:PORT.example.org',
    '',
  ])('a page of %s is refused even with a token', async (origin) => {
    const headers = {
      ...wire.ours(await wire.token()),
      origin: origin.replace('PORT', String(wire.host.port)),
    };
    const reply = await wire.send('POST', '/call', headers, call);
    expect([reply.status, codeOf(reply)]).toEqual([403, 'wrong-origin']);
    expect((await wire.send('GET', '/', { origin: headers.origin })).status).toBe(403);
  });

  test('a POST that names no origin is refused, a page load is not', async () => {
    const { origin: _gone, ...headers } = wire.ours(await wire.token());
    expect((await wire.send('POST', '/call', headers, call)).status).toBe(403);
    expect((await wire.send('GET', '/')).status).toBe(200);
  });

  test('a POST that the browser marks as coming from elsewhere is refused', async () => {
    const headers = { ...wire.ours(await wire.token()), 'sec-fetch-site': 'cross-site' };
    expect((await wire.send('POST', '/call', headers, call)).status).toBe(403);
  });

  test.each(['localhost:PORT', '127.0.0.1', 'example.org', '127.0.0.1:1', '127.0.0.1.:PORT', '[::1]:PORT'])(
    'another name for this computer, %s, is refused',
    async (host) => {
      const named = { host: host.replace('PORT', String(wire.host.port)) };
      expect((await wire.send('GET', '/', named)).status).toBe(421);
      const posted = await wire.send('POST', '/call', { ...wire.ours(await wire.token()), ...named }, call);
      expect([posted.status, codeOf(posted)]).toEqual([421, 'wrong-host']);
    },
  );

  test('two Host headers, none at all, or a whole address as target are refused', async () => {
    const own = `127.0.0.1:${wire.host.port}`;
    const twice = await wire.raw(
      `GET / HTTP/1.1\r\nHost: ${own}\r\nHost: example.org\r\nConnection: close\r\n\r\n`,
    );
    expect(twice).toMatch(/^HTTP\/1\.1 4\d\d /);
    for (const host of ['', 'Host:\r\n', 'Host: \r\n']) {
      expect(await wire.raw(`GET / HTTP/1.1\r\n${host}Connection: close\r\n\r\n`)).toMatch(
        /^HTTP\/1\.1 421 /,
      );
    }
    const whole = `GET http://example.org/ HTTP/1.1\r\nHost: ${own}\r\nConnection: close\r\n\r\n`;
    expect(await wire.raw(whole)).toMatch(/^HTTP\/1\.1 400 /);
    const slashes = `GET //example.org/ HTTP/1.1\r\nHost: ${own}\r\nConnection: close\r\n\r\n`;
    expect(await wire.raw(slashes)).toMatch(/^HTTP\/1\.1 400 /);
  });
});

describe('other pages', () => {
  test('get no permission to ask: a preflight is refused without any header that allows', async () => {
    const reply = await wire.send('OPTIONS', '/call', {
      origin: 'https://example.org',
      'access-control-request-method': 'POST',
      'access-control-request-headers': 'x-foldbook-token',
      'access-control-request-private-network': 'true',
    });
    expect([reply.status, reply.headers.allow]).toEqual([405, 'GET, POST']);
    const allowing = Object.keys(reply.headers).filter((name) => name.startsWith('access-control-'));
    expect(allowing).toEqual([]);
  });

  test.each(['PUT', 'DELETE', 'PATCH', 'HEAD', 'OPTIONS', 'TRACE'])('%s is refused', async (method) => {
    expect((await wire.send(method, '/', wire.ours(await wire.token()))).status).toBe(405);
  });

  test('a plain form cannot send a call: its kinds of content are refused', async () => {
    const token = await wire.token();
    for (const kind of [
      'text/plain',
      'application/x-www-form-urlencoded',
      'multipart/form-data; boundary=x',
    ]) {
      const reply = await wire.send('POST', '/call', { ...wire.ours(token), 'content-type': kind }, call);
      expect([kind, reply.status]).toEqual([kind, 415]);
    }
  });

  test('every reply carries the strict headers, errors as well', async () => {
    const replies = [
      await wire.send('GET', '/'),
      await wire.send('GET', '/nothing'),
      await wire.send('POST', '/call', wire.ours(), call),
      await wire.send('POST', '/call', wire.ours(await wire.token()), call),
      await wire.send('PUT', '/'),
    ];
    expect(replies.map((reply) => reply.status)).toEqual([200, 404, 401, 200, 405]);
    for (const reply of replies) {
      expect(reply.headers['content-security-policy']).toContain("default-src 'none'");
      expect(reply.headers).toMatchObject({
        'x-content-type-options': 'nosniff',
        'referrer-policy': 'no-referrer',
        'cross-origin-opener-policy': 'same-origin',
        'cross-origin-resource-policy': 'same-origin',
        'cache-control': 'no-store',
      });
    }
  });
});
