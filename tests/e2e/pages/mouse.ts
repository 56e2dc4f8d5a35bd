import type { Locator, Page } from 'playwright-core';
import { commandOf, PLACE_NAMES } from '../../../src-shared/commands.ts';
import { arrive, arriveBy, filePayload, type Hands } from './hands.ts';

/** A name with what may stand behind it: a hint, a key, "(may be left empty)". */
function begins(name: string): RegExp {
  return new RegExp(`^${name.replaceAll(/[.*+?^$()[\]{}|\\]/g, '\\$&')}(?:$|\\s|[A-Z(])`);
}

/** A person who clicks, and types only into fields that were clicked into. */
export function mouse(page: Page): Hands {
  const inGroup = (within: string | undefined): Page | Locator =>
    within === undefined ? page : page.getByRole('group', { name: within, exact: true });
  const under = (heading: string | undefined): Page | Locator =>
    heading === undefined
      ? page
      : page.locator('section').filter({ has: page.getByRole('heading', { name: heading, exact: true }) });
  const deed = (name: string, within: string | undefined) =>
    under(within)
      .getByRole('button', { name: begins(name) })
      .or(under(within).getByRole('link', { name: begins(name) }))
      .first();
  // By its label and not by its role: a box for a day has none, and one with likely answers has another.
  const field = (label: string, within?: string) =>
    inGroup(within)
      .getByLabel(begins(label))
      .and(page.locator('input:not([type=radio]):not([type=checkbox]), textarea'))
      .first();
  const hands: Hands = {
    page,
    async goTo(id) {
      const command = commandOf(id);
      if (command.place !== undefined) {
        const place = PLACE_NAMES[command.place];
        await page.getByRole('navigation', { name: 'Places' }).getByRole('link', { name: place }).click();
        await arrive(hands, place);
        if (id === `go-${command.place}`) return;
      }
      await page.getByRole('main').getByRole('link', { name: command.name, exact: true }).first().click();
      await arriveBy(hands, id);
    },
    async press(name, within) {
      await deed(name, within).click();
    },
    async fill(label, text, within) {
      const box = field(label, within);
      // Three clicks choose what stands there.
      await box.click({ clickCount: 3 });
      await box.pressSequentially(text);
    },
    async choose(label, option, within) {
      // The list that drops down is drawn by the system, where no test can click.
      await inGroup(within)
        .getByRole('combobox', { name: begins(label) })
        .first()
        .selectOption({ label: option });
    },
    async pick(legend, option) {
      await page
        .getByRole('group', { name: begins(legend) })
        .getByRole('radio', { name: begins(option) })
        .click();
    },
    async tick(label) {
      await page.getByRole('checkbox', { name: begins(label) }).click();
    },
    async find(label, text) {
      const box = page.getByRole('combobox', { name: label, exact: true });
      await box.click();
      await box.fill(text);
      await page.getByRole('option', { name: text }).first().click();
    },
    async read(label, text) {
      await hands.fill(label, text);
      await hands.press('Look it up');
    },
    async send(name) {
      await hands.press(name);
    },
    async enter(name) {
      await hands.press(name);
    },
    async doHere(_deed, name) {
      await hands.press(name);
    },
    async open(list, ...says) {
      let row = page.getByRole('table', { name: list }).getByRole('row');
      for (const text of says) row = row.filter({ hasText: text });
      await row.first().click();
    },
    async untilAt(label) {
      await page
        .getByLabel(label, { exact: true })
        .or(page.getByRole('button', { name: label, exact: true }))
        .first()
        .waitFor();
    },
    async giveFile(label, file) {
      const [chooser] = await Promise.all([page.waitForEvent('filechooser'), page.getByLabel(label).click()]);
      await chooser.setFiles(filePayload(file));
    },
  };
  return hands;
}
