import { expect } from 'vitest';
import type { Reply } from '../../src-shared/calls/all.ts';
import * as day from './fixture.ts';
import * as pencil from './pencil.ts';
import { type DeclarationRead, type PaperRead, starred } from './read-paper.ts';

/**
 * What a page, a paper or a reply is held to. All of them take plain rows of text, so that a test at the screen can
 * read its rows off the page and hold them to the same numbers.
 */

/** Rows: label | received | left | state | last day of use; in any order. */
export function expectCabinet(rows: readonly (readonly string[])[]): void {
  const byLabel = (a: readonly string[], b: readonly string[]) => ((a[0] ?? '') < (b[0] ?? '') ? -1 : 1);
  expect(rows.toSorted(byLabel)).toEqual(pencil.CABINET);
}

/** Rows of the treatment record in the order of pencil.ts. */
export function expectBookRows(rows: readonly (readonly string[])[]): void {
  expect(rows).toEqual(pencil.BOOK);
  expect(rows).toHaveLength(pencil.BOOK_COUNT);
}

/** The treatment record as a paper: its rows, its totals, and the correction beneath the struck line. */
export function expectBookPaper(paper: PaperRead): void {
  expectBookRows(paper.rows);
  expect(paper.totals).toEqual(pencil.TOTALS.products);
  expect(paper.text).toContain(pencil.TOTALS.said);
  const struck = paper.rows.findIndex((row) => row.at(-1) === 'struck');
  expect(paper.beneath[struck]).toContain('The plunger stuck');
  expect(paper.beneath[struck + 1]).toContain('1.3 mL given, 1.5 mL worked out');
  // One dose was the vet's own, and a record of it names who prescribed and gave it.
  const more = paper.beneath.filter((text, at) => text !== '' && at !== struck && at !== struck + 1);
  expect(more).toEqual([`Prescribed by ${day.VET.name}. Given by the vet`]);
}

export function expectDeclaration(
  paper: DeclarationRead,
  rows: readonly (readonly string[])[],
  count: number,
): void {
  expect(paper.rows).toEqual(rows);
  expect(paper.rows).toHaveLength(count);
}

/** Who is clear and who is held, until when; in any order. */
export function expectClear(expected: pencil.ClearExpected, found: Reply<'clear-list'>): void {
  const held = Object.fromEntries(found.held.map(({ shown, clear }) => [shown, clear ?? 'never']));
  expect({ at: expected.at, held }).toEqual({ at: expected.at, held: expected.held });
  expect(found.clear.map((row) => row.shown).sort()).toEqual(expected.clear.toSorted());
}

/** One dose: how it was shown before, and what was recorded. */
export function expectDose(
  expected: pencil.DoseExpected,
  { dose, reply }: { dose: Reply<'dose-for'>; reply: Reply<'treat'> },
): void {
  const shown = dose.doses[0];
  expect({
    animal: dose.who.shown,
    exact: shown?.dose?.exact,
    draw: shown?.dose?.draw.text,
    sites: shown?.dose?.sites,
    from: reply.draws.map((draw) => [draw.label, draw.take.text]),
  }).toEqual(expected);
  expect(shown?.draws.map((draw) => [draw.label, draw.take.text])).toEqual(expected.from);
  expect(dose.stops).toEqual([]);
  expect(reply.quantity).toBe(expected.draw);
  expect(reply.deviations).toEqual([]);
}

/** A plan: how much it needs and which containers it takes it from. */
export function expectPlan(
  expected: { needs: string; draws: readonly (readonly string[])[] },
  plan: Reply<'plan-session'>,
): void {
  expect(plan.leftOut).toEqual([]);
  expect(plan.lines.map((line) => line.needs.text)).toEqual([expected.needs]);
  expect(plan.lines[0]?.draws.map((draw) => [draw.label, draw.take.text])).toEqual(expected.draws);
  expect(plan.lines[0]?.short).toBeUndefined();
}

/** The cabinet's reply as rows of text. */
export function cabinetRows({ containers }: Reply<'cabinet'>): string[][] {
  return containers.map((one) => [one.label, one.received.text, one.left.text, one.state, one.useBy]);
}

/** The book's reply as rows of text. All of it happened on one day. */
export function bookRows({ rows }: Reply<'book'>): string[][] {
  return rows.map((row) => [
    row.local.replace(/^2026-03-01T(\d{2}:\d{2})$/, '1 Mar 2026, $1'),
    row.shown,
    String(row.heads),
    row.product,
    row.batch,
    row.dose,
    row.quantity,
    row.period,
    row.until,
    row.milkPeriod,
    starred(row.milkUntil),
    row.state === 'stands' ? 'stands' : 'struck',
  ]);
}
