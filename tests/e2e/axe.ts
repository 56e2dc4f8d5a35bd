import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';

/** The checker itself, as the text of a script: it lies beside the package that drives it. */
function checkerScript(): string {
  const driver = createRequire(import.meta.url).resolve('@axe-core/playwright');
  const checker: unknown = createRequire(driver)('axe-core');
  if (typeof checker !== 'object' || checker === null || !('source' in checker)) {
    throw new Error('the accessibility checker has no source');
  }
  return String(checker.source);
}
const script = checkerScript();

/** What the page has of the checker once its script has run there. */
type Checker = {
  run(
    context: Document,
    options: object,
  ): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }>;
};

async function run(page: Page, rules: readonly string[] | undefined): Promise<string[]> {
  // Once for each page: reading the script anew costs more than the check.
  const isThere = await page.evaluate(() => Reflect.has(window, 'axe'));
  if (!isThere) await page.evaluate(script);
  return page.evaluate(async (only) => {
    const checker = Reflect.get(window, 'axe') as Checker;
    // Screens have frames only for papers, which are no pages.
    const { violations } = await checker.run(document, {
      iframes: false,
      preload: false,
      resultTypes: ['violations'],
      ...(only === undefined ? {} : { runOnly: { type: 'rule', values: only } }),
    });
    return violations.map((one) => `${one.id}: ${one.nodes.map((node) => node.html).join(' ')}`);
  }, rules);
}

/**
 * What the accessibility checker finds on a page as it stands: in light by all its rules, in dark by those of colour,
 * as nothing else differs. Leaves the page in light and the cursor where it is.
 */
export async function faultsOf(page: Page, what: string, isDarkToo = true): Promise<string[]> {
  // Without motion, or a colour is measured on its way to another.
  let dark: string[] = [];
  if (isDarkToo) {
    await page.emulateMedia({ colorScheme: 'dark', reducedMotion: 'reduce' });
    dark = await run(page, ['color-contrast']);
  }
  await page.emulateMedia({ colorScheme: 'light', reducedMotion: 'reduce' });
  const light = await run(page, undefined);
  return [...dark.map((one) => `${what}, dark: ${one}`), ...light.map((one) => `${what}, light: ${one}`)];
}
