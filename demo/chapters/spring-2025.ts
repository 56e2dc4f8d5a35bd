import { GROUPS } from '../flock/animals.ts';
import type { Scenario } from '../scenario.ts';

/** First winter and lambing: fluke, the vaccine and its course, feet, hard lambings, and lambs counted into lots. */
export async function spring2025(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2025-01-04T09:00');
  scenario.writer('keeper');
  for (const group of [GROUPS.hill, GROUPS.low, GROUPS.dairy]) {
    await scenario.dates(group, { ramOut: '2025-01-04' });
  }
  await player.at('2025-01-15T13:00');
  await scenario.work(
    {
      name: 'Fluke, January',
      medicine: 'grennovex',
      reason: 'Fluke found in the cull ewes',
      by: 'bram',
      groups: [GROUPS.hill, GROUPS.low, GROUPS.dairy, GROUPS.young],
    },
    {
      except: [12, 84, 140].map((number) => ({
        subject: scenario.animal(number),
        why: 'Too thin, kept back',
      })),
      lost: { amount: '30 mL', why: 'Priming the gun' },
    },
    { notThrough: [12, 84, 140].map((number) => scenario.animal(number)) },
  );
  await player.at('2025-01-29T10:00');
  scenario.writer('keeper');
  for (const group of [GROUPS.hill, GROUPS.low, GROUPS.dairy]) {
    await scenario.dates(group, {
      scanned: '2025-01-28',
      lambingFrom: '2025-03-22',
      lambingTo: '2025-04-28',
    });
  }
  await vaccine(scenario);
  await feet(scenario);
  await player.at('2025-03-05T17:30');
  await bringWeighings(scenario, '2025-03-05');
  await player.at('2025-03-06T09:00');
  await scenario.work(
    {
      name: 'Vaccine before lambing',
      medicine: 'ostrivac',
      doseLine: 'booster',
      reason: 'Before lambing',
      by: 'bram',
      groups: [GROUPS.hill, GROUPS.low, GROUPS.dairy],
      line: { syringe: { capacity: '2 mL', graduation: '0.1 mL' } },
      sharpsOut: 24,
    },
    { lost: { amount: '6 mL', why: 'Priming the gun' } },
    { sharpsBack: 24 },
  );
  await secondDoses(scenario);
  await lambing(scenario);
}

/** A crate file; what a file does not say itself is said for it. */
export async function bringWeighings(scenario: Scenario, day: string): Promise<void> {
  scenario.writer('sorrel');
  await scenario.bury();
  const { player } = scenario;
  await player.write('import-weighings', {
    file: player.file(`crate-${day}.csv`),
    options: {
      dateOrder: day === '2026-07-21' || day === '2025-03-05' || day === '2026-10-07' ? 'ymd' : 'dmy',
      ...(day === '2025-10-08' ? { weightUnit: 'kg' as const } : {}),
    },
  });
}

/** The ewe lambs that went to the ram get the course of two doses. */
const COURSE = Array.from({ length: 30 }, (_, i) => 221 + i);

async function vaccine(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2025-02-11T09:00');
  scenario.writer('sorrel');
  await scenario.receive('ostrivac', {
    from: 'stores',
    number: 'OV6-2412',
    expiry: '2026-02',
    packs: [
      { count: 2, size: '250 mL' },
      { count: 3, size: '100 mL' },
    ],
    price: '148.00 GBP',
    store: 'Dairy refrigerator',
    proof: 'Delivery note DEMO-1033',
  });
  await player.at('2025-02-12T10:00');
  for (const number of COURSE) {
    const given = await scenario.treat(
      'sorrel',
      scenario.animal(number),
      { medicine: 'ostrivac', doseLine: 'start', reason: 'First vaccine, ewe lambs in lamb' },
      { course: { planned: ['2025-02-12', '2025-03-12'] }, site: 'neck', side: 'left' },
    );
    scenario.keepCourse(number, given.course);
  }
}

