import { FIRST_DAY, START } from '../farm.ts';
import { GROUPS } from '../flock/animals.ts';
import { MEDICINES, type MedicineKey } from '../medicines/all.ts';
import type { Scenario } from '../scenario.ts';

/** The book is started, the cabinet filled, and the flock comes in by three files of three shapes. */
export async function autumn2024(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at(`${FIRST_DAY}T13:30`);
  await scenario.start({
    ...START,
    holding: { ...START.holding, places: [...START.holding.places] },
    keeper: { ...START.keeper, roles: [...START.keeper.roles] },
  });
  scenario.writer('sorrel');
  // Snufflock is typed in at the very end, and is still a draft then.
  for (const key of Object.keys(MEDICINES) as MedicineKey[]) {
    if (key !== 'snufflock') await scenario.firstLabel(key);
  }
  await player.at('2024-11-19T09:00');
  await firstStock(scenario);
  await player.at('2024-11-19T16:00');
  await flockFiles(scenario);
  await player.at('2024-11-20T08:30');
  scenario.writer('keeper');
  await scenario.dates(GROUPS.hill, { ramIn: '2024-11-20' });
  await scenario.dates(GROUPS.low, { ramIn: '2024-11-20' });
  await scenario.dates(GROUPS.dairy, { ramIn: '2024-11-20' });
  await player.at('2024-11-26T10:00');
  await scenario.work(
    {
      name: 'Rams, mites',
      medicine: 'orvethin',
      reason: 'Scratching, mites seen by the vet',
      by: 'bram',
      groups: [GROUPS.rams],
      line: { syringe: { capacity: '5 mL', graduation: '0.1 mL' } },
      sharpsOut: 12,
    },
    {},
    { sharpsBack: 12 },
  );
}

async function firstStock(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  const stores = { from: 'stores' as const, store: 'Low shed cupboard' };
  const vets = { from: 'dispensary' as const, store: 'Locked cupboard' };
  await scenario.receive('grennovex', {
    ...stores,
    number: 'GV4107',
    expiry: '2026-05',
    packs: [{ count: 2, size: '2.5 L' }],
    price: '184.00 GBP',
    proof: 'Delivery note DEMO-1011',
  });
  await scenario.receive('orvethin', {
    ...stores,
    number: 'OR2290',
    expiry: '2026-08',
    packs: [{ count: 2, size: '50 mL' }],
    price: '61.40 GBP',
    proof: 'Delivery note DEMO-1011',
  });
  await scenario.receive('cobrellen', {
    ...stores,
    number: 'CB77',
    expiry: '2027-11',
    packs: [{ count: 3, size: '100 boluses' }],
    price: '212.70 GBP',
  });
  await scenario.receive('merridust', {
    ...stores,
    number: 'MD-19-4',
    expiry: '2025-09-30',
    packs: [{ count: 2, size: '500 g' }],
    price: '18.00 GBP',
    proof: 'Delivery note DEMO-1011',
  });
  await scenario.receive('hornbeck', {
    ...stores,
    number: 'HB-3001',
    expiry: '2029-12',
    packs: [{ count: 1, size: '20 kg' }],
    price: '44.00 GBP',
    proof: 'Dispensary slip DEMO-2001',
  });
  const { prescription } = await player.write('record-prescription', {
    number: 'DEMO-RX-0117',
    vet: scenario.person('vet'),
    medicine: scenario.medicine('tarnicol'),
    quantity: '200 mL',
    written: '2024-11-18',
    validUntil: '2025-05-18',
    animals: 'Lame ewes of the hill and low field flocks',
    dose: '1 mL for each 10 kg, once',
    period: 'As on the label',
    diagnosis: 'Infection between the claws',
  });
  await scenario.receive('tarnicol', {
    ...vets,
    number: 'TN0452',
    expiry: '2025-12',
    packs: [{ count: 2, size: '100 mL' }],
    price: '96.20 GBP',
    prescription,
    proof: 'Dispensary slip DEMO-2001',
  });
  await scenario.receive('pellurin', {
    ...vets,
    number: 'PL-88',
    expiry: '2025-10-31',
    packs: [{ count: 3, size: '50 mL' }],
    price: '27.90 GBP',
    store: 'Dairy refrigerator',
    proof: 'Dispensary slip DEMO-2001',
  });
  await scenario.receive('hobbigan', {
    ...vets,
    number: 'HG331',
    expiry: '2026-03',
    packs: [{ count: 1, size: '50 mL' }],
    proof: 'Dispensary slip DEMO-2001',
  });
  await scenario.receive('bluefell', {
    ...vets,
    number: 'BF1200',
    expiry: '2026-12',
    packs: [{ count: 4, size: '200 mL' }],
    proof: 'Dispensary slip DEMO-2001',
  });
  await scenario.receive('tallowmint', {
    ...vets,
    number: 'TM9',
    expiry: '2027-01',
    packs: [{ count: 1, size: '40 tablets' }],
    proof: 'Dispensary slip DEMO-2001',
  });
}

async function flockFiles(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  const base = { holding: scenario.holding(), standing: 'none-running' as const };
  const dmy = { dateOrder: 'dmy' as const };
  for (const name of ['flock-2024-11.csv', 'ewe-lambs-2024-11.csv', 'rams-2024-11.csv']) {
    await player.write('import-animals', {
      ...base,
      file: player.file(name),
      // The rams' list has a column of names that serve as their short numbers.
      ...(name.startsWith('rams') ? { columns: { management: 1 } } : {}),
      options: dmy,
    });
  }
  await scenario.learnAnimals();
}
