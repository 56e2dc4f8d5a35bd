import { MART } from '../farm.ts';
import { GROUPS } from '../flock/animals.ts';
import type { Scenario } from '../scenario.ts';
import { bringWeighings } from './spring-2025.ts';

/** First summer: pour-on with a mark, shearing, weaning, and the first stores sold. */
export async function summer2025(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2025-05-05T16:00');
  scenario.writer('sorrel');
  await scenario.receive('cradmoor', {
    from: 'stores',
    number: 'CP-2502',
    expiry: '2027-02',
    packs: [{ count: 2, size: '2.5 L' }],
    price: '139.90 GBP',
    proof: 'Delivery note DEMO-1060',
    store: 'Low shed cupboard',
  });
  await weighLot(scenario, 'Hill lambs 2025', '15.5 kg');
  await weighLot(scenario, 'Low field lambs 2025', '17.2 kg');
  await player.at('2025-05-06T10:00');
  // The gun ran dry before the end: those done were marked, and are a lot of their own from here on.
  await scenario.work(
    {
      name: 'Ticks, hill lambs',
      medicine: 'cradmoor',
      reason: 'Ticks on the far bank',
      by: 'bram',
      subjects: [scenario.lot('Hill lambs 2025')],
      mark: { colour: 'blue', place: 'rump', lastsDays: 28 },
    },
    { tally: [{ subject: scenario.lot('Hill lambs 2025'), heads: 60, marked: true }] },
  );
  await scenario.learnLots();
  await player.at('2025-05-20T06:30');
  await setMilking(scenario, true);
  await smallThings(scenario);
  await player.at('2025-06-24T19:00');
  scenario.writer('keeper');
  for (const group of [GROUPS.hill, GROUPS.low, GROUPS.young, GROUPS.rams]) {
    await scenario.dates(group, { shorn: '2025-06-24' });
  }
  await weaning(scenario);
  await stores(scenario);
}

/** A weight a head, taken from a few that went over the scale. Lambs grow: the question about a jump is answered. */
export function weighLot(scenario: Scenario, name: string, weight: string) {
  const said = { subject: scenario.lot(name), weight, how: 'scale' as const };
  return scenario.player.write('weigh', { ...said, confirmed: ['weight-jump'] });
}

/** The ewes of the dairy come into milk, or are dried off. */
export async function setMilking(scenario: Scenario, milking: boolean): Promise<void> {
  scenario.writer('sorrel');
  for (const subject of await scenario.members(GROUPS.dairy)) {
    await scenario.player.write('set-animal', {
      holding: scenario.holding(),
      animal: subject.slice('animal:'.length),
      class: 'ewe',
      milking,
    });
  }
}

async function smallThings(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2025-05-29T18:20');
  await scenario.treat(
    'sorrel',
    scenario.animal(197),
    {
      medicine: 'pellurin',
      reason: 'Hard udder, left half',
      syringe: { capacity: '5 mL', graduation: '0.2 mL' },
    },
    { weight: '66 kg', site: 'neck', side: 'left' },
  );
  await player.at('2025-06-03T09:10');
  scenario.writer('sorrel');
  await scenario.receive('winklow', {
    from: 'dispensary',
    number: 'WK-7',
    expiry: '2025-12-15',
    packs: [{ count: 2, size: '200 drops' }],
    store: 'Dairy refrigerator',
    proof: 'Dispensary slip DEMO-2012',
  });
  await scenario.treat('sorrel', scenario.animal(209), { medicine: 'winklow', reason: 'Sore eyes' });
  await player.at('2025-06-11T20:00');
  await scenario.treat('keeper', scenario.animal(606), {
    medicine: 'tallowmint',
    reason: 'Blown after the orchard',
  });
  await player.at('2025-06-12T08:00');
  await scenario.stock('PL-88-3', { cause: 'lost', amount: '50 mL', why: 'Fell from the shelf and broke' });
  await scenario.stock('HB-3001-1', { cause: 'lost', amount: '750 g', why: 'The sack was torn' });
}

async function weaning(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2025-07-22T17:00');
  await bringWeighings(scenario, '2025-07-22');
  await scenario.receive('marlexan', {
    from: 'stores',
    number: 'MX5512',
    expiry: '2027-04',
    packs: [{ count: 2, size: '1 L' }],
    price: '88.00 GBP',
    store: 'Low shed cupboard',
    proof: 'Delivery note DEMO-1074',
  });
  const marked = 'Hill lambs 2025, blue rump';
  await weighLot(scenario, 'Hill lambs 2025', '25.5 kg');
  await weighLot(scenario, marked, '26 kg');
  await weighLot(scenario, 'Low field lambs 2025', '29.4 kg');
  await weighLot(scenario, 'Late lambs 2025', '22 kg');
  await player.at('2025-07-23T11:00');
  await scenario.work(
    {
      name: 'Weaning drench',
      medicine: 'marlexan',
      reason: 'Worm eggs counted in the dung',
      by: 'bram',
      subjects: ['Hill lambs 2025', marked, 'Low field lambs 2025', 'Late lambs 2025'].map(scenario.lot),
    },
    { lost: { amount: '20 mL', why: 'Priming the gun' } },
  );
  await player.at('2025-08-01T09:00');
  await scenario.treat(
    'bram',
    scenario.lot('Late lambs 2025'),
    { medicine: 'merridust', reason: 'Scouring' },
    { heads: 5 },
  );
}

async function stores(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2025-08-12T10:30');
  await scenario.work({
    name: 'Boluses, lambs',
    medicine: 'cobrellen',
    reason: 'Poor thrive on the far bank',
    by: 'bram',
    subjects: [scenario.lot('Hill lambs 2025'), scenario.lot('Hill lambs 2025, blue rump')],
  });
  await player.at('2025-08-25T18:00');
  scenario.writer('keeper');
  await scenario.split('Low field lambs 2025', 60, 'Store lambs 2025');
  await scenario.merge('Late lambs 2025', 12, 'Store lambs 2025');
  await player.at('2025-08-26T07:00');
  await player.write('depart', {
    subjects: [{ subject: scenario.lot('Store lambs 2025'), heads: 72 }],
    how: 'sold',
    to: MART,
  });
  await scenario.tidyCabinet();
}
