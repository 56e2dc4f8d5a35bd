import type { Browser, Page } from 'playwright-core';
import { chromium } from 'playwright-core';
import type { Desk } from '../../src-main/desk-type.ts';
import type { LoopbackHost } from '../../src-main/host-loopback/server.ts';
import { serveDesk } from '../../src-main/host-loopback/server.ts';
import { prepareBrowser, prepareScreens } from './setup.ts';

/** Starts a real Chromium. It works without a display, a sandbox of the system or a graphics card. */
export async function openBrowser(): Promise<Browser> {
  const { program, fonts } = await prepareBrowser();
  return chromium.launch({
    executablePath: program,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--no-zygote',
      '--disable-dev-shm-usage',
      '--font-render-hinting=none',
    ],
    env: { ...process.env, ...(fonts === undefined ? {} : { FONTCONFIG_FILE: fonts }) },
  });
}

/** Builds the screens if need be and serves a desk to them. */
export async function serveScreens(desk: Desk): Promise<LoopbackHost> {
  return serveDesk({ desk, screens: await prepareScreens() });
}

/** What went wrong on a page that is watched. */
export type Watch = {
  /** Throws with everything that went wrong so far; to be called at the end of each test. */
  expectQuiet(): Promise<void>;
  /** Everything that went wrong so far, for a test that expects something to. */
  trouble(): Promise<string[]>;
};

/**
 * Watches a page from before its first script: errors in the console, errors no code caught, and violations of
 * the content policy, which a page may cause without any other sign. To be called before `goto`.
 */
export async function watchPage(page: Page): Promise<Watch> {
  const heard: string[] = [];
  // Colours that fade from one theme to the other would be measured half-way.
  await page.emulateMedia({ reducedMotion: 'reduce' });
  page.on('console', (message) => {
    if (message.type() === 'error') heard.push(`console: ${message.text()}`);
  });
  page.on('pageerror', (error) => heard.push(`uncaught: ${error.message}`));
  page.on('crash', () => heard.push('the page crashed'));
  await page.exposeFunction('foldbookTestViolation', (text: string) => heard.push(`policy: ${text}`));
  await page.addInitScript(() => {
    document.addEventListener('securitypolicyviolation', (event) => {
      const tell: unknown = Reflect.get(window, 'foldbookTestViolation');
      if (typeof tell === 'function') {
        tell(
          `${event.effectiveDirective} stopped ${event.blockedURI} at ${event.sourceFile}:${event.lineNumber}`,
        );
      }
    });
  });
  const trouble = async (): Promise<string[]> => {
    // Messages from the page come one after another: when this answer is here, so are those before it.
    if (!page.isClosed()) await page.evaluate(() => new Promise((resolve) => requestAnimationFrame(resolve)));
    return [...heard];
  };
  return {
    trouble,
    expectQuiet: async () => {
      const found = await trouble();
      if (found.length > 0) throw new Error(`the page was not quiet:\n${found.join('\n')}`);
    },
  };
}

/** Goes to an address within the page, as its own links do, and waits until all of that screen is there. */
export async function goTo(page: Page, address: string): Promise<void> {
  await page.evaluate((to) => {
    document.querySelector('h1')?.setAttribute('data-left', '');
    window.history.pushState(null, '', to);
    window.dispatchEvent(new PopStateEvent('popstate'));
  }, address);
  // Looked for at every frame: a locator looks at growing distances and comes half a second late to each screen.
  await page.waitForFunction(() => document.querySelector('h1:not([data-left])') !== null);
  await page.waitForFunction(() => document.querySelector('.awaited') === null);
}
