import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { MenuItemConstructorOptions } from 'electron';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Desk } from '../../src-main/desk-type.ts';
import { channels, commandChannel } from '../../src-main/host-electron/channels.ts';
import type { ElectronApi } from '../../src-main/host-electron/run.ts';
import { runElectron } from '../../src-main/host-electron/run.ts';
import { pagePreferences } from '../../src-main/host-electron/window-options.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import { echoDesk, screensFolder } from './wire.ts';

type Handler = (...said: unknown[]) => unknown;

/** Remembers what was registered under each name. */
function listeners(): { on: (name: string, heard: Handler) => void; of: (name: string) => Handler } {
  const heard = new Map<string, Handler>();
  return {
    on: (name, handler) => void heard.set(name, handler),
    of: (name) => heard.get(name) ?? (() => expect.fail(`nothing listens to ${name}`)),
  };
}

/**
 * A runtime that only writes down what it is told. It proves what the host asks of the real one, not that the
 * real one does it.
 */
function recordingRuntime(keepsIn: string, isFirst = true) {
  const app = listeners();
  const contents = { ...listeners(), openWindow: (): unknown => undefined };
  const window = listeners();
  const lines = new Map<string, Handler>();
  const permissions: { request?: Handler; check?: Handler; device?: Handler; load?: Handler } = {};
  const told: string[] = [];
  const windows: Record<string, unknown>[] = [];
  const sent: unknown[][] = [];
  const page = { address: 'app://foldbook/?at=flock', isGone: false };
  let menu: MenuItemConstructorOptions[] = [];
  let serve: (request: Request) => Promise<Response> = () => Promise.reject(new Error('nothing is served'));
  const webContents = {
    on: contents.on,
    setWindowOpenHandler: (handler: () => unknown) => {
      contents.openWindow = handler;
    },
    getZoomFactor: () => 1.5,
    getURL: () => page.address,
    send: (...said: unknown[]) => sent.push(said),
  };
  class BrowserWindow {
    webContents = webContents;
    constructor(options: Record<string, unknown>) {
      windows.push(options);
      app.of('web-contents-created')({}, webContents);
    }
    on = window.on;
    once = window.on;
    maximize = () => told.push('maximize');
    show = () => told.push('show');
    focus = () => told.push('focus');
    isDestroyed = () => page.isGone;
    isMinimized = () => false;
    isMaximized = () => false;
    getNormalBounds = () => ({ x: 10, y: 20, width: 900, height: 700 });
    loadURL = (address: string) => {
      told.push(`load ${address}`);
      return Promise.resolve();
    };
  }
  const api = {
    app: {
      on: app.on,
      enableSandbox: () => told.push('sandbox'),
      setPath: (name: string, folder: string) => told.push(`path ${name} ${folder}`),
      getPath: () => keepsIn,
      requestSingleInstanceLock: () => isFirst,
      whenReady: () => Promise.resolve(),
      quit: () => told.push('quit'),
      exit: (code: number) => told.push(`exit ${code}`),
    },
    BrowserWindow,
    dialog: { showErrorBox: (title: string, text: string) => told.push(`${title}: ${text}`) },
    ipcMain: { handle: (name: string, handler: Handler) => void lines.set(name, handler) },
    Menu: {
      buildFromTemplate: (items: MenuItemConstructorOptions[]) => items,
      setApplicationMenu: (items: MenuItemConstructorOptions[]) => {
        menu = items;
      },
    },
    protocol: {
      registerSchemesAsPrivileged: () => told.push('scheme'),
      handle: (_scheme: string, handler: typeof serve) => {
        serve = handler;
      },
    },
    screen: { getAllDisplays: () => [{ workArea: { x: 0, y: 0, width: 1920, height: 1080 } }] },
    session: {
      defaultSession: {
        setPermissionRequestHandler: (handler: Handler) => {
          permissions.request = handler;
        },
        setPermissionCheckHandler: (handler: Handler) => {
          permissions.check = handler;
        },
        setDevicePermissionHandler: (handler: Handler) => {
          permissions.device = handler;
        },
        webRequest: {
          onBeforeRequest: (handler: Handler) => {
            permissions.load = handler;
          },
        },
      },
    },
  };
  return {
    api: api as unknown as ElectronApi,
    app,
    contents,
    window,
    lines,
    permissions,
    told,
    windows,
    sent,
    page,
    /** Clicks the item of the menu that has this id. */
    choose: (id: string) => {
      const items = menu.flatMap((one) => (Array.isArray(one.submenu) ? one.submenu : []));
      const click = items.find((item) => item.id === id)?.click;
      if (click === undefined) expect.fail(`the menu has no ${id}`);
      Reflect.apply(click, undefined, []);
    },
    serve: (address: string, method = 'GET') => serve(new Request(address, { method })),
  };
}

let folder: ReturnType<typeof screensFolder>;
let keepsIn: string;
beforeEach(() => {
  folder = screensFolder();
  keepsIn = mkdtempSync(path.join(tmpdir(), 'window-'));
});
afterEach(() => {
  folder.remove();
  rmSync(keepsIn, { recursive: true });
});

