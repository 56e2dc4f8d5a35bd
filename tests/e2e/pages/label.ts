import type { Locator, Page } from 'playwright-core';
import { CLASS_WORDS } from '../../../src-shared/label/words.ts';
import type { Terms } from './cabinet.ts';

type DoseLine = Terms['doseLines'][number];
type PeriodRow = NonNullable<Terms['periods']>[number];
type Rule = NonNullable<Terms['notIf']>[number];

/**
 * A label in the form, field by field under the names the desk gives them: whatever an insert can print has a field,
 * also what most labels do not need and what is therefore put away.
 */
export function labelForm(page: Page) {
  const field = (path: string) => page.locator(`[name="${path}"]`);
  const put = async (path: string, text: string | undefined) => {
    if (text !== undefined) await field(path).fill(text);
  };
  /** The row in which a field stands. */
  const rowOf = (path: string) =>
    page
      .locator('fieldset.label-row')
      .filter({ has: field(path) })
      .first();
  const group = (within: Locator | Page, name: string) =>
    within.getByRole('group', { name: new RegExp(`^${name}`) });
  const pick = (within: Locator | Page, name: string, value: string) =>
    group(within, name).locator(`input[value="${value}"]`).check();
  /** Opens what is put away. */
  const open = async (row: Locator, summary: string) => {
    const more = row
      .locator('details')
      .filter({ has: page.locator('summary').getByText(summary, { exact: true }) });
    if ((await more.getAttribute('open')) === null) await more.locator('summary').click();
  };
  const tickClasses = async (within: Locator, name: string, classes: readonly string[] | undefined) => {
    for (const one of classes ?? []) {
      const word = CLASS_WORDS[one] ?? one;
      await group(within, name)
        .getByLabel(`${word.charAt(0).toUpperCase()}${word.slice(1)}`, { exact: true })
        .check();
    }
  };

  async function fillTable(path: string, rate: Extract<DoseLine['rate'], { style: 'bands' }>) {
    await pick(rowOf(`${path}.route`), 'How the dose is printed', 'bands');
    await put(`${path}.rate.from`, rate.from);
    for (const [n, band] of rate.bands.entries()) {
      if (n > 0) await rowOf(`${path}.route`).getByRole('button', { name: 'Add another weight' }).click();
      await put(`${path}.rate.bands.${n}.upTo`, band.upTo);
      await put(`${path}.rate.bands.${n}.dose`, band.dose);
    }
    await put(`${path}.rate.furtherStep.each`, rate.furtherStep?.each);
    await put(`${path}.rate.furtherStep.dose`, rate.furtherStep?.dose);
  }

  async function fillLine(line: DoseLine, n: number) {
    const path = `doseLines.${n}`;
    await put(`${path}.title`, line.title);
    await field(`${path}.route`).selectOption(line.route);
    const row = rowOf(`${path}.route`);
    if (line.classes !== undefined) await open(row, 'Only for some sheep');
    await tickClasses(row, 'For which sheep', line.classes);
    const { rate, repeats } = line;
    if (rate.style === 'bands') await fillTable(path, rate);
    else {
      await put(`${path}.rate.text`, rate.text);
      if (rate.of !== undefined) await field(`${path}.rate.of`).selectOption(String(rate.of));
      await put(`${path}.rate.perVolume`, rate.perVolume);
    }
    await put(`${path}.mostPerSite`, line.mostPerSite);
    const limits = ['against', 'leastWeight', 'mostWeight', 'leastAge', 'mostAge', 'mostDose'] as const;
    if ([...limits.map((name) => line[name]), line.rounding, repeats].some((one) => one !== undefined))
      await open(row, 'Limits and repeats');
    for (const name of limits) await put(`${path}.${name}`, line[name]);
    if (line.rounding !== undefined) await field(`${path}.rounding`).selectOption(line.rounding);
    if (repeats !== undefined) {
      await put(`${path}.repeats.doses`, String(repeats.doses));
      for (const name of ['due', 'earliest', 'latest', 'whenLate'] as const)
        await put(`${path}.repeats.${name}`, repeats[name]);
    }
    await put(`${path}.protects`, line.protects);
  }

  async function fillPeriod(row: PeriodRow, n: number) {
    const path = `periods.${n}`;
    if (n > 1) {
      await page.getByRole('button', { name: /^Add another row/ }).click();
      await field(`${path}.produce`).selectOption(row.produce);
    }
    await field(`${path}.says`).selectOption(row.says);
    await put(`${path}.value`, row.value);
    if (row.countedFrom !== undefined) await field(`${path}.countedFrom`).selectOption(row.countedFrom);
    await put(`${path}.valueFromDose`, row.valueFromDose);
    const within = rowOf(`${path}.says`);
    if ([row.classes, row.doseLines, row.routes, row.market].some((one) => one !== undefined))
      await open(within, 'Only for some sheep, routes or markets');
    await tickClasses(within, 'Only for', row.classes);
    for (const id of row.doseLines ?? [])
      await group(within, 'Only for the dose')
        .locator('label')
        .nth(Number(id.slice(1)) - 1)
        .click();
    if (row.market === 'export') await within.getByLabel('Only for export').check();
  }

  async function fillRule(rule: Rule, n: number) {
    const path = `notIf.${n}`;
    await page.getByRole('button', { name: /^Add (?:a rule|another rule)/ }).click();
    await field(`${path}.code`).selectOption(rule.code);
    if (rule.code === 'class') await field(`${path}.value`).selectOption(rule.value ?? '');
    else await put(`${path}.value`, rule.value);
    await put(`${path}.from`, rule.from);
    await put(`${path}.to`, rule.to);
    await put(`${path}.says`, rule.says);
  }

  return {
    put,
    /** The whole label, from top to bottom. Ids of rows are those the form gives: d1, d2. */
    async fill(terms: Terms) {
      await put('name', terms.name);
      await field('form').selectOption(terms.form);
      await pick(page, 'How it is measured', terms.kind);
      await put('piece', terms.piece);
      await field('purpose').selectOption(terms.purpose);
      for (const [n, active] of (terms.actives ?? []).entries()) {
        if (n > 0) await page.getByRole('button', { name: 'Add another active substance' }).click();
        await put(`actives.${n}.substance`, active.substance);
        await put(`actives.${n}.strength`, active.strength);
        await put(`actives.${n}.salt`, active.salt);
        if (active.strengthOf !== undefined)
          await pick(rowOf(`actives.${n}.salt`), 'The strength counts', active.strengthOf);
      }
      // All lines first, because a line can be followed by one further down.
      for (let n = 1; n < terms.doseLines.length; n += 1)
        await page.getByRole('button', { name: /^Add another dose/ }).click();
      for (const [n, line] of terms.doseLines.entries()) await fillLine(line, n);
      for (const [n, line] of terms.doseLines.entries()) {
        if (line.followedBy === undefined) continue;
        await open(rowOf(`doseLines.${n}.route`), 'Limits and repeats');
        await field(`doseLines.${n}.followedBy`).selectOption(line.followedBy);
      }
      for (const [n, row] of (terms.periods ?? []).entries()) await fillPeriod(row, n);
      for (const [n, rule] of (terms.notIf ?? []).entries()) await fillRule(rule, n);
    },
    /** What each dose line is said to give a sheep of 20, 45 and 80 kg. */
    async gives(): Promise<string[][]> {
      const shown = page.locator('.label-samples[role="status"]');
      return Promise.all((await shown.all()).map((one) => one.locator('dd').allTextContents()));
    },
  };
}
