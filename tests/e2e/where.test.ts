import { expect, test } from 'vitest';
import { goTo as goWithin } from './browser.ts';
import { farm, host, page, show, watch } from './race-page.ts';

const goTo = (at: string) => goWithin(page, `/?at=${at}`);
const key = (name: string) => page.keyboard.press(name);
const focused = (name: string) => page.locator(`[name="${name}"]:focus`);
const where = () => page.getByRole('region', { name: 'Where, and which needle' });

/** Reads a tag and keeps the last weight: the dose and its place stand there then. */
async function toDose(n: number): Promise<void> {
  await focused('read').waitFor();
  await page.keyboard.type(String(n).padStart(5, '0'));
  await key('Enter');
  await focused('weight').waitFor();
  await key('Enter');
  await focused('record').waitFor();
}

test('the place goes round by the animal’s record, is chosen by keyboard, and stands in the book; a person is hurt, an animal reacts', async () => {
  const { holding, injection, subjects } = await farm.seed(2);
  const first = subjects[0] ?? '';
  // Light enough for one place: 5 mL is the least that a source puts into one.
  for (const subject of subjects) await farm.ask('weigh', { subject, weight: '45 kg', how: 'scale' });
  const single = { medicine: injection, reason: 'Lameness' };
  await farm.ask('treat', { subject: first, single, site: 'neck', side: 'left' });
  const { session } = await farm.ask('open-session', {
    holding,
    name: 'Lame ewes',
    subjects,
    lines: [{ medicine: injection, reason: 'Lameness' }],
  });
  await show();
  await goTo(`treat/session/${session}`);

  // The left side was used: the right one is offered, and drawn.
  await toDose(1);
  await where().getByText('Muscular middle of the neck, right side', { exact: true }).waitFor();
  await where()
    .getByText(/The last went into the neck, left side/)
    .waitFor();
  await where()
    .getByRole('img', { name: 'A sheep from its right side. Marked: Muscular middle of the neck' })
    .waitFor();
  await where().getByText('the label in the book does not say how the medicine flows').waitFor();
  await key('Enter');
  await page.getByText('1 head done').waitFor();

  // Another place by keyboard: the list beside the drawing, the drawing follows.
  await toDose(2);
  const more = where().getByText('Another place, fleece or way, or a thin or fat animal');
  await more.focus();
  await key('Enter');
  await where().getByLabel('As suggested by its record').focus();
  await key('ArrowDown');
  await key('ArrowDown');
  await where().getByText('Muscular middle of the neck, right side', { exact: true }).waitFor();
  await page.locator('[name="record"]').click();
  await page.getByText('2 head done').waitFor();
  const { last } = await farm.ask('session', { session });
  const written = await Promise.all(
    last.map(({ administration }) => farm.ask('treatment', { administration })),
  );
  expect(written.map(({ subject, site, side }) => [subject, site, side])).toEqual([
    [subjects[1], 'neck', 'right'],
    [first, 'neck', 'right'],
  ]);

  // One key away: what is in work, and the sheet.
  await page.locator('body').click({ position: { x: 5, y: 5 } });
  await key('!');
  await page.getByRole('heading', { name: 'A person was injected or splashed' }).waitFor();
  await page.getByText('Not in the book: emergency, doctor, hospital, poison line.').waitFor();
  await page.getByRole('button', { name: 'Make the emergency sheet' }).click();
  await page.getByRole('link', { name: 'Save emergency-sheet.pdf' }).waitFor();
  await page.getByRole('link', { name: 'Write down what happened' }).click();
  await page.getByLabel('Who', { exact: true }).fill('Bram Field');
  await page.getByLabel('Injected, or pricked').check();
  await page.getByLabel('Medicine', { exact: true }).selectOption({ label: 'Orvandrex injection' });
  await page.getByLabel('Where on the body').fill('left thumb');
  await page.getByLabel('What was done').fill('Washed, driven to hospital.');
  await key('Control+Enter');
  await page.getByText(/Bram Field: injected, or pricked, Orvandrex injection, left thumb/).waitFor();

  // A reaction, from the line of the book.
  await goTo(`book/treatment/${encodeURIComponent(last[1]?.administration ?? '')}`);
  await page.getByRole('link', { name: 'Report a reaction or no effect' }).click();
  await page.getByLabel('What was seen').fill('Swelling as large as an egg');
  await key('Control+Enter');
  await page.getByText(/Swelling as large as an egg/).waitFor();
  await page.getByRole('link', { name: 'Print it for the vet' }).click();
  await page.getByRole('button', { name: 'Make the report' }).click();
  await page.getByRole('link', { name: 'Save reaction-report.pdf' }).waitFor();
  await goTo(`flock/subject/${encodeURIComponent(first)}`);
  await page.getByText(/Swelling as large as an egg/).waitFor();
  // From the animal’s page it is one deed away, for what it got last.
  await page.getByRole('link', { name: 'Write down a reaction to Orvandrex injection' }).click();
  await page.getByRole('heading', { level: 1, name: /reaction/i }).waitFor();
  await watch.expectQuiet();
}, 90_000);

