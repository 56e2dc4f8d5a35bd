import { existsSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import type * as Electron from 'electron';
import { COMMANDS } from '../../src-shared/commands.ts';
import { Refusal } from '../../src-shared/refusal.ts';
import { builtFile } from '../built-files.ts';
import { strictHeaders } from '../content-policy.ts';
import type { Desk, Log } from '../desk-type.ts';
import { refusedCode } from '../electron-runtime.ts';
import { channels, commandChannel } from './channels.ts';
import { deskLines } from './lines.ts';
import { clickable, menuTemplate } from './menu.ts';
import {
  isPageAddress,
  isPaperAddress,
  isTrustedSender,
  leastSize,
  mayLoad,
  pageAddress,
  pagePreferences,
  pageScheme,
  pathBelowOrigin,
  schemePrivileges,
} from './window-options.ts';
import { fitToScreens, readWindowState, writeWindowState } from './window-state.ts';

/** The parts of the runtime that the host uses. Handed in, so that a test can hand in its own. */
export type ElectronApi = Pick<
  typeof Electron,
  'app' | 'BrowserWindow' | 'dialog' | 'ipcMain' | 'Menu' | 'protocol' | 'screen' | 'session'
>;

export type HostOptions = {
  openDesk(): Desk | Promise<Desk>;
  /**
   * The folder for what the runtime keeps: one for each book, so that starting a second book opens it and
   * does not bring the first one's window to the front.
   */
  keepsIn: string;
  /** The folder of built screens. */
  screens: string;
  /** The built preload. */
  preload: string;
  platform: NodeJS.Platform;
  log: Log;
};

/** Runs the window from the start of the program to its end. */
export async function runElectron(api: ElectronApi, options: HostOptions): Promise<void> {
  const { app, dialog, Menu, protocol } = api;
  app.enableSandbox();
  app.setPath('userData', options.keepsIn);
  protocol.registerSchemesAsPrivileged([{ scheme: pageScheme, privileges: { ...schemePrivileges } }]);
  // Two programs on one book would wait for each other's lock; the second shows the first.
  if (!app.requestSingleInstanceLock()) return app.quit();
  app.on('web-contents-created', (_event, contents) => confine(contents));
  await app.whenReady();
  confineSession(api);
  serveScreens(api, options.screens);
  let window: Electron.BrowserWindow | undefined;
  const menu = clickable(menuTemplate(options.platform, COMMANDS), (command) => tell(window, command));
  Menu.setApplicationMenu(Menu.buildFromTemplate(menu));

  let desk: Desk;
  try {
    desk = await options.openDesk();
  } catch (thrown) {
    const isOurs = thrown instanceof Refusal;
    options.log(thrown instanceof Error ? (thrown.stack ?? thrown.message) : String(thrown));
    dialog.showErrorBox(
      'Foldbook cannot open the book',
      isOurs
        ? [thrown.message, thrown.next ?? ''].join('\n\n').trim()
        : 'Foldbook cannot open the book because of a fault in the program. The book was left as it is.',
    );
    return app.exit(refusedCode);
  }
  answerLines(api, desk, options.log);
  const opened = openWindow(api, options);
  window = opened;
  app.on('second-instance', () => {
    if (opened.isMinimized()) opened.restore();
    opened.focus();
  });
  app.on('window-all-closed', () => app.quit());
  // Closing the book takes its time, so the program is held back once and ends itself afterwards.
  app.on('will-quit', (event) => {
    event.preventDefault();
    Promise.resolve()
      .then(() => desk.close())
      .then(() => app.exit(0))
      .catch((thrown: unknown) => {
        options.log(`closing the book failed: ${String(thrown)}`);
        app.exit(1);
      });
  });
}

/** Keeps any page where it is: no other page, no new window, no page inside a page but our own papers. */
function confine(contents: Electron.WebContents): void {
  contents.setWindowOpenHandler(() => ({ action: 'deny' }));
  contents.on('will-navigate', (event) => {
    if (!isPageAddress(event.url)) event.preventDefault();
  });
  contents.on('will-redirect', (event) => event.preventDefault());
  contents.on('will-frame-navigate', (event) => {
    const isAllowed = event.isMainFrame ? isPageAddress(event.url) : isPaperAddress(event.url);
    if (!isAllowed) event.preventDefault();
  });
  contents.on('will-attach-webview', (event) => event.preventDefault());
}

/**
 * Denies every permission, and stops every request that leaves the computer. Foldbook needs no permission:
 * files come and go by file input and download, and readers type like a keyboard.
 */
function confineSession({ session }: ElectronApi): void {
  const own = session.defaultSession;
  own.setPermissionRequestHandler((_contents, _permission, answer) => answer(false));
  own.setPermissionCheckHandler(() => false);
  own.setDevicePermissionHandler(() => false);
  own.webRequest.onBeforeRequest((details, answer) => answer({ cancel: !mayLoad(details.url) }));
}

function serveScreens({ protocol }: ElectronApi, screens: string): void {
  protocol.handle(pageScheme, async (request) => {
    const asked = request.method === 'GET' ? pathBelowOrigin(request.url) : undefined;
    const file = asked === undefined ? undefined : await builtFile(screens, asked);
    return file === undefined
      ? new Response('There is nothing at this address.', { status: 404, headers: strictHeaders })
      : new Response(file.bytes, { headers: { ...strictHeaders, 'content-type': file.mime } });
  });
}

function answerLines({ ipcMain }: ElectronApi, desk: Desk, log: Log): void {
  const lines = deskLines(desk, log);
  const check = (event: Electron.IpcMainInvokeEvent): void => {
    const frame = event.senderFrame;
    const sender = frame === null ? undefined : { address: frame.url, isTop: frame.parent === null };
    if (!isTrustedSender(sender)) throw new Error('a message from a page that is not ours was refused');
  };
  ipcMain.handle(channels.call, (event, text: unknown) => {
    check(event);
    return lines.call(text);
  });
  ipcMain.handle(channels.file, (event, name: unknown, bytes: unknown) => {
    check(event);
    return lines.file(name, bytes);
  });
  ipcMain.handle(channels.paper, (event, hash: unknown) => {
    check(event);
    return lines.paper(hash);
  });
}

/** Tells our page, and no other, which deed was chosen in the menu. */
function tell(window: Electron.BrowserWindow | undefined, command: string): void {
  if (window === undefined || window.isDestroyed()) return;
  if (isPageAddress(window.webContents.getURL())) window.webContents.send(commandChannel, command);
}

function openWindow(
  { app, BrowserWindow, screen }: ElectronApi,
  options: HostOptions,
): Electron.BrowserWindow {
  const stateFile = path.join(app.getPath('userData'), 'window.json');
  const kept = readWindowState(existsSync(stateFile) ? readFileSync(stateFile, 'utf8') : '{}');
  // Moved aside and not written over: it may be somebody's file after all.
  if (!kept.isReadable) renameSync(stateFile, `${stateFile}.unreadable`);
  const state = fitToScreens(
    kept.state,
    screen.getAllDisplays().map((display) => display.workArea),
  );
  const window = new BrowserWindow({
    title: 'Foldbook',
    show: false,
    minWidth: leastSize.width,
    minHeight: leastSize.height,
    width: 1200,
    height: 800,
    ...(state.area ?? {}),
    webPreferences: { ...pagePreferences, preload: options.preload, zoomFactor: state.zoom },
  });
  if (state.isMaximised) window.maximize();
  window.once('ready-to-show', () => window.show());
  window.on('close', () => {
    const text = writeWindowState({
      area: window.getNormalBounds(),
      isMaximised: window.isMaximized(),
      zoom: window.webContents.getZoomFactor(),
    });
    try {
      writeFileSync(stateFile, text);
    } catch (thrown) {
      options.log(`the place of the window was not kept: ${String(thrown)}`);
    }
  });
  window
    .loadURL(pageAddress)
    .catch((thrown: unknown) => options.log(`the page did not load: ${String(thrown)}`));
  return window;
}
