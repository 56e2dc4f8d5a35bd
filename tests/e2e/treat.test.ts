import { expect, test } from 'vitest';
import { faultsOf } from './axe.ts';
import { goTo as goWithin } from './browser.ts';
import { farm, page, show, watch } from './race-page.ts';
import { tabTo, tagOf } from './treat-farm.ts';

/** What the book has in it about this session, asked of the desk and not of the screen. */
async function book() {
  const { sessions } = await farm.ask('sessions', {});
  const [only] = sessions;
  if (only === undefined) throw new Error('no session was opened');
  return { row: only, session: await farm.ask('session', { session: only.session }) };
}

const focused = (name: string) => page.locator(`[name="${name}"]:focus`);
const key = (name: string) => page.keyboard.press(name);
const type = (text: string) => page.keyboard.type(text);

/** Reads a tag; the cursor is then in the weight. */
async function read(n: number): Promise<void> {
  await focused('read').waitFor();
  await type(String(n).padStart(5, '0'));
  await key('Enter');
  await focused('weight').waitFor();
}

type Seeded = Awaited<ReturnType<typeof farm.seed>>;

/** No fault by the accessibility checker. */
async function expectClean(what: string): Promise<void> {
  expect(await faultsOf(page, what)).toEqual([]);
}

test('a session by keyboard alone: planned, asked, recorded once, taken back, closed with one unread', async () => {
  await farm.seed(5);
  await show();

  // Plan.
  await key('n');
  await key('p');
  await page.getByRole('heading', { name: 'Plan work at the race' }).waitFor();
  await tabTo(page, /Lame ewes/);
  await key('Space');
  await tabTo(page, /^Medicine/);
  await type('Orv');
  await key('Enter');
  await tabTo(page, /^Reason/);
  await type('Lameness');
  await tabTo(page, /^Syringe/);
  await type('10 mL');
  await page.getByText('5 head').first().waitFor();
  await page.getByText('51 kg × 5 mg for each kg ÷ 50 mg in each mL = 5.1 mL').waitFor();
  await tabTo(page, /^Name of the work/);
  await type('Lame ewes, May');
  await tabTo(page, /^Needles out/);
  await type('6');
  await key('Enter');

  // First: the last weight is kept; the dose stands beside the syringe; a double Enter is one record.
  await read(1);
  await key('Enter');
  await focused('record').waitFor();
  await page.getByRole('img', { name: '10 mL syringe filled to 5 mL' }).waitFor();
  await page
    .getByText(/Draw back before injecting/)
    .first()
    .waitFor();
  await key('Enter');
  await key('Enter');
  await page.getByRole('list', { name: 'The last three' }).getByText(tagOf(1)).waitFor();
  await expect.poll(async () => (await book()).session.last.length).toBe(1);

  // Second: a weight of 2.2 times the last is asked about; No leads back to it.
  await read(2);
  await type('114');
  await key('Enter');
  await page.getByRole('dialog').getByText('114 lb, pounds and not kilograms').waitFor();
  await key('Enter');
  await focused('weight').waitFor();
  await key('Control+a');
  await type('54');
  await key('Enter');
  await focused('record').waitFor();
  await page.getByText('54 kg, weighed now').waitFor();
  await key('Enter');
  await expect.poll(async () => (await book()).session.last.length).toBe(2);

  // Third: what really went in was different; a key opens the place for it.
  await read(3);
  await key('Enter');
  await focused('record').waitFor();
  await key('Control+i');
  await tabTo(page, /^What went in/);
  await type('4.5 mL');
  await key('Enter');
  await expect.poll(async () => (await book()).session.last[0]?.quantity).toBe('4.5 mL');

  // Fourth: recorded, and taken back with a reason.
  await read(4);
  await key('Enter');
  await focused('record').waitFor();
  await key('Enter');
  await focused('read').waitFor();
  const last = page.getByRole('listitem').filter({ hasText: 'Take back the last one' });
  await last.getByText(tagOf(4)).waitFor();
  await key('Control+b');
  await page.getByRole('dialog', { name: `Take back ${tagOf(4)}?` }).waitFor();
  await type('Wrong animal');
  await key('Enter');
  await expect.poll(async () => (await book()).row.treated).toBe(3);
  await page.getByRole('dialog').waitFor({ state: 'detached' });
  await read(4);
  await key('Enter');
  await focused('record').waitFor();
  await key('Enter');
  await expect.poll(async () => (await book()).row.treated).toBe(4);

  // Once more the first: it is named and asked, and No writes nothing.
  await focused('read').waitFor();
  await type('00001');
  await key('Enter');
  await page.getByRole('dialog').getByText('was already treated in this session').waitFor();
  await key('Escape');
  await focused('read').waitFor();

  // Close: five heads went through, four are recorded, so the fifth is held and named before and after.
  await key('Control+k');
  await page.getByRole('combobox', { name: 'What do you want to do?' }).waitFor();
  await type('close the session');
  await key('Enter');
  await page.getByRole('heading', { name: 'Close Lame ewes, May' }).waitFor();
  await tabTo(page, /^Heads through/);
  await type('5');
  await tabTo(page, /^Needles back/);
  await type('6');
  await page.getByText(`${tagOf(5)} may have been treated`).waitFor();
  await key('Enter');
  const held = page.getByRole('list', { name: 'Possibly treated' });
  await held.getByText(tagOf(5)).waitFor();

  const { row, session } = await book();
  expect(row).toMatchObject({ state: 'closed', treated: 4, planned: 5, possibly: 1 });
  expect(session.possibly.map((one) => one.shown)).toEqual([tagOf(5)]);
  // 51 kg is 5.1 mL, on marks of half a millilitre 5 mL; 54 kg is 5.4, so 5.5 mL.
  expect(session.last.map((one) => `${one.shown} ${one.quantity}`).toSorted()).toEqual([
    `${tagOf(1)} 5 mL`,
    `${tagOf(2)} 5.5 mL`,
    `${tagOf(3)} 4.5 mL`,
    `${tagOf(4)} 5.5 mL`,
  ]);

  // It got none of it: how that is known ends the hold.
  await tabTo(page, /^It got no/);
  await key('Enter');
  await tabTo(page, /^In words/);
  await type('Seen in the pen by Isla');
  await key('Control+Enter');
  await page.getByText('Nobody is held as possibly treated').waitFor();
  expect((await book()).session.possibly).toEqual([]);
  await watch.expectQuiet();
}, 90_000);

