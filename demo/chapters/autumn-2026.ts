import { ABATTOIR, LAST_DAY, PEOPLE } from '../farm.ts';
import { CULLED_2026, GROUPS } from '../flock/animals.ts';
import type { Scenario, Work } from '../scenario.ts';
import { DEMO_CODES, serials, stockRound, weeklyRound } from './cabinet-2026.ts';
import { bringWeighings } from './spring-2025.ts';
import { setMilking, weighLot } from './summer-2025.ts';
import { explainTheLostPaper, readyForTheVet } from './vet-review.ts';

/** The last weeks: a declaration, a correction that touches it, and what stands open on the demo's last day. */
export async function autumn2026(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2026-10-07T17:30');
  await bringWeighings(scenario, '2026-10-07');
  await injection(scenario);
  await declaration(scenario);
  await cabinetAtTheEnd(scenario);
  await weeklyRound(scenario);
  await lastDays(scenario);
}

/** The young ewes get the first dose of their vaccine: on the demo's last day the second is due before long. */
async function firstVaccine(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2026-11-05T09:00');
  scenario.writer('sorrel');
  await scenario.receive('ostrivac', {
    from: 'stores',
    number: 'OV6-2608',
    expiry: '2027-10',
    packs: [{ count: 4, size: '100 mL' }],
    price: '121.00 GBP',
    store: 'Dairy refrigerator',
    proof: 'Delivery note DEMO-1241',
  });
  await player.at('2026-11-05T10:30');
  await scenario.work(
    {
      name: 'First vaccine, young ewes',
      medicine: 'ostrivac',
      doseLine: 'start',
      reason: 'First vaccine, before they go to the ram',
      by: 'bram',
      groups: [GROUPS.young],
      line: { syringe: { capacity: '2 mL', graduation: '0.1 mL' } },
      sharpsOut: 8,
    },
    {},
    { sharpsBack: 8 },
  );
}

async function injection(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2026-10-08T09:00');
  scenario.writer('sorrel');
  await scenario.receive('orvethin', {
    from: 'stores',
    number: 'OR3008',
    expiry: '2028-07-31',
    packs: [{ count: 1, size: '250 mL' }],
    price: '112.00 GBP',
    proof: 'Delivery note DEMO-1233',
    store: 'Low shed cupboard',
  });
  await player.at('2026-10-08T10:00');
  await scenario.work(
    {
      name: 'Mites before the ram',
      medicine: 'orvethin',
      reason: 'Mites seen in the bought-in ewes',
      by: 'bram',
      groups: [GROUPS.bought, GROUPS.rams, GROUPS.young],
      line: { syringe: { capacity: '2 mL', graduation: '0.1 mL' } },
      sharpsOut: 20,
    },
    {},
    { sharpsBack: 20 },
  );
  await player.at('2026-10-21T07:00');
  await setMilking(scenario, false);
}

async function declaration(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2026-10-26T17:00');
  scenario.writer('keeper');
  await scenario.split('Low field lambs 2026', 40, 'Finished lambs 2026');
  await weighLot(scenario, 'Finished lambs 2026', '42 kg');
  // A day before they go, as an abattoir there wants it.
  await player.at('2026-10-27T06:00');
  const culled = CULLED_2026.map((number) => ({ subject: scenario.animal(number) }));
  const subjects = [{ subject: scenario.lot('Finished lambs 2026'), heads: 40 }, ...culled];
  await player.write('declare', {
    holding: scenario.holding(),
    to: ABATTOIR,
    departs: '2026-10-28T06:30',
    subjects,
    signer: scenario.person('keeper'),
    answer: 'yes',
    // By the law of the holding: the one thing it asks that no entry can answer.
    content: 'gb',
    facts: {
      diseases:
        'Infection between the claws in single ewes, the last in September 2026 and treated. None is lame now.',
    },
  });
  await player.at('2026-10-28T06:40');
  await player.write('depart', { subjects, how: 'slaughter', to: ABATTOIR });
  await player.at('2026-11-02T19:00');
  scenario.writer('bram');
  const { rows } = await player.ask('book', { from: '2026-09-19', to: '2026-09-19' });
  const row = rows.find((one) => one.subject === scenario.animal(112));
  if (!row) throw new Error('The treatment to be corrected is not in the book.');
  const { notices } = await player.write('correct-treatment', {
    administration: row.administration,
    local: '2026-10-03T12:00',
    reason: 'The pocket book says 3 October, not 19 September',
    // The book asks whether the day is meant: it changes what was told.
    confirmed: ['other-day'],
  });
  if (notices.length === 0) throw new Error('The correction touched no declaration.');
}