test('only from the drawer: ticked once, it stays; a mass run shows place and needle and writes them for all', async () => {
  const { holding, injection, subjects } = await farm.seed(3);
  for (const subject of subjects) await farm.ask('weigh', { subject, weight: '45 kg', how: 'scale' });
  const lines = [{ medicine: injection, reason: 'Lameness' }];
  const open = (name: string, mode: 'each' | 'mass', who: string[]) =>
    farm.ask('open-session', { holding, name, mode, subjects: who, lines });
  const { medicine } = await farm.ask('set-label', {
    act: 'first',
    terms: {
      name: 'Belvoran injection',
      form: 'injection',
      kind: 'volume',
      purpose: 'antibiotic',
      actives: [{ substance: 'belvorin', strength: '50 mg/mL' }],
      flowClass: 'suspension',
      doseLines: [{ id: 'im', route: 'intramuscular', rate: { style: 'rate', text: '1 mL per 10 kg' } }],
      periods: [{ produce: 'meat', says: 'value', value: '28 d' }],
    },
  });
  lines[0] = { medicine, reason: 'Lameness' };
  await farm.ask('receive-batch', {
    medicine,
    number: 'B-1',
    expiry: `${new Date().getUTCFullYear() + 2}-03`,
    packs: [{ count: 1, size: '100 mL' }],
  });
  const [first = '', ...others] = subjects;
  const each = await open('One', 'each', [first]);
  const mass = await open('All', 'mass', others);
  await show();
  await goTo(`treat/session/${each.session}`);
  await toDose(1);
  await where().getByText('Needle 18G 1 in').waitFor();
  await where().getByLabel('Only from needles in the drawer').check();
  await where().getByText('Needle: there is none in the drawer.').waitFor();
  await where()
    .getByText(/Fetch 18G 1 in/)
    .waitFor();
  await farm.ask('set-consumable', { what: 'needle', gauge: '16', lengthIn: '1', count: 4 });
  // Another page, the same computer: the tick is still there, and the drawer was asked anew.
  await page.goto(`${host?.origin}/?at=treat/session/${each.session}`);
  await focused('weight').waitFor();
  await key('Enter');
  await where().getByText('Needle 16G 1 in').waitFor();
  // Taken back while the dose stands there: the book gets the needle that is seen, not the one first worked out.
  await where().getByLabel('Only from needles in the drawer').uncheck();
  await where().getByText('Needle 18G 1 in').waitFor();
  await page.locator('[name="record"]').click();
  await page.getByText('1 head done').waitFor();

  await goTo(`treat/session/${mass.session}`);
  await where().getByText('Needle 18G 1 in').waitFor();
  await where().getByLabel('Only from needles in the drawer').check();
  await where().getByText('Needle 16G 1 in').waitFor();
  await where().getByText('white').waitFor();
  await where()
    .getByRole('img', { name: /Marked: Muscular middle of the neck/ })
    .waitFor();
  await page.getByText('No place and no needle yet').waitFor();
  await page.getByRole('button', { name: 'All get it so: write it for all' }).click();
  await page.getByText('neck, left side, needle 16G 1 in').waitFor();
  await page.getByRole('button', { name: 'Write 2 head in the book' }).click();
  await page.getByText('2 head written').waitFor();
  const written = await Promise.all(
    [each, mass].map(async ({ session }) => (await farm.ask('session', { session })).last),
  );
  const places = await Promise.all(
    written.flat().map(({ administration }) => farm.ask('treatment', { administration })),
  );
  expect(places.map(({ site, side, needle }) => [site, side, needle])).toEqual(
    ['18G 1 in', '16G 1 in', '16G 1 in'].map((needle) => ['neck', 'left', needle]),
  );
  await watch.expectQuiet();
}, 90_000);

