import { afterAll, beforeAll, expect, test } from 'vitest';
import type { CallName } from '../../src-shared/calls/all.ts';
import { BOOK_PERIOD, type MedicineKey } from './fixture.ts';
import { DRENCHED, INJECTED } from './pencil.ts';
import * as play from './play.ts';

/**
 * A reply that was lost on its way: the screen sends the call again under the same id. Played once to the end of the
 * day, so that a reply made anew would differ, because the book has gone on since.
 */

const desk = play.dayDesk();
let known: play.Known;
beforeAll(async () => {
  known = await play.setUp(desk);
  const { treated } = await play.inject(
    desk,
    known,
    INJECTED.map((one) => one.animal),
  );
  await play.drench(
    desk,
    known,
    DRENCHED.map((one) => one.animal),
  );
  await play.doseByVet(desk, known);
  await play.vaccinate(desk, known);
  await play.tidyUp(desk, known, treated[1]?.reply.administrations[0] ?? '');
  await play.declareFirst(desk, known);
  await play.correctLabel(desk, known);
  await play.declareSecond(desk, known);
});
afterAll(() => desk.close());

/** What a person could have typed otherwise, for every kind of call of the day. */
const OTHERWISE: Partial<Record<CallName, Record<string, unknown>>> = {
  'start-book': { keeper: { name: 'Somebody Else', roles: ['keeper'] } },
  'set-person': { name: 'Somebody Else' },
  'set-label': { why: 'Another reason' },
  'receive-batch': { number: 'ZZ-99' },
  'import-animals': { standing: 'unknown' },
  'set-lot': { heads: 41 },
  'set-animal': { milking: false },
  'open-session': { name: 'Other work' },
  treat: { given: '3 mL' },
  'treat-many': { given: '3 mL' },
  'close-session': { headsThrough: 3 },
  'correct-treatment': { given: '1.2 mL' },
  'move-stock': { cause: 'returned' },
  declare: { to: 'Another Abattoir' },
};

test('the day used every kind of writing call that is sent again here', () => {
  const kinds = new Set(desk.sent.map((call) => call.name));
  expect([...kinds].sort()).toEqual(Object.keys(OTHERWISE).sort());
  expect(desk.sent.length).toBeGreaterThan(40);
});

test('the same request twice: the same reply, and not one entry more', async () => {
  const before = await desk.entries();
  expect(before).toBeGreaterThan(90);
  for (const { name, asked, reply } of desk.sent) {
    const again = await desk.raw(name, asked);
    expect([name, again]).toEqual([name, { ok: true, value: reply }]);
    expect(await desk.entries()).toBe(before);
  }
});

test('the same id under another request is refused, and nothing is written', async () => {
  const before = await desk.entries();
  for (const { name, asked } of desk.sent) {
    const other = await desk.raw(name, { ...asked, ...OTHERWISE[name] });
    expect([name, other.ok ? 'taken' : other.error.code]).toEqual([name, 'request-id-reused']);
    expect(await desk.entries()).toBe(before);
  }
});

test('the same id under another kind of call is refused', async () => {
  const before = await desk.entries();
  const first = desk.sent.find((call) => call.name === 'treat');
  const { request, by } = first?.asked ?? {};
  const other = await desk.raw('set-person', { request, by, name: 'Somebody Else', roles: ['shepherd'] });
  expect(other).toMatchObject({ ok: false, error: { code: 'request-id-reused' } });
  expect(await desk.entries()).toBe(before);
});

test('what a struck-out treatment left untrue is answered the same when nobody is told of it any more', async () => {
  const { rows } = await desk.ask('book', { ...BOOK_PERIOD, search: 'UK 0 700123 00009' });
  const entry = rows.find((row) => row.product === 'Tollermint Drench')?.entry;
  if (!entry) throw new Error('the drench of 00009 is not in the book');
  const { declarations } = await desk.ask('declarations', {});
  const struck = await desk.ask('void', { entry, reason: 'Another ewe lamb' });
  expect(struck.notices.join(' ')).toContain('UK 0 700123 00009');
  const first = declarations.find((row) => row.number === 1);
  await desk.ask('cancel-declaration', { declaration: first?.declaration ?? '', why: 'They never left' });
  expect((await desk.ask('notices', {})).notices).toEqual([]);
  const before = await desk.entries();
  const sent = desk.sent.find((call) => call.name === 'void');
  expect(await desk.raw('void', sent?.asked)).toEqual({ ok: true, value: struck });
  expect(await desk.entries()).toBe(before);
});

test('after all that the book is whole, and no bottle lost anything twice', async () => {
  const { checkCode, ok } = await desk.ask('verify', {});
  expect(ok).toBe(true);
  expect((await desk.ask('farm', {})).head.checkCode).toBe(checkCode);
  // 33 less the one struck out; its 10 mL count as never drawn.
  const { rows } = await desk.ask('book', BOOK_PERIOD);
  expect(rows.filter((row) => row.state === 'stands')).toHaveLength(32);
  const left: Record<MedicineKey, string> = { injection: '96 mL', drench: '440 mL', vaccine: '0 mL' };
  const { medicines } = await desk.ask('medicines', {});
  for (const key of ['injection', 'drench', 'vaccine'] as const) {
    const found = medicines.find((one) => one.medicine === known.medicine[key]);
    expect(found?.usable).toBe(left[key]);
  }
});
