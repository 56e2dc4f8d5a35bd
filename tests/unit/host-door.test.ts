import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Surroundings } from '../../src-renderer/desk-door.ts';
import { bridgeDoor, fileLimitBytes, loopbackDoor, newRequestId } from '../../src-renderer/desk-door.ts';
import type { Wire } from '../security/wire.ts';
import { openWire } from '../security/wire.ts';

let wire: Wire;
beforeEach(async () => {
  wire = await openWire();
});
afterEach(() => wire.close());

/** A page on this host: what a browser adds by itself is added here. */
function page(fragment: string, storage = new Map<string, string>()) {
  const cleared: string[] = [];
  let lose = 0;
  const sent: string[] = [];
  const around: Surroundings = {
    fetch: (address, init) => {
      sent.push(typeof init?.body === 'string' ? init.body : '');
      if (lose > 0) {
        lose -= 1;
        return Promise.reject(new TypeError('Failed to fetch'));
      }
      const headers = new Headers(init?.headers);
      headers.set('origin', wire.host.origin);
      return fetch(`${wire.host.origin}${String(address)}`, { ...init, headers });
    },
    storage: {
      getItem: (name) => storage.get(name) ?? null,
      setItem: (name, value) => void storage.set(name, value),
      removeItem: (name) => void storage.delete(name),
    },
    fragment,
    clearFragment: () => void cleared.push(fragment),
  };
  return {
    door: loopbackDoor(around),
    storage,
    cleared,
    sent,
    loseNext: (times: number) => {
      lose = times;
    },
  };
}

describe('the door in a browser', () => {
  test('opens with the key, takes it out of the address, and opens again after a reload without it', async () => {
    const fragment = `#key=${wire.key()}`;
    const first = page(fragment);
    expect(await first.door.open()).toBe('open');
    expect(first.cleared).toEqual([fragment]);
    expect(await first.door.call('echo', { a: 1 })).toEqual({
      ok: true,
      value: { name: 'echo', request: { a: 1 } },
    });
    const reloaded = page('', first.storage);
    expect(await reloaded.door.open()).toBe('open');
    expect((await reloaded.door.call('echo', {})).ok).toBe(true);
  });

  test('a new tab without a key, or with a used one, stays shut', async () => {
    expect(await page('').door.open()).toBe('no-key');
    const fragment = `#key=${wire.key()}`;
    expect(await page(fragment).door.open()).toBe('open');
    expect(await page(fragment).door.open()).toBe('no-key');
    expect(await page('#/treat').door.open()).toBe('no-key');
  });

  test('a used key does no harm to a tab that is open', async () => {
    const fragment = `#key=${wire.key()}`;
    const first = page(fragment);
    await first.door.open();
    expect(await page(fragment, first.storage).door.open()).toBe('open');
  });

  test('an open tab gets a fresh address for another', async () => {
    const first = page(`#key=${wire.key()}`);
    await first.door.open();
    const fresh = await first.door.newAddress();
    const fragment = fresh.ok ? new URL(fresh.value.address).hash : '';
    expect(await page(fragment).door.open()).toBe('open');
  });

  test('a lost connection is an envelope, and a write is sent once more with the same id', async () => {
    const { door, sent, loseNext } = page(`#key=${wire.key()}`);
    await door.open();
    loseNext(1);
    expect(await door.call('echo', {})).toMatchObject({ ok: false, error: { code: 'desk-not-reached' } });
    sent.length = 0;
    loseNext(1);
    const written = await door.write('echo', { heads: 3 });
    expect(written).toMatchObject({
      ok: true,
      value: { request: { heads: 3, request: expect.any(String) } },
    });
    expect(sent).toHaveLength(2);
    expect(sent[0]).toBe(sent[1]);
    loseNext(2);
    const lost = await door.write('echo', {}, 'my-id');
    expect(lost).toMatchObject({ ok: false, error: { code: 'desk-not-reached', next: expect.any(String) } });
  });

  test('a host that is gone is told apart from a missing key', async () => {
    const first = page(`#key=${wire.key()}`);
    await first.door.open();
    await wire.close();
    expect(await first.door.call('echo', {})).toMatchObject({
      ok: false,
      error: { code: 'desk-not-reached' },
    });
    expect(await page('#key=abc').door.open()).toBe('not-reached');
    wire = await openWire();
    // Another run on another port: the old token is worth nothing.
    expect(await first.door.call('echo', {})).toMatchObject({ ok: false, error: { code: 'no-key' } });
  });

  test('files and papers go through with their names', async () => {
    const { door } = page(`#key=${wire.key()}`);
    await door.open();
    const sent = await door.sendFile(new File(['tag;weight'], 'Wägung 1.csv'));
    expect(sent).toEqual({ ok: true, value: { token: 'file-1' } });
    expect(Buffer.from(wire.desk.files.get('Wägung 1.csv') ?? []).toString()).toBe('tag;weight');
    const paper = await door.paper('a'.repeat(64));
    expect(paper).toMatchObject({
      ok: true,
      value: { name: 'März "book"\r\n.pdf', mime: 'application/pdf' },
    });
    if (paper.ok) {
      expect(await (await fetch(paper.value.url)).text()).toBe('%PDF-1.7');
      paper.value.release();
    }
    expect(await door.paper('b'.repeat(64))).toMatchObject({ ok: false, error: { code: 'paper-not-found' } });
    expect(await page('').door.paper('a'.repeat(64))).toMatchObject({ ok: false, error: { code: 'no-key' } });
  });
});

