import type { Page } from 'playwright-core';
import { vi } from 'vitest';
import { isRoutePath, ROUTES } from '../../../src-renderer/routes.ts';
import { type CommandId, commandOf } from '../../../src-shared/commands.ts';

/**
 * What a person does at a screen, by keys or by mouse. The pages of this folder are written with it, so that the
 * same steps can be done either way. A label is what stands at the field, without the hints beside it.
 */
export type Hands = {
  readonly page: Page;
  /** Goes to a screen by its deed. */
  goTo(deed: CommandId): Promise<void>;
  /** Presses a button or follows a link; `within` is the heading it stands under, where several are called so. */
  press(name: string, within?: string): Promise<void>;
  /** Writes into a field over what stands there. A day is typed as `typedDay` says. */
  fill(label: string, text: string, within?: string): Promise<void>;
  /** Chooses from a box that drops down. */
  choose(label: string, option: string, within?: string): Promise<void>;
  /** Chooses one of a few that are all to be seen. */
  pick(legend: string, option: string): Promise<void>;
  tick(label: string): Promise<void>;
  /** Finds one of many by typing. */
  find(label: string, text: string): Promise<void>;
  /** Reads the number of an animal or the name of a lot into a box that looks it up. */
  read(label: string, text: string): Promise<void>;
  /** Sends the form on the screen; its deed is called `name`. */
  send(name: string): Promise<void>;
  /** Goes on with the deed that the cursor was put on: Enter by keys, a click on `name` by mouse. */
  enter(name: string): Promise<void>;
  /** Does a deed of the screen that is shown; `name` is what it is called there. */
  doHere(deed: CommandId, name: string): Promise<void>;
  /** Opens the row of a list that says all of this. */
  open(list: string, ...says: readonly string[]): Promise<void>;
  /** Waits until the cursor is put where the hand goes on; by mouse only until it is there. */
  untilAt(label: string): Promise<void>;
  /** Gives a file to the box called `label`. */
  giveFile(label: string, file: { name: string; text: string }): Promise<void>;
};

/** Waits until a screen is there, by its heading. */
export async function arrive(hands: Pick<Hands, 'page'>, title: string): Promise<void> {
  await hands.page.getByRole('heading', { level: 1, name: title, exact: true }).waitFor();
}

/** Waits until these words stand on the screen. */
export async function said(hands: Pick<Hands, 'page'>, text: string): Promise<void> {
  await hands.page.getByText(text).first().waitFor();
}

/** Waits for the screen a deed leads to: it is called after its place in the program or after the deed. */
export async function arriveBy(hands: Pick<Hands, 'page'>, deed: CommandId): Promise<void> {
  const { at, name } = commandOf(deed);
  if (at === undefined || !isRoutePath(at)) throw new Error(`${deed} leads to no screen of its own`);
  // Finding one is a box on the screen of all of them.
  const titles = at === 'flock/find' ? [ROUTES.flock.title] : [ROUTES[at].title, name];
  const heading = (title: string) => hands.page.getByRole('heading', { level: 1, name: title, exact: true });
  const [first = '', ...more] = titles;
  await more.reduce((either, title) => either.or(heading(title)), heading(first)).waitFor();
}

/**
 * Presses the keys of a run, one after another. They count as one run only when they come soon after one another, so
 * that on a busy computer they may have to be pressed again; but never once they were heard, however long the screen
 * takes: what was meant as a run would be typed into its first box.
 */
export async function pressRun(page: Page, keys: readonly string[]): Promise<void> {
  const before = await page.evaluate(() => {
    const head = document.querySelector('h1');
    head?.setAttribute('data-left', '');
    return { address: window.location.href, hasHead: head !== null };
  });
  // The address changes with the last key; asked for where one already is, the screen is made anew.
  const isHeard = () =>
    page.evaluate(
      ({ address, hasHead }) =>
        window.location.href !== address || (hasHead && document.querySelector('h1[data-left]') === null),
      before,
    );
  await vi.waitFor(
    async () => {
      if (await isHeard()) return;
      for (const key of keys) await page.keyboard.press(key);
      if (!(await isHeard())) throw new Error(`the keys ${keys.join(' ')} were not heard`);
    },
    { timeout: 15_000 },
  );
}

/** The text of a file as a browser is given it. */
export function filePayload(file: { name: string; text: string }) {
  return { name: file.name, mimeType: 'text/csv', buffer: Buffer.from(file.text) };
}

/** "2026-03-16" as a person writes it: "16/3/2026". */
export function typedDay(day: string): string {
  return day.split('-').map(Number).toReversed().join('/');
}
