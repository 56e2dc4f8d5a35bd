import type { Page } from 'playwright-core';
import { vi } from 'vitest';
import { type CommandId, commandOf } from '../../../src-shared/commands.ts';
import { arriveBy, filePayload, type Hands, pressRun } from './hands.ts';

/** What the cursor stands on, as somebody who hears the screen would call it. */
type Here = {
  kind: 'radio' | 'checkbox' | 'select' | 'field' | 'button' | 'row' | 'other';
  name: string;
  /** The heads it stands under, the nearest first. */
  under: string[];
  isChecked: boolean;
  /** The chosen answer of a box that drops down. */
  chosen: string;
  /** The list a row belongs to. */
  list: string;
};

function cursor(page: Page): Promise<Here> {
  return page.evaluate(() => {
    const clean = (element: Element | null | undefined): string => {
      if (element === null || element === undefined) return '';
      const copy = element.cloneNode(true) as Element;
      for (const extra of copy.querySelectorAll('small, .optional, kbd, input, select, textarea'))
        extra.remove();
      return (copy.textContent ?? '').replaceAll(/\s+/g, ' ').trim();
    };
    const at = document.activeElement;
    const found = { kind: 'other', name: '', under: [], isChecked: false, chosen: '', list: '' } as {
      kind: Here['kind'];
      name: string;
      under: string[];
      isChecked: boolean;
      chosen: string;
      list: string;
    };
    if (!(at instanceof HTMLElement) || at === document.body) return found;
    for (let up = at.parentElement; up !== null; up = up.parentElement) {
      if (up instanceof HTMLFieldSetElement) found.under.push(clean(up.querySelector('legend')));
      if (up.tagName === 'SECTION') found.under.push(clean(up.querySelector('h2')));
    }
    found.name = at.getAttribute('aria-label') ?? '';
    if (
      at instanceof HTMLInputElement ||
      at instanceof HTMLSelectElement ||
      at instanceof HTMLTextAreaElement
    ) {
      found.name ||= clean(at.labels?.[0]);
      found.kind = 'field';
      if (at instanceof HTMLSelectElement) {
        found.kind = 'select';
        found.chosen = at.selectedOptions[0]?.text ?? '';
      } else if (at instanceof HTMLInputElement && (at.type === 'radio' || at.type === 'checkbox')) {
        found.kind = at.type;
        found.isChecked = at.checked;
      }
    } else if (at instanceof HTMLTableRowElement || at.getAttribute('role') === 'row') {
      found.kind = 'row';
      const cells = [...at.querySelectorAll('td, [role=cell]')].map((cell) => cell.textContent ?? '');
      found.name = cells.join(' ');
      found.list = at.closest('[aria-label]')?.getAttribute('aria-label') ?? '';
    } else {
      found.name ||= clean(at);
      if (/^(?:A|BUTTON|SUMMARY)$/.test(at.tagName)) found.kind = 'button';
    }
    return found;
  });
}

/** More stops than any screen has. */
const stopsMost = 150;