async function run(options: { isFirst?: boolean; openDesk?: () => Desk } = {}) {
  const runtime = recordingRuntime(keepsIn, options.isFirst);
  const desk = echoDesk();
  const logged: string[] = [];
  await runElectron(runtime.api, {
    openDesk: options.openDesk ?? (() => desk),
    screens: folder.screens,
    preload: '/program/preload.cjs',
    keepsIn,
    platform: 'linux',
    log: (line) => logged.push(line),
  });
  return { ...runtime, desk, logged };
}

describe('the window host', () => {
  test('asks for the sandbox and its own folder before anything else, then loads one page', async () => {
    const host = await run();
    expect(host.told).toEqual(['sandbox', `path userData ${keepsIn}`, 'scheme', 'load app://foldbook/']);
    expect(host.windows).toHaveLength(1);
    expect(host.windows[0]?.webPreferences).toEqual({
      ...pagePreferences,
      preload: '/program/preload.cjs',
      zoomFactor: 1,
    });
  });

  test('a second program shows the first one and opens nothing', async () => {
    const second = await run({ isFirst: false });
    expect(second.told.at(-1)).toBe('quit');
    expect(second.windows).toEqual([]);
    const first = await run();
    first.app.of('second-instance')();
    expect(first.told.at(-1)).toBe('focus');
  });

  test('denies every permission, known or not', async () => {
    const { permissions } = await run();
    for (const name of [
      'media',
      'geolocation',
      'notifications',
      'hid',
      'serial',
      'usb',
      'clipboard-read',
      'new',
    ]) {
      const answers: unknown[] = [];
      permissions.request?.({}, name, (answer: unknown) => answers.push(answer));
      expect(answers).toEqual([false]);
      expect(permissions.check?.({}, name)).toBe(false);
    }
    expect(permissions.device?.({})).toBe(false);
  });

  test('stops every request that would leave the computer', async () => {
    const { permissions } = await run();
    const cancelled = (url: string): unknown => {
      let answer: unknown;
      permissions.load?.({ url }, (given: unknown) => {
        answer = given;
      });
      return answer;
    };
    expect(cancelled('https://example.org/a.js')).toEqual({ cancel: true });
    expect(cancelled('file:///etc/passwd')).toEqual({ cancel: true });
    expect(cancelled('app://foldbook/assets/main.js')).toEqual({ cancel: false });
  });

  test('opens no other window and goes to no other page', async () => {
    const { contents } = await run();
    expect(contents.openWindow()).toEqual({ action: 'deny' });
    const prevented = (name: string, event: object): boolean => {
      let was = false;
      contents.of(name)({
        ...event,
        preventDefault: () => {
          was = true;
        },
      });
      return was;
    };
    expect(prevented('will-navigate', { url: 'https://example.org/' })).toBe(true);
    expect(prevented('will-navigate', { url: 'app://foldbook/' })).toBe(false);
    expect(prevented('will-redirect', { url: 'app://foldbook/' })).toBe(true);
    expect(prevented('will-attach-webview', {})).toBe(true);
    expect(prevented('will-frame-navigate', { url: 'https://example.org/', isMainFrame: false })).toBe(true);
    expect(prevented('will-frame-navigate', { url: 'app://foldbook/', isMainFrame: false })).toBe(true);
    expect(prevented('will-frame-navigate', { url: 'blob:app://foldbook/1', isMainFrame: false })).toBe(
      false,
    );
    expect(prevented('will-frame-navigate', { url: 'blob:app://foldbook/1', isMainFrame: true })).toBe(true);
  });

  test('serves the built screens under the content policy, and nothing beside them', async () => {
    const host = await run();
    const page = await host.serve('app://foldbook/');
    expect([page.status, await page.text()]).toEqual([200, '<!doctype html><title>Screens</title>']);
    expect(page.headers.get('content-security-policy')).toContain("default-src 'none'");
    const tricks = [
      'app://foldbook/..%2fsecret.txt',
      'app://foldbook/assets/link.txt',
      'app://foldbook/assets/out/secret.txt',
      'app://other/index.html',
    ];
    for (const trick of tricks) {
      const reply = await host.serve(trick);
      expect([trick, reply.status, (await reply.text()).includes('secret')]).toEqual([trick, 404, false]);
    }
    expect((await host.serve('app://foldbook/', 'POST')).status).toBe(404);
  });

  test('answers only our page at the top of the window', async () => {
    const { lines, desk } = await run();
    const ask = (senderFrame: unknown) =>
      lines.get(channels.call)?.({ senderFrame }, JSON.stringify({ name: 'echo', request: 1 }));
    const ours = { url: 'app://foldbook/', parent: null };
    await expect(ask(ours)).resolves.toBe('{"ok":true,"value":{"name":"echo","request":1}}');
    for (const frame of [null, { ...ours, parent: {} }, { ...ours, url: 'https://example.org/' }]) {
      expect(() => ask(frame)).toThrow('not ours');
      expect(() => lines.get(channels.file)?.({ senderFrame: frame }, 'a', new ArrayBuffer(1))).toThrow(
        'not ours',
      );
      expect(() => lines.get(channels.paper)?.({ senderFrame: frame }, 'a'.repeat(64))).toThrow('not ours');
    }
    expect([...lines.keys()].sort()).toEqual(Object.values(channels).sort());
    expect(desk.asked).toEqual(['echo']);
    expect(desk.files.size).toBe(0);
  });

  test('tells the deed that was chosen in the menu to our page over one line, and to no other page', async () => {
    const host = await run();
    host.choose('go-treat');
    host.choose('take-back-last');
    expect(host.sent).toEqual([
      [commandChannel, 'go-treat'],
      [commandChannel, 'take-back-last'],
    ]);
    // Nobody may send on it: it only goes out.
    expect(host.lines.has(commandChannel)).toBe(false);
    host.page.address = 'https://example.org/';
    host.choose('go-treat');
    host.page.address = 'app://foldbook/';
    host.page.isGone = true;
    host.choose('go-treat');
    expect(host.sent).toHaveLength(2);
  });

  test('has a menu before there is a window, and choosing from it then does nothing', async () => {
    const broken = await run({
      openDesk: () => {
        throw new Refusal('book-locked', 'Another program has the book open.');
      },
    });
    broken.choose('go-treat');
    expect(broken.sent).toEqual([]);
  });

  test('bounds what comes over the lines', async () => {
    const { lines, desk } = await run();
    const event = { senderFrame: { url: 'app://foldbook/', parent: null } };
    const over = 4 * 1024 * 1024 + 1;
    expect(await lines.get(channels.call)?.(event, 'x'.repeat(over))).toContain('too-big');
    // Two bytes each in UTF-8: fewer characters than the limit, more bytes.
    expect(await lines.get(channels.call)?.(event, 'é'.repeat(over / 2 + 1))).toContain('too-big');
    expect(await lines.get(channels.call)?.(event, { name: 'echo' })).toContain('call-not-understood');
    expect(lines.get(channels.file)?.(event, 'a.csv', 'text')).toContain('wrong-kind');
    expect(lines.get(channels.file)?.(event, 'a.csv', new ArrayBuffer(64 * 1024 * 1024 + 1))).toContain(
      'too-big',
    );
    expect(lines.get(channels.file)?.(event, 'a.csv', new ArrayBuffer(3))).toBe(
      '{"ok":true,"value":{"token":"file-1"}}',
    );
    expect(desk.files.get('a.csv')?.byteLength).toBe(3);
    expect(await lines.get(channels.paper)?.(event, '../book')).toBeUndefined();
    expect(await lines.get(channels.paper)?.(event, 'a'.repeat(64))).toMatchObject({
      mime: 'application/pdf',
    });
  });

  test('says why a book cannot be opened, and ends with the code that keeps a browser from trying', async () => {
    const refused = await run({
      openDesk: () => {
        throw new Refusal('book-locked', 'Another program has the book open.', { next: 'Close it first.' });
      },
    });
    expect(refused.told.slice(-2)).toEqual([
      'Foldbook cannot open the book: Another program has the book open.\n\nClose it first.',
      'exit 3',
    ]);
    expect(refused.windows).toEqual([]);
    const broken = await run({
      openDesk: () => {
        throw new Error('secret inside');
      },
    });
    expect(broken.told.at(-2)).not.toContain('secret');
    expect(broken.logged.join()).toContain('secret inside');
  });

  test.each([
    ['closes the book', () => {}, 'exit 0'],
    ['says when the book cannot be closed', () => Promise.reject(new Error('disk is gone')), 'exit 1'],
  ])('%s before it ends, whichever way it is ended', async (_what, close, ending) => {
    let closed = 0;
    const host = await run({
      openDesk: () => ({
        ...echoDesk(),
        close: () => {
          closed += 1;
          return close();
        },
      }),
    });
    host.app.of('window-all-closed')();
    expect([host.told.at(-1), closed]).toEqual(['quit', 0]);
    let held = false;
    host.app.of('will-quit')({
      preventDefault: () => {
        held = true;
      },
    });
    expect(held).toBe(true);
    await expect.poll(() => host.told.at(-1)).toBe(ending);
    expect(closed).toBe(1);
  });

  test('keeps the place of the window, and moves a file that is not ours aside', async () => {
    const file = path.join(keepsIn, 'window.json');
    writeFileSync(file, 'somebody wrote this');
    const first = await run();
    expect(readFileSync(`${file}.unreadable`, 'utf8')).toBe('somebody wrote this');
    first.window.of('close')();
    const second = await run();
    expect(second.windows[0]).toMatchObject({ x: 10, y: 20, width: 900, height: 700 });
    expect(second.windows[0]?.webPreferences).toMatchObject({ zoomFactor: 1.5 });
  });
});
