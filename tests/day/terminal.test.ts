import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, expect, test } from 'vitest';
import { runDesk } from '../../src-main/host-command/run-desk.ts';
import type { CallName, Reply } from '../../src-shared/calls/all.ts';
import * as day from './fixture.ts';
import { readDeclarationRows, readPaperRows } from './read-paper.ts';

/**
 * The day from a terminal, one animal of each medicine. A process of its own for the first call, the papers, the
 * check and the arithmetic; the others go to the same code within this one, because starting forty takes minutes. The computer's clock is the
 * real one there, so the day is put into 2024, which is past on every computer that runs this; from 1 March on that
 * year has the same days as 2026, so the periods end on the same ones. The tests run in their order.
 */

const DESK = fileURLToPath(new URL('../../src-main/host-command/desk.ts', import.meta.url));
const VERIFY = fileURLToPath(new URL('../../src-main/host-command/verify.ts', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'foldbook-terminal-'));
const book = join(folder, 'day.foldbook');
afterAll(() => rmSync(folder, { recursive: true, force: true }));

type Ended = { code: number | null; out: string; err: string };

/** The processes load the same modules: what the first one compiled serves the others. */
const defaultBook = join(folder, 'default.foldbook');
const env = {
  ...process.env,
  NODE_COMPILE_CACHE: join(folder, 'compiled'),
  FOLDBOOK_BOOK: defaultBook,
};

function run(program: string, words: readonly string[], input?: string): Ended {
  const { status, stdout, stderr } = spawnSync(process.execPath, [program, ...words], {
    encoding: 'utf8',
    cwd: folder,
    env,
    ...(input === undefined ? {} : { input }),
  });
  return { code: status, out: stdout, err: stderr };
}

let isFirst = true;

/** A call that must be answered: exit code 0, one line of JSON, nothing on standard error. */
async function ask<N extends CallName>(name: N, asked: object): Promise<Reply<N>> {
  const words = ['--book', book, name, JSON.stringify(asked)];
  const ended = isFirst ? run(DESK, words) : await runDesk(words);
  isFirst = false;
  expect(ended).toMatchObject({ code: 0, err: '' });
  expect(ended.out.trim().split('\n')).toHaveLength(1);
  return JSON.parse(ended.out) as Reply<N>;
}

/** What must be refused: exit code 2, nothing on standard output, one line of JSON on standard error. */
function refusal(ended: Omit<Ended, 'code'> & { code: number | null }): {
  code: string;
  field?: string;
  message: string;
} {
  expect(ended).toMatchObject({ code: 2, out: '' });
  expect(ended.err.endsWith('\n')).toBe(true);
  expect(ended.err.trim().split('\n')).toHaveLength(1);
  const { error } = JSON.parse(ended.err) as { error: { code: string; field?: string; message: string } };
  expect(error.message).not.toBe('');
  return error;
}

const refused = async (name: CallName, asked: object) =>
  refusal(await runDesk(['--book', book, name, JSON.stringify(asked)]));

const OF_2024 = (text: string) => text.replaceAll('2026-', '2024-').replaceAll('2025-', '2023-');
const SET = '2024-02-27';
const by: { by: string } = { by: 'nobody' };
let holding = '';
let tags: Record<string, string> = {};
let injection = { medicine: '', revision: '' };
let drench = { medicine: '', revision: '' };
let vaccine = { medicine: '', revision: '' };

test('the book is begun, labels and deliveries are entered, the flock comes from a file', async () => {
  const begun = await ask('start-book', {
    by: 'nobody',
    happened: SET,
    business: day.BUSINESS,
    holding: day.HOLDING,
    keeper: day.KEEPER,
  });
  expect(existsSync(book)).toBe(true);
  by.by = begun.person;
  holding = begun.holding;
  const label = (terms: object) => ask('set-label', { ...by, happened: SET, act: 'first', terms });
  injection = await label(day.INJECTION_AS_TYPED);
  drench = await label(day.DRENCH);
  vaccine = await label(day.VACCINE);
  const deliver = (of: { medicine: string }, number: string, size: string) =>
    ask('receive-batch', {
      ...by,
      happened: SET,
      medicine: of.medicine,
      number,
      expiry: '2025-03',
      packs: [{ count: 1, size }],
    });
  await deliver(injection, 'OR-51', '50 mL');
  await deliver(drench, 'TM-300', '100 mL');
  await deliver(vaccine, 'UV-8', '50 mL');
  writeFileSync(join(folder, 'flock.csv'), OF_2024(day.FLOCK_CSV));
  const file = { path: join(folder, 'flock.csv') };
  const taken = await ask('import-animals', {
    ...by,
    happened: SET,
    holding,
    file,
    standing: 'none-running',
  });
  expect(taken.totals).toEqual({ in: 12, taken: 12, refused: 0, alreadyThere: 0 });
  tags = Object.fromEntries((await ask('animals', {})).animals.map((one) => [one.shown, one.subject]));
  expect(Object.keys(tags)).toHaveLength(12);
}, 120_000);