test('all at once: one is left out by tag, part of a lot is marked and the rest is not held', async () => {
  const { holding, injection, drench, group, lot, subjects } = await farm.seed(3);
  const { session } = await farm.ask('open-session', {
    holding,
    groups: [group],
    subjects: [lot],
    mode: 'mass',
    name: 'Before turnout',
    lines: [{ medicine: drench, reason: 'Worms' }],
    mark: { colour: 'blue', place: 'shoulder' },
  });
  await show();
  await goWithin(page, `/?at=treat/session/${encodeURIComponent(session)}`);
  await page.getByRole('heading', { name: 'Before turnout' }).waitFor();
  await tabTo(page, /^Leave out, by tag/);
  await type('00002');
  await key('Enter');
  await page.getByRole('list', { name: 'Left out' }).getByText(tagOf(2)).waitFor();
  await tabTo(page, /^Head done/);
  await key('Control+a');
  await type('30');
  await page.getByText('all 40 are held').waitFor();
  await tabTo(page, /^Those done are marked/);
  await key('Space');
  await tabTo(page, /^Lost/);
  await type('20 mL');
  await page.getByRole('button', { name: 'Write 32 head in the book' }).waitFor();
  await key('Control+Enter');
  await page.getByText('32 head written').waitFor();

  const { session: shown } = await book();
  expect(shown.session.treated).toBe(32);
  expect(shown.waiting.map((one) => one.subject)).toContain(subjects[1]);
  const { lots } = await farm.ask('lots', {});
  expect(lots.map((one) => `${one.shown}: ${one.heads}`).toSorted()).toEqual([
    'Hill lambs, blue shoulder: 30',
    'Hill lambs: 10',
  ]);
  const rest = await farm.ask('subject', { subject: lot });
  expect(rest.treatments).toEqual([]);
  // What the desk says of the lot that is left counts: nothing typed before stands in its place.
  expect(await page.getByLabel('Head done').inputValue()).toBe('10');
  await closeWithOneMedicineUnrecorded({ holding, subjects, injection, drench });
  await watch.expectQuiet();
});

