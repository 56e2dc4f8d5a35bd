import { MART } from '../farm.ts';
import { GROUPS, TAGGED } from '../flock/animals.ts';
import { MARLEXAN_NEW_INSERT } from '../medicines/all.ts';
import type { Scenario } from '../scenario.ts';
import { tagLambs } from './autumn-2025.ts';
import { bringWeighings } from './spring-2025.ts';
import { setMilking, weighLot } from './summer-2025.ts';

/** Second summer: a new insert in the box, the contractor's pour-on, weaning, stores, and the lambs that are kept. */
export async function summer2026(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2026-05-06T09:00');
  scenario.writer('sorrel');
  await weighLot(scenario, 'Hill lambs 2026', '16 kg');
  await player.at('2026-05-18T06:30');
  await setMilking(scenario, true);
  await player.at('2026-05-27T10:00');
  // The contractor's own drum and his own hands; the hold is the same as from our bottle.
  await scenario.work(
    {
      name: 'Ticks, hill lambs, contractor',
      medicine: 'cradmoor',
      reason: 'Ticks on the far bank',
      by: 'sorrel',
      subjects: [scenario.lot('Hill lambs 2026')],
      line: { source: 'contractor', batch: 'HEX-26-2' },
    },
    { givenBy: scenario.person('contractor') },
  );
  await newInsert(scenario);
  await player.at('2026-06-22T18:00');
  scenario.writer('keeper');
  for (const group of [GROUPS.hill, GROUPS.low, GROUPS.young, GROUPS.rams, GROUPS.bought]) {
    await scenario.dates(group, { shorn: '2026-06-22' });
  }
  await player.at('2026-07-02T18:30');
  await scenario.treat(
    'sorrel',
    scenario.animal(215),
    { medicine: 'pellurin', source: 'vet', batch: 'VET-4107', reason: 'Hard udder, right half' },
    {
      weight: '68 kg',
      givenBy: scenario.person('vet'),
      site: 'neck',
      side: 'right',
    },
  );
  await weaning(scenario);
  await storesAndKept(scenario);
}

async function newInsert(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2026-06-09T15:00');
  scenario.writer('sorrel');
  await scenario.receive('marlexan', {
    from: 'stores',
    number: 'MX6120',
    expiry: '2028-03',
    packs: [{ count: 3, size: '1 L' }],
    price: '141.00 GBP',
    insert: { terms: MARLEXAN_NEW_INSERT },
    proof: 'Delivery note DEMO-1201',
    store: 'Low shed cupboard',
  });
  await scenario.receive('bluefell', {
    from: 'dispensary',
    number: 'BF1388',
    expiry: '2028-02',
    packs: [{ count: 2, size: '200 mL' }],
    store: 'Locked cupboard',
    proof: 'Dispensary slip DEMO-2044',
  });
}

async function weaning(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2026-07-21T17:30');
  await bringWeighings(scenario, '2026-07-21');
  await weighLot(scenario, 'Hill lambs 2026', '26.5 kg');
  await weighLot(scenario, 'Low field lambs 2026', '31 kg');
  await weighLot(scenario, 'Late lambs 2026', '23.5 kg');
  await weighLot(scenario, 'Dairy lambs 2026', '28 kg');
  await player.at('2026-07-22T10:00');
  await scenario.work(
    {
      name: 'Weaning drench',
      medicine: 'marlexan',
      reason: 'Worm eggs counted in the dung',
      by: 'bram',
      subjects: ['Hill', 'Low field', 'Late', 'Dairy'].map((name) => scenario.lot(`${name} lambs 2026`)),
    },
    { lost: { amount: '20 mL', why: 'Priming the gun' } },
  );
  await player.at('2026-08-04T09:30');
  await scenario.work({
    name: 'Boluses, lambs',
    medicine: 'cobrellen',
    reason: 'Poor thrive on the far bank',
    by: 'bram',
    subjects: [scenario.lot('Hill lambs 2026')],
  });
  await scenario.treat('bram', scenario.animal(92), {
    medicine: 'bluefell',
    reason: 'Foot pared and sprayed',
  });
}

async function storesAndKept(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2026-08-31T18:00');
  scenario.writer('keeper');
  await scenario.split('Low field lambs 2026', 24, 'Store lambs 2026');
  await player.at('2026-09-01T07:00');
  await player.write('depart', {
    subjects: [{ subject: scenario.lot('Store lambs 2026'), heads: 24 }],
    how: 'sold',
    to: MART,
  });
  await player.at('2026-09-15T16:30');
  scenario.writer('bram');
  await player.write('depart', {
    subjects: [{ subject: scenario.lot('Hill lambs 2026'), heads: 1 }],
    how: 'lost',
    happened: '2026-09-14',
  });
  await player.at('2026-09-19T12:00');
  // Written under the wrong day, which comes out after she was declared.
  await scenario.treat(
    'bram',
    scenario.animal(112),
    { medicine: 'tarnicol', reason: 'Lame, infection between the claws' },
    { weight: '66 kg', site: 'neck', side: 'left' },
  );
  await player.at('2026-10-01T10:00');
  scenario.writer('sorrel');
  await tagLambs(scenario, 'Low field lambs 2026', TAGGED[2026]);
}