test('one animal of each medicine, found by its tag', async () => {
  const treat = async (read: string, happened: string, of: { medicine: string }, more: object = {}) => {
    const { found } = await ask('find-subject', { read });
    expect(found).toHaveLength(1);
    const single = { medicine: of.medicine, reason: 'As in the fixture', ...more };
    return ask('treat', { ...by, happened, subject: found[0]?.subject, single });
  };
  // 165 lb ÷ 100 = 1.65, halfway, so 1.7. From 1 Mar 14 days are to 15 Mar; clear on the 16th.
  const injected = await treat('UK 0 700123 00005', '2024-03-01T09:20', injection, {
    syringe: day.INJECTING.syringe,
  });
  expect(injected.quantity).toBe('1.7 mL');
  expect(injected.holds.find((hold) => hold.produce === 'meat')?.until).toBe('2024-03-16T00:00:00+00:00');
  // 22.68 kg is a hair over 50 lb: 10 mL. Seven days to 8 Mar.
  const drenched = await treat('826070012300009', '2024-03-01T10:40', drench);
  expect(drenched.quantity).toBe('10 mL');
  expect(drenched.holds.find((hold) => hold.produce === 'meat')?.until).toBe('2024-03-09T00:00:00+00:00');
  const vaccinated = await treat('00007', '2024-03-01T13:30', vaccine);
  expect(vaccinated.quantity).toBe('2 mL');
  const left = (await ask('cabinet', {})).containers.map((one) => [one.label, one.left.text]);
  // 50 − 1.7, 100 − 10, 50 − 2.
  expect(left.sort()).toEqual([
    ['OR-51-1', '48.3 mL'],
    ['TM-300-1', '90 mL'],
    ['UV-8-1', '48 mL'],
  ]);
}, 120_000);

test('the label typed 14 d says 41 d: clear moves from 16 March to 12 April', async () => {
  const heldOn = async (at: string) =>
    (await ask('clear-list', { at })).held.map((row) => [row.shown, row.clear] as const);
  expect(await heldOn('2024-03-15T23:59')).toEqual([['UK 0 700123 00005', '2024-03-16T00:00:00+00:00']]);
  expect(await heldOn('2024-03-16')).toEqual([]);
  const { medicine, revision } = injection;
  const corrected = await ask('set-label', {
    ...by,
    act: 'typed-wrongly',
    medicine,
    revision,
    terms: day.INJECTION_AS_PRINTED,
    why: day.LABEL_SLIP,
  });
  expect(corrected.moved.map(({ shown, from, to }) => [shown, from, to])).toEqual([
    ['UK 0 700123 00005', '16 Mar 2024, 00:00', '12 Apr 2024, 00:00'],
  ]);
  expect(await heldOn('2024-04-11T23:59')).toEqual([['UK 0 700123 00005', '2024-04-12T00:00:00+01:00']]);
  expect(await heldOn('2024-04-12')).toEqual([]);
}, 120_000);

let checkCode = '';