describe('the door in the window', () => {
  const chosen = new Set<(id: string) => void>();
  const bridge = {
    call: (text: string) => Promise.resolve(JSON.stringify({ ok: true, value: JSON.parse(text) as unknown })),
    file: (name: string, bytes: ArrayBuffer) =>
      Promise.resolve(JSON.stringify({ ok: true, value: { token: `${name} ${bytes.byteLength}` } })),
    paper: (hash: string) =>
      Promise.resolve(hash === 'a' ? { name: 'n', mime: 'm/m', bytes: new Uint8Array(2) } : undefined),
    onCommand: (listener: (id: string) => void) => {
      chosen.add(listener);
      return () => void chosen.delete(listener);
    },
  };

  test('hears the menu until it stops, and has no tabs; a browser has tabs and no menu', () => {
    const heard: string[] = [];
    const door = bridgeDoor(bridge);
    const stop = door.onCommand((id) => heard.push(id));
    for (const listener of chosen) listener('go-treat');
    stop();
    expect([heard, chosen.size, door.hasTabs]).toEqual([['go-treat'], 0, false]);
    const inBrowser = page('').door;
    expect(() => inBrowser.onCommand(() => {})()).not.toThrow();
    expect(inBrowser.hasTabs).toBe(true);
  });

  test('carries the same text', async () => {
    const door = bridgeDoor(bridge);
    expect(await door.open()).toBe('open');
    expect(await door.call('echo', { a: 1 })).toEqual({
      ok: true,
      value: { name: 'echo', request: { a: 1 } },
    });
    expect(await door.write('echo', { a: 1 }, 'id')).toEqual({
      ok: true,
      value: { name: 'echo', request: { a: 1, request: 'id' } },
    });
    expect(await door.sendFile(new File(['abc'], 'a.csv'))).toEqual({
      ok: true,
      value: { token: 'a.csv 3' },
    });
    expect(await door.paper('a')).toMatchObject({ ok: true, value: { name: 'n', mime: 'm/m' } });
    expect(await door.paper('b')).toMatchObject({ ok: false, error: { code: 'paper-not-found' } });
    expect(await door.newAddress()).toMatchObject({ ok: false, error: { code: 'not-in-a-browser' } });
  });

  test('trouble on the line is an envelope', async () => {
    const broken = bridgeDoor({ ...bridge, call: () => Promise.reject(new Error('refused')) });
    expect(await broken.call('echo', {})).toMatchObject({ ok: false, error: { code: 'desk-not-reached' } });
    for (const text of [
      '',
      'null',
      '{}',
      '{"ok":false}',
      '{"ok":false,"error":{"code":1}}',
      '{"ok":"yes"}',
    ]) {
      const odd = bridgeDoor({ ...bridge, call: () => Promise.resolve(text) });
      expect(await odd.call('echo', {})).toMatchObject({ ok: false, error: { code: 'desk-not-reached' } });
    }
  });

  test('a file over 64 MB is not even read', async () => {
    const file = new File([''], 'big.csv');
    Object.defineProperty(file, 'size', { value: fileLimitBytes + 1 });
    expect(await bridgeDoor(bridge).sendFile(file)).toMatchObject({ ok: false, error: { code: 'too-big' } });
  });
});

test('ids of requests are UUIDs of version 7 and sort by when they were made', () => {
  const ids = Array.from({ length: 100 }, newRequestId);
  for (const id of ids)
    expect(id).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
  expect([...ids].sort()).toEqual(ids);
});
