import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Desk } from '../../src-main/desk-type.ts';
import type { LoopbackHost } from '../../src-main/host-loopback/server.ts';
import { echoDesk } from '../security/wire.ts';
import { openBrowser, serveScreens, watchPage } from './browser.ts';

let browser: Browser;
let host: LoopbackHost;
// The door is tested here, not the screens: this desk has nothing to tell them.
const asked: string[] = [];
const desk: Desk = {
  ...echoDesk(),
  call: (name) => {
    asked.push(name);
    return Promise.resolve({
      ok: false,
      error: { code: 'nothing-here', message: 'There is no book here.', next: 'Close this window.' },
    });
  },
};
const shut = /no key to Foldbook/;
beforeAll(async () => {
  host = await serveScreens(desk);
  browser = await openBrowser();
});
afterAll(async () => {
  await browser?.close();
  await host?.close();
});

test('the printed address opens the screens quietly, keeps no key, and a reload works', async () => {
  const page = await browser.newPage();
  const watch = await watchPage(page);
  await page.goto(host.newAddress());
  await page.getByRole('main').waitFor();
  expect(await page.getByText(shut).count()).toBe(0);
  expect(page.url()).not.toContain('key=');
  await page.reload();
  await page.getByRole('main').waitFor();
  expect(await page.getByText(shut).count()).toBe(0);
  await watch.expectQuiet();
  await page.close();
});

test('a tab without a key says what to do, and nothing else', async () => {
  const page = await browser.newPage();
  const watch = await watchPage(page);
  await page.goto(host.origin);
  await page.getByText(shut).waitFor();
  expect(await page.getByRole('alert').count()).toBe(1);
  await watch.expectQuiet();
  await page.close();
});

test('the watch hears a violation of the policy, an error in the console and one that nothing caught', async () => {
  const page = await browser.newPage();
  const watch = await watchPage(page);
  await page.goto(host.newAddress());
  await page.getByRole('main').waitFor();
  await watch.expectQuiet();
  await page.evaluate(() => {
    const script = document.createElement('script');
    script.textContent = 'window.smuggled = true';
    document.body.append(script);
    const styled = document.createElement('style');
    styled.textContent = 'body { color: red }';
    document.body.append(styled);
    queueMicrotask(() => {
      throw new Error('thrown on purpose');
    });
  });
  expect(await page.evaluate(() => Reflect.get(window, 'smuggled'))).toBeUndefined();
  await expect
    .poll(() => watch.trouble().then((found) => found.join('\n')))
    .toMatch(/uncaught: thrown on purpose/);
  const found = (await watch.trouble()).join('\n');
  expect(found).toMatch(/policy: script-src-elem stopped inline/);
  expect(found).toMatch(/policy: style-src-elem stopped inline/);
  expect(found).toMatch(/console: /);
  await expect(watch.expectQuiet()).rejects.toThrow('not quiet');
  await page.close();
});

test('a page from elsewhere can neither read, run, frame nor call what the host serves', async () => {
  // The same computer by another port is another origin, like any page on the internet. It sets no policy of
  // its own, so whatever stops it is ours.
  const elsewhere = createServer((_request, reply) => {
    reply.writeHead(200, { 'content-type': 'text/html' });
    reply.end('<!doctype html><title>Elsewhere</title>');
  });
  await new Promise<void>((resolve) => elsewhere.listen(0, '127.0.0.1', resolve));
  const { port } = elsewhere.address() as AddressInfo;
  const page = await browser.newPage();
  await page.goto(`http://127.0.0.1:${port}/`);
  const before = asked.length;
  const outcome = await page.evaluate(async (origin) => {
    const tried = [
      fetch(`${origin}/`),
      fetch(`${origin}/`, { mode: 'no-cors' }),
      fetch(`${origin}/call`, { method: 'POST', body: '{}' }),
      fetch(`${origin}/call`, { method: 'POST', mode: 'no-cors', body: '{}' }),
      fetch(`${origin}/call`, { method: 'POST', headers: { 'x-foldbook-token': 'x' }, body: '{}' }),
      // What must work, or the rest proves nothing.
      fetch(window.location.href),
    ];
    return (await Promise.allSettled(tried)).map((one) => one.status);
  }, host.origin);
  expect(outcome).toEqual(['rejected', 'rejected', 'rejected', 'rejected', 'rejected', 'fulfilled']);
  await page.evaluate(
    (origin) =>
      new Promise((resolve) => {
        const frame = document.createElement('iframe');
        frame.onload = resolve;
        frame.src = `${origin}/`;
        document.body.append(frame);
      }),
    host.origin,
  );
  expect(page.frames().map((frame) => frame.url())).toEqual([
    `http://127.0.0.1:${port}/`,
    'chrome-error://chromewebdata/',
  ]);
  expect(asked.length).toBe(before);
  await page.close();
  elsewhere.close();
});