test('a held animal is refused by name, and both papers are saved and read back', async () => {
  // Drenched at this moment, so held today whenever this runs.
  const held = 'UK 0 700123 00010';
  await ask('treat', {
    ...by,
    subject: tags[held],
    given: '10 mL',
    single: { medicine: drench.medicine, source: 'vet', batch: 'TM-900', reason: 'Worms' },
  });
  // Tomorrow: by then today's drench has five days to go and more, and midnight may pass while this runs.
  const today = (await ask('farm', {})).clock.today;
  const departs = new Date(Date.parse(today) + 86_400_000).toISOString().slice(0, 10);
  const declaring = (shown: readonly string[]) => ({
    ...by,
    holding,
    to: day.FIRST_DECLARATION.to,
    departs: `${departs}T06:00`,
    signer: by.by,
    answer: 'yes',
    subjects: shown.map((tag) => ({ subject: tags[tag] })),
  });
  const error = await refused('declare', declaring(['UK 0 700123 00009', held]));
  expect(error.code).toBe('held');
  expect(error.message).toContain(`${held}: Meat held until `);
  expect(error.message).not.toContain('00009');
  const signed = await ask('declare', declaring(['UK 0 700123 00009', 'UK 0 700123 00005']));

  const save = (paper: string, name: string): Uint8Array => {
    const ended = run(DESK, ['--book', book, 'paper', JSON.stringify({ paper }), '--out', name]);
    expect(ended).toMatchObject({ code: 0, err: '' });
    expect(JSON.parse(ended.out)).toEqual({ saved: name });
    return readFileSync(join(folder, name));
  };
  const declaration = await readDeclarationRows(save(signed.paper, 'declaration.pdf'));
  expect(declaration.rows).toEqual([
    [
      'UK 0 700123 00009',
      '1',
      'Tollermint Drench',
      'TM-300',
      '1 Mar 2024, 10:40',
      '10 mL',
      '7 d',
      '9 Mar 2024, 00:00',
    ],
    [
      'UK 0 700123 00005',
      '1',
      'Orvandrex Injection',
      'OR-51',
      '1 Mar 2024, 09:20',
      '1.7 mL',
      '41 d',
      '12 Apr 2024, 00:00',
    ],
  ]);

  const printed = await ask('book-paper', { holding, from: '2024-03-01', to: '2024-03-31' });
  expect(printed.rows).toBe(3);
  const record = await readPaperRows(save(printed.paper, 'record.pdf'));
  expect(record.rows.map((row) => row.slice(0, 9))).toEqual([
    [
      '1 Mar 2024, 09:20',
      'UK 0 700123 00005',
      '1',
      'Orvandrex Injection',
      'OR-51',
      '1.7 mL',
      '1.7 mL',
      '41 d',
      '12 Apr 2024, 00:00',
    ],
    [
      '1 Mar 2024, 10:40',
      'UK 0 700123 00009',
      '1',
      'Tollermint Drench',
      'TM-300',
      '10 mL',
      '10 mL',
      '7 d',
      '9 Mar 2024, 00:00',
    ],
    [
      '1 Mar 2024, 13:30',
      'UK 0 700123 00007',
      '1',
      'Ulverane Vaccine',
      'UV-8',
      '2 mL',
      '2 mL',
      'zero',
      '1 Mar 2024, 13:30',
    ],
  ]);
  checkCode = record.checkCode;
}, 120_000);

test('verify: 0 for a whole book, 1 when it is not what the paper says, 2 when it cannot be checked', async () => {
  const before = readFileSync(book);
  const whole = run(VERIFY, [book, '--head', checkCode]);
  expect(whole).toMatchObject({ code: 0, err: '' });
  expect(whole.out).toContain(checkCode);
  const other = checkCode.replace(/.$/, (digit) => (digit === '0' ? '1' : '0'));
  expect(run(VERIFY, [book, '--head', other]).code).toBe(1);
  expect(refusal(run(VERIFY, [join(folder, 'no-such.foldbook')])).code).toBe('book-missing');
  expect(refusal(run(VERIFY, [])).field).toBe('FILE');
  expect(readFileSync(book).equals(before)).toBe(true);
}, 120_000);

test('work-out: 0 with one object, 2 with one line on standard error, and no book is made', async () => {
  const dose = run(DESK, ['work-out', 'dose', JSON.stringify({ weight: '165 lb', rate: '1 mL per 100 lb' })]);
  expect(dose).toMatchObject({ code: 0, err: '' });
  // 165 ÷ 100 = 1.65; on tenths, halfway goes up.
  expect(JSON.parse(dose.out)).toMatchObject({ exactMl: '1.65', drawMl: '1.7' });
  const asked = { lastDose: '2026-03-01', zone: day.ZONE, period: '41 d', counting: 'whole-days' };
  const clearance = run(DESK, ['work-out', 'clearance', '-'], JSON.stringify(asked));
  expect(clearance).toMatchObject({ code: 0, err: '' });
  expect(JSON.parse(clearance.out)).toMatchObject({ clearAt: '2026-04-12T00:00:00+01:00' });

  for (const [words, code, field] of [
    [['dose', JSON.stringify({ weight: '165', rate: '1 mL per 100 lb' })], 'weight-unit-missing', 'weight'],
    [['clearance', JSON.stringify({ ...asked, zone: 'Nowhere/Land' })], 'bad-zone', 'zone'],
    [['dose', '{'], 'not-json', 'request'],
  ] as const) {
    expect(refusal(run(DESK, ['work-out', ...words]))).toMatchObject({ code, field });
  }
  expect(existsSync(defaultBook)).toBe(false);
  expect(await refused('treat', { by: by.by })).toMatchObject({ code: 'bad-input', field: 'subject' });
  expect(refusal(run(DESK, ['--book', book, 'no-such-call', '{}'])).code).toBe('unknown-call');
}, 120_000);