test('for an oral dose no screen has a word of needle, site or drawing back', async () => {
  const { holding, drench, subjects } = await farm.seed(2);
  const lines = [{ medicine: drench, reason: 'Worms' }];
  const open = (name: string, mode: 'each' | 'mass') =>
    farm.ask('open-session', { holding, name, mode, subjects, lines });
  const { session } = await open('Drench one by one', 'each');
  const mass = await open('Drench all', 'mass');
  await show();
  const say = async (what: string) => {
    const text = (await page.locator('main').textContent()) ?? '';
    expect(text.length, what).toBeGreaterThan(100);
    expect(text, what).not.toMatch(/needle|\bsites?\b|draw(?:ing|n)? back|sharps/i);
    return text;
  };

  await goTo(`treat/plan&medicine=${drench}`);
  await page.getByLabel(/Lame ewes/).check();
  await page.getByRole('combobox', { name: 'Medicine' }).fill('Calv');
  await key('Enter');
  await page.getByText('2 head').first().waitFor();
  expect(await say('plan')).toContain('Calverol drench');

  await goTo(`treat/session/${session}`);
  await toDose(1);
  const run = await say('run');
  expect(run).toContain('corner of the mouth');
  await key('!');
  await page.getByRole('heading', { name: 'A person swallowed it' }).waitFor();
  expect(await say('emergency')).toContain('Calverol drench');

  await goTo(`treat/session/${mass.session}`);
  await page.getByText('Calverol drench').first().waitFor();
  await say('mass run');
  await goTo(`treat/session/${session}/sheet`);
  await page.getByRole('button', { name: 'Make the paper' }).waitFor();
  await say('work sheet');

  await goTo(`treat/one&subject=${encodeURIComponent(subjects[0] ?? '')}&medicine=${drench}`);
  await page.getByText('corner of the mouth').waitFor();
  await say('one treatment');
  await goTo(`treat/session/${session}/ready`);
  await page
    .getByText('Given with:')
    .or(page.getByText('The label of each remedy is read'))
    .first()
    .waitFor();
  await say('before starting');
  const { administrations } = await farm.ask('treat', { session, subject: subjects[0] ?? '' });
  const administration = encodeURIComponent(administrations[0] ?? '');
  await goTo(`book/treatment/${administration}`);
  await page.getByText('Calverol drench').first().waitFor();
  await say('the line of the book');
  await goTo(`book/reaction/${administration}`);
  await page.getByLabel('What was seen').waitFor();
  await say('a reaction');
  await goTo(`treat/session/${mass.session}/ready`);
  await page.getByText('The label of each remedy is read').first().waitFor();
  await say('before starting all');
  await goTo(`treat/session/${session}/close`);
  await page.getByRole('heading', { level: 1 }).waitFor();
  await page.locator('.awaited').first().waitFor({ state: 'detached' });
  await say('close');
  await watch.expectQuiet();
}, 90_000);