/** What a person would find in the cabinet: something of every state. */
async function cabinetAtTheEnd(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2026-11-04T15:00');
  scenario.writer('sorrel');
  const vets = { from: 'dispensary' as const, store: 'Locked cupboard' };
  await scenario.receive('hobbigan', {
    ...vets,
    number: 'HG402',
    expiry: '2027-09',
    packs: [{ count: 2, size: '50 mL' }],
    proof: 'Dispensary slip DEMO-2058',
  });
  await scenario.receive('pellurin', {
    ...vets,
    number: 'PL-140',
    expiry: '2026-12-05',
    packs: [{ count: 2, size: '50 mL' }],
    store: 'Dairy refrigerator',
    proof: 'Dispensary slip DEMO-2058',
  });
  await scenario.receive('winklow', {
    ...vets,
    number: 'WK-19',
    expiry: '2027-02-10',
    packs: [{ count: 1, size: '200 drops' }],
    proof: 'Dispensary slip DEMO-2058',
  });
  // The slip of these two is not in the folder yet: the book says so under what is missing.
  await scenario.receive('ringvale', {
    ...vets,
    number: 'RV-6',
    expiry: '2027-08',
    packs: [{ count: 2, size: '10 sponges' }],
    price: '74.00 GBP',
  });
  await scenario.receive('marlexan', {
    from: 'stores',
    number: 'MX6177',
    expiry: '2028-05',
    packs: [{ count: 1, size: '1 L' }],
    price: '48.50 GBP',
    store: 'Low shed cupboard',
    code: DEMO_CODES.marlexan,
    serials: serials('MX', 1),
    proof: 'Delivery note DEMO-1240',
  });
  await scenario.receive('calstrand', {
    ...vets,
    number: 'CS-655',
    expiry: '2028-01',
    packs: [{ count: 6, size: '100 mL' }],
    store: 'Lambing shed',
    code: DEMO_CODES.calstrand,
    serials: serials('CS', 6),
  });
  await scenario.stock('CB77-3', {
    cause: 'counted',
    amount: '61 boluses',
    why: 'Counted before the winter',
  });
  await scenario.stock('CP-2502-2', {
    cause: 'returned',
    how: 'To the stores, unopened',
    where: PEOPLE.stores.name,
    why: 'The contractor brings his own',
  });
  await scenario.tidyCabinet();
  await firstVaccine(scenario);
  await player.at('2026-11-10T09:00');
  await unread(scenario);
}

/** Two went through the race unread and nobody knows yet who: both are held. */
async function unread(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  const work: Work = {
    name: 'Drench, young ewes',
    medicine: 'marlexan',
    reason: 'Worm eggs counted in the dung',
    by: 'bram',
    groups: [GROUPS.young],
  };
  const unreadOnes = [414, 507, 522].map((number) => scenario.animal(number));
  const { session, heads } = await scenario.workUntilUnread(work, {}, unreadOnes);
  await scenario.close(session, heads + 2, { note: 'Two came through while the reader was off' });
  const { possibly } = await player.ask('session', { session });
  const [first] = possibly;
  if (!first) throw new Error('Nobody is held as possibly treated.');
  await player.write('resolve-possible', {
    hold: first.hold,
    subject: first.subject,
    how: 'not-treated',
    why: 'Was in the sick pen all morning, Sorrel Ackenmere saw it',
  });
}

async function lastDays(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2026-11-12T08:00');
  await scenario.treat('sorrel', scenario.animal(195), {
    medicine: 'ringvale',
    reason: 'To lamb with the early ones',
  });
  await scenario.treat('sorrel', scenario.animal(201), {
    medicine: 'ringvale',
    reason: 'To lamb with the early ones',
  });
  await player.at('2026-11-16T17:00');
  scenario.writer('sorrel');
  await readyForTheVet(scenario);
  await explainTheLostPaper(scenario);
  await scenario.firstLabel('snufflock', 'draft');
  scenario.writer('keeper');
  for (const group of [GROUPS.hill, GROUPS.low, GROUPS.bought]) {
    const { group: id } = await scenario.group(group);
    await player.write('set-group', {
      holding: scenario.holding(),
      group: id,
      name: group,
      dates: { ramIn: '2026-11-16', lambingFrom: '2027-04-12', lambingTo: '2027-05-06' },
    });
  }
  const { group } = await scenario.group(GROUPS.dairy);
  await player.write('set-group', {
    holding: scenario.holding(),
    group,
    name: GROUPS.dairy,
    dates: { dueAwayFrom: '2026-12-01', dueAwayTo: '2026-12-12' },
  });
  await stockRound(scenario);
  await player.at('2026-11-19T18:00');
  await scenario.treat(
    'keeper',
    scenario.animal(127),
    { medicine: 'hobbigan', reason: 'Fever, off her feed' },
    { weight: '71 kg', site: 'neck', side: 'left' },
  );
  // Three days running: the second dose is due on the last day, and nobody has given it yet.
  await scenario.treat(
    'keeper',
    scenario.animal(207),
    { medicine: 'pellurin', reason: 'Hot udder, as the vet said on the telephone' },
    {
      weight: '68 kg',
      site: 'neck',
      side: 'right',
      course: { planned: ['2026-11-19T18:00', '2026-11-20T18:00', '2026-11-21T18:00'] },
    },
  );
  await weighLot(scenario, 'Late lambs 2026', '34 kg');
  // The work of the last day is still open: some are done, the others wait.
  await player.at(`${LAST_DAY}T09:30`);
  const session = await scenario.open({
    name: 'Drench before housing',
    medicine: 'marlexan',
    reason: 'Before housing',
    by: 'bram',
    groups: [GROUPS.hill],
  });
  for (const number of [1, 2, 3, 4, 6, 7, 8]) {
    await player.write('treat', { session, subject: scenario.animal(number) });
  }
  await player.at(`${LAST_DAY}T11:00`);
}