/** Three ewes have one of two medicines by the book: of two it is said by keys that they got no other, one is held. */
async function closeWithOneMedicineUnrecorded(
  of: Pick<Seeded, 'holding' | 'subjects' | 'injection' | 'drench'>,
) {
  const { holding, subjects, injection, drench } = of;
  const lines = [
    { medicine: injection, reason: 'Lameness' },
    { medicine: drench, reason: 'Worms' },
  ];
  const { session } = await farm.ask('open-session', { holding, subjects, name: 'Two at once', lines });
  const { lines: planned } = await farm.ask('session', { session });
  const first = planned.slice(0, 1).map(({ line }) => line);
  for (const subject of subjects) await farm.ask('treat', { session, subject, lines: first });
  await goTo(`treat/session/${encodeURIComponent(session)}/close`);
  const list = page.getByRole('list', { name: 'No record of Calverol drench' });
  await list.getByText('have no record of Calverol drench').waitFor();
  await tabTo(page, /^Heads through/);
  await type('3');
  await tabTo(page, /^One by one/);
  await key('Enter');
  for (const n of [1, 2]) {
    await tabTo(page, /^It got no Calverol/);
    // A second Enter does nothing to the next one: the cursor stands on its row.
    await key('Enter');
    await key('Enter');
    await list.getByText(`${tagOf(n)} got no Calverol drench`).waitFor();
    expect(await page.evaluate(() => document.activeElement?.tagName)).toBe('LI');
  }
  await list.getByText(`${tagOf(3)} has no record of Calverol drench`).waitFor();
  await key('Control+Enter');
  await page.getByRole('list', { name: 'Possibly treated' }).getByText(tagOf(3)).waitFor();
  const { possibly } = await farm.ask('session', { session });
  expect(possibly.map(({ shown, of: what }) => [shown, what])).toEqual([[tagOf(3), ['Calverol drench']]]);
}

test('one treatment by itself, written down late, begins a course', async () => {
  const { subjects } = await farm.seed(1);
  await show();
  await key('n');
  await key('t');
  await page.getByRole('heading', { name: 'Write down one treatment' }).waitFor();
  await tabTo(page, /^Tag, chip or lot/);
  await type('00001');
  await key('Enter');
  await tabTo(page, /^Medicine/);
  await type('Orv');
  await key('Enter');
  await tabTo(page, /^Reason/);
  await type('Lameness');
  await tabTo(page, /^Weight/);
  await type('60 kg');
  await page.getByText('60 kg × 5 mg for each kg ÷ 50 mg in each mL = 6 mL').waitFor();
  await tabTo(page, /^Stands by itself/);
  await key('ArrowDown');
  await page.getByLabel('Dose 3').waitFor();
  await key('Control+Enter');
  await page.getByText('Written in the book').waitFor();

  const subject = subjects[0] ?? '';
  const { treatments } = await farm.ask('subject', { subject });
  expect(treatments.map((one) => one.quantity)).toEqual(['6 mL']);
  const { courses } = await farm.ask('courses', { subject });
  expect(courses.map((one) => [one.planned.length, one.given.length])).toEqual([[3, 1]]);
  await watch.expectQuiet();
});

const goTo = (at: string) => goWithin(page, `/?at=${at}`);

/** The check reads every colour of the page: seconds each on a busy computer. */
const axeLimitMs = 90_000;

test(
  'at the race every step is clean for those who hear or enlarge it, in light and dark',
  async () => {
    const { holding, injection, group } = await farm.seed(2);
    const { session } = await farm.ask('open-session', {
      holding,
      groups: [group],
      name: 'Lame ewes',
      lines: [
        { medicine: injection, reason: 'Lameness', syringe: { capacity: '10 mL', graduation: '0.5 mL' } },
      ],
      sharpsOut: 3,
    });
    await show();
    await goTo(`treat/session/${encodeURIComponent(session)}`);
    await read(1);
    await type('112');
    await key('Enter');
    await page.getByRole('button', { name: 'It is 112 kg: go on' }).waitFor();
    await expectClean('the question');
    await key('Escape');
    await key('Control+a');
    await key('Delete');
    await key('Enter');
    await focused('record').waitFor();
    await key('Control+i');
    await page.getByLabel('What went in').waitFor();
    await expectClean('the dose');
    await watch.expectQuiet();
  },
  axeLimitMs,
);

test(
  'planning, closing and what is left after it are clean, in light and dark',
  async () => {
    const { holding, drench, group, lot } = await farm.seed(2);
    const { session } = await farm.ask('open-session', {
      holding,
      groups: [group],
      subjects: [lot],
      mode: 'mass',
      name: 'Before turnout',
      lines: [{ medicine: drench, reason: 'Worms' }],
    });
    await show();
    await goTo(`treat/session/${encodeURIComponent(session)}`);
    await page.getByRole('heading', { name: 'Hill lambs' }).waitFor();
    await expectClean('the mass run');
    await goTo('treat/plan');
    await tabTo(page, /Lame ewes/);
    await key('Space');
    await tabTo(page, /^Medicine/);
    await type('Calv');
    await key('Enter');
    await page.getByText('5.2 mL').first().waitFor();
    await expectClean('the plan');
    await farm.ask('close-session', { session, headsThrough: 1 });
    await goTo(`treat/session/${encodeURIComponent(session)}`);
    await page.getByRole('list', { name: 'Possibly treated' }).waitFor();
    await expectClean('the closed session');
    await watch.expectQuiet();
  },
  axeLimitMs,
);