async function secondDoses(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2025-03-12T10:00');
  for (const number of COURSE) {
    const course = scenario.course(number);
    await scenario.treat(
      'sorrel',
      scenario.animal(number),
      { medicine: 'ostrivac', doseLine: 'start', reason: 'First vaccine, second dose' },
      { site: 'neck', side: 'right', course: { course } },
    );
    await player.write('close-course', { course, state: 'finished', why: 'Both doses given' });
  }
}

async function feet(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2025-02-20T11:00');
  const prescribed = { medicine: 'tarnicol' as const, reason: 'Lame, infection between the claws' };
  const syringe = { capacity: '10 mL', graduation: '0.2 mL' };
  for (const [number, weight] of [
    [33, '59 kg'],
    [102, '74.5 kg'],
    [187, '70 kg'],
  ] as const) {
    await scenario.treat(
      'bram',
      scenario.animal(number),
      { ...prescribed, syringe },
      { weight, site: 'neck', side: 'right', needle: '18 G × 1"' },
    );
    await scenario.treat('bram', scenario.animal(number), {
      medicine: 'bluefell',
      reason: 'Foot pared and sprayed',
    });
  }
}

async function lambing(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2025-03-21T18:00');
  scenario.writer('sorrel');
  const store = 'Lambing shed';
  await scenario.receive('calstrand', {
    from: 'dispensary',
    number: 'CS-510',
    expiry: '2026-09',
    packs: [{ count: 4, size: '100 mL' }],
    price: '31.60 GBP',
    store,
    proof: 'Dispensary slip DEMO-2007',
  });
  await scenario.receive('thrupple', {
    from: 'stores',
    number: 'TP0081',
    expiry: '2026-06',
    packs: [{ count: 4, size: '50 mL' }],
    price: '22.00 GBP',
    store,
    proof: 'Delivery note DEMO-1041',
  });
  await player.at('2025-03-27T03:40');
  await scenario.newLot('Hill lambs 2025', 14, '2025-03-24');
  await scenario.newLot('Low field lambs 2025', 22, '2025-03-23');
  await player.at('2025-03-30T05:15');
  await scenario.treat(
    'keeper',
    scenario.animal(40),
    { medicine: 'calstrand', doseLine: 'vein', reason: 'Down after lambing, twitching' },
    { site: 'neck vein', side: 'left', lost: { amount: '75 mL', why: 'Single use, the rest thrown away' } },
  );
  await scenario.treat(
    'keeper',
    scenario.animal(121),
    { medicine: 'hobbigan', reason: 'Hard lambing' },
    { weight: '76 kg' },
  );
  await scenario.treat(
    'keeper',
    scenario.lot('Low field lambs 2025'),
    { medicine: 'thrupple', reason: 'Weak triplets' },
    { heads: 3 },
  );
  await threeDays(scenario);
  await player.at('2025-04-28T17:00');
  scenario.writer('sorrel');
  await scenario.countLot('Hill lambs 2025', 92, 'Lambing is over, counted in the pens');
  await scenario.countLot('Low field lambs 2025', 134, 'Lambing is over, counted in the pens');
  await scenario.newLot('Late lambs 2025', 38, '2025-04-24');
  await scenario.newLot('Dairy lambs 2025', 30, '2025-04-02');
  await player.write('depart', {
    subjects: [{ subject: scenario.lot('Hill lambs 2025'), heads: 2 }],
    how: 'died',
    happened: '2025-04-27',
  });
  await scenario.tidyCabinet();
}

/** The course of three days that the label prints, in the dairy. */
async function threeDays(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2025-04-02T07:00');
  const single = { medicine: 'pellurin' as const, reason: 'Fever after lambing' };
  const planned = ['2025-04-02T07:00', '2025-04-03T07:00', '2025-04-04T07:00'];
  const first = await scenario.treat('sorrel', scenario.animal(203), single, {
    weight: '72 kg',
    course: { planned },
  });
  const course = first.course;
  if (course === undefined) throw new Error('A course was begun and has no name.');
  for (const day of ['2025-04-03T07:05', '2025-04-04T06:55']) {
    await player.at(day);
    await scenario.treat('sorrel', scenario.animal(203), single, { course: { course } });
  }
  await player.write('close-course', { course, state: 'finished', why: 'Three days given, fever gone' });
}
