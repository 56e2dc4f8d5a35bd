/** The scheme and host of every page in the window. Not `file:`, which would let a page read the disk. */
export const pageScheme = 'app';
export const pageOrigin = 'app://foldbook';
export const pageAddress = `${pageOrigin}/`;

/** What the scheme may do: behave like a web address with an origin of its own, and nothing past that. */
export const schemePrivileges = {
  standard: true,
  secure: true,
  supportFetchAPI: true,
  bypassCSP: false,
  allowServiceWorkers: false,
  corsEnabled: false,
  stream: false,
} as const;

/** What a page in the window can reach. A test holds this against the literal it must be. */
export const pagePreferences = {
  sandbox: true,
  contextIsolation: true,
  nodeIntegration: false,
  nodeIntegrationInWorker: false,
  nodeIntegrationInSubFrames: false,
  webSecurity: true,
  allowRunningInsecureContent: false,
  experimentalFeatures: false,
  webviewTag: false,
  navigateOnDragDrop: false,
  // A dictionary would be fetched from the internet.
  spellcheck: false,
  // The only plugin left is the viewer of PDF papers.
  plugins: true,
  devTools: false,
} as const;

/** The least size at which every screen can be used, in pixels. */
export const leastSize = { width: 720, height: 540 } as const;

/** True for the one page that may be the top of a window. */
export function isPageAddress(address: string): boolean {
  const url = parsed(address);
  return url !== undefined && isOurs(url) && (url.pathname === '/' || url.pathname === '/index.html');
}

// The viewer of PDF papers is part of the runtime and has an address of this kind.
const viewerOrigin = 'chrome-extension://mhjfbmdgcfjbbpaeojofohoefgiehjai/';

/** True for what a frame inside the page may show: a paper the page made an address for, and its viewer. */
export function isPaperAddress(address: string): boolean {
  return address.startsWith(`blob:${pageOrigin}/`) || address.startsWith(viewerOrigin);
}

/** True for what the window may load at all. Nothing comes from a network. */
export function mayLoad(address: string): boolean {
  const url = parsed(address);
  return url !== undefined && (url.protocol === 'data:' || isPaperAddress(address) || isOurs(url));
}

/** The sender of a message on the line, as far as trust depends on it. */
export type Sender = { address: string; isTop: boolean };

/** True when a message comes from our page, at the top of a window. A frame that is gone is not trusted. */
export function isTrustedSender(sender: Sender | undefined): boolean {
  return sender?.isTop === true && isPageAddress(sender.address);
}

/** The path below our origin that an address asks for, or undefined when it is no address of ours. */
export function pathBelowOrigin(address: string): string | undefined {
  const url = parsed(address);
  return url !== undefined && isOurs(url) ? url.pathname : undefined;
}

function isOurs(url: URL): boolean {
  return (
    url.protocol === `${pageScheme}:` && url.host === 'foldbook' && url.username === '' && url.password === ''
  );
}

function parsed(address: string): URL | undefined {
  return URL.canParse(address) ? new URL(address) : undefined;
}