/** A person with a keyboard and nothing else. */
export function keyboard(page: Page): Hands {
  // True while the cursor stands on what was dealt with last: the next of the same name is further on.
  let isDone = false;
  const key = (name: string) => page.keyboard.press(name);

  async function tabTo(what: string, is: (here: Here) => boolean, way = 'Tab'): Promise<Here> {
    const passed = new Set<string>();
    for (let n = 0; n < stopsMost; n += 1) {
      if (n > 0 || isDone) await key(way);
      const here = await cursor(page);
      if (is(here)) return here;
      passed.add(`${here.kind} ${here.name}`.slice(0, 60));
    }
    throw new Error(`Tab leads to no ${what}; it leads to: ${[...passed].join(' | ')}`);
  }
  const isField = (kinds: readonly Here['kind'][], label: string, within?: string) => (here: Here) =>
    kinds.includes(here.kind) && here.name === label && (within === undefined || here.under[0] === within);

  /** Goes on by the arrow until this is so. */
  async function arrowUntil(what: string, is: (here: Here) => boolean, most: number): Promise<void> {
    for (let n = 0; n <= most; n += 1) {
      if (is(await cursor(page))) return;
      await key('ArrowDown');
    }
    throw new Error(`the arrow leads to no ${what}`);
  }

  /** The box that finds every deed, from wherever the cursor is. */
  async function byPalette(name: string): Promise<void> {
    isDone = false;
    await key('Control+k');
    await page.getByRole('combobox', { name: 'What do you want to do?' }).waitFor();
    await page.keyboard.type(name);
    await key('Enter');
  }

  const hands: Hands = {
    page,
    async goTo(deed: CommandId) {
      const command = commandOf(deed);
      const [first, second] = (command.shortcut ?? '').split(' ');
      const isInField = ['field', 'select'].includes((await cursor(page)).kind);
      isDone = false;
      if (first === undefined || second === undefined || isInField) {
        await byPalette(command.name);
        return arriveBy(hands, deed);
      }
      await pressRun(page, [first, second]);
      await arriveBy(hands, deed);
    },
    async press(name, within) {
      await tabTo(`button ${name}`, isField(['button'], name, within));
      isDone = false;
      await key('Enter');
    },
    async fill(label, text, within) {
      await tabTo(`field ${label}`, isField(['field'], label, within));
      await key('Control+a');
      await page.keyboard.type(text);
      isDone = true;
    },
    async choose(label, option, within) {
      const before = await tabTo(`box ${label}`, isField(['select'], label, within));
      if (before.chosen !== option) await key('Home');
      await arrowUntil(`${option} in ${label}`, (here) => here.chosen === option, 40);
      isDone = true;
    },
    async pick(legend, option) {
      await tabTo(`choice ${legend}`, (here) => here.kind === 'radio' && here.under[0] === legend);
      await arrowUntil(`${option} of ${legend}`, (here) => here.name === option, 12);
      if (!(await cursor(page)).isChecked) await key('Space');
      isDone = true;
    },
    async tick(label) {
      await tabTo(`box to tick ${label}`, isField(['checkbox'], label));
      await key('Space');
      isDone = true;
    },
    async find(label, text) {
      await hands.fill(label, text);
      await page.getByRole('option', { name: text }).first().waitFor();
      await key('Enter');
    },
    async read(label, text) {
      if (!isField(['field'], label)(await cursor(page))) await hands.fill(label, text);
      else await page.keyboard.type(text);
      isDone = false;
      await key('Enter');
    },
    async send() {
      isDone = false;
      await key('Control+Enter');
    },
    async enter() {
      isDone = false;
      await key('Enter');
    },
    async doHere(deed) {
      await byPalette(commandOf(deed).name);
    },
    async open(list, ...says) {
      isDone = false;
      await tabTo(`row of ${list}`, (here) => here.kind === 'row' && here.list === list);
      await arrowUntil(
        `row of ${list} that says ${says.join(', ')}`,
        (here) => says.every((text) => here.name.includes(text)),
        500,
      );
      await key('Enter');
    },
    async untilAt(label) {
      isDone = false;
      await vi.waitFor(
        async () => {
          const here = await cursor(page);
          if (here.name !== label) throw new Error(`the cursor is at ${here.name} and not at ${label}`);
        },
        { timeout: 10_000 },
      );
    },
    async giveFile(label, file) {
      await tabTo(`file ${label}`, isField(['field'], label));
      // A key pressed while the screen is still being made opens nothing; a person presses again.
      const chooser = await vi.waitUntil(
        async () => {
          const opened = page.waitForEvent('filechooser', { timeout: 2000 }).catch(() => undefined);
          await key('Enter');
          return await opened;
        },
        { timeout: 15_000 },
      );
      await chooser.setFiles(filePayload(file));
      isDone = true;
    },
  };
  return hands;
}
