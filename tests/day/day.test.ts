import { afterAll, expect, test } from 'vitest';
import * as on from './expectations.ts';
import * as day from './fixture.ts';
import * as pencil from './pencil.ts';
import * as play from './play.ts';
import { readDeclarationRows, readPaperRows } from './read-paper.ts';

/**
 * The day, from an empty book to two papers, by the calls that the screens make. The tests of this file are one
 * story and run in their order; each number they hold the desk to stands in pencil.ts.
 */

const desk = play.dayDesk();
afterAll(() => desk.close());
let known: play.Known;
let injected: play.Work;
let firstPaper = '';

async function clear(expected: readonly pencil.ClearExpected[]): Promise<void> {
  for (const one of expected) {
    on.expectClear(one, await desk.ask('clear-list', { holding: known.holding, at: one.at }));
  }
}

test('the book is begun: people, three labels, eight containers, twelve animals and a lot', async () => {
  known = await play.setUp(desk);
  const farm = await desk.ask('farm', {});
  expect(farm.counts).toMatchObject({ animals: 12, lots: 1, medicines: 3, containers: 8, openSessions: 0 });
  expect(farm.clock.state).toBe('believed');
});

test('the flock file: twelve rows in, twelve there already when it comes a second time', async () => {
  const { preview, taken } = known.flock;
  expect(preview.questions).toEqual([]);
  expect(preview.totals).toEqual({ in: 12, taken: 12, refused: 0, alreadyThere: 0 });
  expect(taken.totals).toEqual(preview.totals);
  const again = await desk.ask('preview-animals', { file: play.flockFile() });
  expect(again.totals).toEqual({ in: 12, taken: 0, refused: 0, alreadyThere: 12 });
  expect(again.questions).toEqual([]);
  const { animals, total } = await desk.ask('animals', {});
  expect(total).toBe(12);
  expect(animals.map((one) => one.weight)).toEqual([
    '137 lb',
    '150 lb',
    '62 kg',
    '71.5 kg',
    '165 lb',
    '96 kg',
    '200 lb',
    '50 lb',
    '22.68 kg',
    '100 lb',
    '40 lb',
    '19 kg',
  ]);
  expect(animals.filter((one) => one.milking).map((one) => one.shown)).toEqual([day.MILKED]);
});

test('the injection, labelled in pounds: seven animals by their tags', async () => {
  injected = await play.inject(
    desk,
    known,
    pencil.INJECTED.map((one) => one.animal),
  );
  on.expectPlan(pencil.INJECTION_PLAN, injected.plan);
  expect(injected.plan.rows.map((row) => row.doses[0]?.draw.text)).toEqual(
    pencil.INJECTED.map((one) => one.draw),
  );
  expect(injected.treated).toHaveLength(pencil.INJECTED.length);
  pencil.INJECTED.forEach((expected, i) => {
    const treated = injected.treated[i];
    if (!treated) throw new Error(`${expected.animal} was not treated`);
    on.expectDose(expected, treated);
  });
  expect(injected.closed).toEqual({ headsRecorded: 7, possibly: [], warnings: [] });
});

test('the banded drench: twelve animals, one of them a pound heavier than the list says', async () => {
  const drenched = await play.drench(
    desk,
    known,
    pencil.DRENCHED.map((one) => one.animal),
  );
  on.expectPlan(pencil.DRENCH_PLAN, drenched.plan);
  expect(drenched.plan.rows.map((row) => row.doses[0]?.draw.text)).toEqual(pencil.DRENCH_PLAN.planned);
  expect(drenched.treated).toHaveLength(pencil.DRENCHED.length);
  pencil.DRENCHED.forEach((expected, i) => {
    const treated = drenched.treated[i];
    if (!treated) throw new Error(`${expected.animal} was not treated`);
    on.expectDose(expected, treated);
  });
  expect(drenched.closed).toEqual({ headsRecorded: 12, possibly: [], warnings: [] });
});

test('one dose from the vet’s bottle: held like the others, and nothing leaves the cabinet', async () => {
  const before = on.cabinetRows(await desk.ask('cabinet', { show: 'all' }));
  const reply = await play.doseByVet(desk, known);
  expect(reply.quantity).toBe(pencil.VET_DOSE.draw);
  expect(reply.draws).toEqual([]);
  expect(reply.working.map((line) => line.text).join(' ')).toContain('0.418878298 mL');
  expect(reply.holds.find((hold) => hold.produce === 'meat')?.until).toBe(pencil.CLEAR_AS_TYPED);
  expect(on.cabinetRows(await desk.ask('cabinet', { show: 'all' }))).toEqual(before);
});

test('the vaccine per head, in one run with the lot', async () => {
  const { plan, run, closed } = await play.vaccinate(desk, known);
  on.expectPlan(pencil.VACCINE_PLAN, plan);
  expect(run.heads).toBe(52);
  expect(run.administrations).toHaveLength(13);
  const draws = run.draws.map((draw) => [draw.label, draw.take.text]);
  expect(draws.slice(0, 12)).toEqual(Array(12).fill(['UV-8-1', '2 mL']));
  expect(draws.slice(12)).toEqual(pencil.VACCINE_LOT_DRAWS);
  expect(run.deviations).toEqual([]);
  expect(closed).toEqual({ headsRecorded: 52, possibly: [], warnings: [] });
});

test('the morning after: one dose put right, the rest of the vaccine poured away, and the shelf adds up', async () => {
  const place = pencil.INJECTED.findIndex((one) => one.animal === day.CORRECTION.animal);
  const [administration = ''] = injected.treated[place]?.reply.administrations ?? [];
  const { corrected, discarded } = await play.tidyUp(desk, known, administration);
  expect(corrected).toEqual({
    administration,
    quantity: '1.3 mL',
    until: '16 Mar 2026, 00:00',
    notices: [],
  });
  expect(discarded.state).toBe('disposed');
  const { movements } = await desk.ask('container', {
    container: play.containerOf(known, day.DISCARDED.label),
  });
  const poured = movements.find((movement) => movement.cause === 'disposed');
  expect(poured?.amount).toContain(pencil.DISCARDED_AMOUNT);
  on.expectCabinet(on.cabinetRows(await desk.ask('cabinet', { show: 'all' })));
});

test('who is clear by the label as it was typed, and the first declaration', async () => {
  const { preview, signed } = await play.declareFirst(desk, known);
  await clear(pencil.CLEAR_BEFORE);
  expect(preview.refused).toEqual([]);
  expect(preview.sentences[0]).toBe(pencil.FIRST_HEADS);
  expect(signed.number).toBe(1);
  firstPaper = signed.paper;
  const paper = await readDeclarationRows(await play.paperBytes(desk, firstPaper));
  on.expectDeclaration(paper, pencil.FIRST_PAPER, pencil.FIRST_COUNT);
  expect(paper.checkCode).toBe(signed.checkCode);
  expect(paper.text).toContain('16 Mar 2026, 06:00');
});

test('each treatment holds meat and milk to its own instant', async () => {
  for (const [shown, expected] of Object.entries(pencil.HOLDS)) {
    const { holds } = await desk.ask('subject', { subject: play.subjectOf(known, shown) });
    expect(holds.map((hold) => [hold.product, hold.produce, hold.state, hold.until])).toEqual(expected);
  }
});

test('milk of the ewe that is milked is held by the hour', async () => {
  const milkAt = async (at: string) => {
    const { held } = await desk.ask('clear-list', { produce: 'milk', at });
    return held.find((row) => row.shown === day.MILKED)?.clear;
  };
  expect(await milkAt(pencil.MILK.heldAt)).toBe(pencil.MILK.until);
  expect(await milkAt(pencil.MILK.clearAt)).toBeUndefined();
});

test('14 d was typed and the insert says 41 d: eight animals move, and a declaration gets a notice', async () => {
  const moved = await play.correctLabel(desk, known);
  expect(moved.moved.map(({ shown, produce, from, to }) => ({ shown, produce, from, to }))).toEqual(
    pencil.MOVED,
  );
  await clear(pencil.CLEAR_AFTER);
  const { notices } = await desk.ask('notices', {});
  expect(notices.map((notice) => notice.number)).toEqual([1]);
  for (const name of pencil.NOTICE_NAMES) expect(notices[0]?.text).toContain(name);
  expect(notices[0]?.text).toContain('12 Apr 2026, 00:00');
  expect(moved.notices.map((notice) => notice.number)).toEqual([1]);
  // The 33 that stand, and none that today's rules would decide otherwise.
  expect(await desk.ask('recheck', {})).toEqual({ checked: 33, different: [] });
});

test('who is held is refused by name with the date; the others go on the second paper', async () => {
  const { refused, signed } = await play.declareSecond(desk, known);
  expect(refused.code).toBe('held');
  expect(refused.message).toContain(pencil.HELD_SENTENCE);
  for (const { animal } of day.SECOND_DECLARATION.going) expect(refused.message).not.toContain(animal);
  expect(signed.number).toBe(2);
  const paper = await readDeclarationRows(await play.paperBytes(desk, signed.paper));
  on.expectDeclaration(paper, pencil.SECOND_PAPER, pencil.SECOND_COUNT);
  // The first one stays what it was, whatever was found out since.
  const first = await readDeclarationRows(await play.paperBytes(desk, firstPaper));
  on.expectDeclaration(first, pencil.FIRST_PAPER, pencil.FIRST_COUNT);
});

test('the book and its paper say the same, row by row', async () => {
  on.expectBookRows(
    on.bookRows(await desk.ask('book', { ...day.BOOK_PERIOD, holding: known.holding, limit: 500 })),
  );
  const printed = await desk.ask('book-paper', { ...day.BOOK_PERIOD, holding: known.holding });
  expect(printed.rows).toBe(pencil.BOOK_COUNT);
  const paper = await readPaperRows(await play.paperBytes(desk, printed.paper));
  on.expectBookPaper(paper);
  expect(paper.reasons.filter((text) => text.includes('medicine from the vet'))).toEqual([
    'Swollen joint Given by Isaura Quennell; medicine from the vet',
  ]);
  const verified = await desk.ask('verify', { head: paper.checkCode });
  expect(verified).toMatchObject({ ok: true, problems: [], checkCode: paper.checkCode });
  expect(verified.entries).toBe(await desk.entries());
  const other = paper.checkCode.replace(/.$/, (digit) => (digit === '0' ? '1' : '0'));
  expect((await desk.ask('verify', { head: other })).ok).toBe(false);
});
