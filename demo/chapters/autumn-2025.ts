import { MART } from '../farm.ts';
import { GROUPS, SOLD_2025, TAGGED } from '../flock/animals.ts';
import { ORVETHIN_AS_PRINTED } from '../medicines/all.ts';
import type { Scenario } from '../scenario.ts';
import { bringWeighings } from './spring-2025.ts';
import { setMilking } from './summer-2025.ts';

/** First full autumn: ewes bought in, lambs tagged, the mite injection, and a label that had been typed wrongly. */
export async function autumn2025(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await boughtIn(scenario);
  await player.at('2025-10-02T10:00');
  scenario.writer('sorrel');
  await tagLambs(scenario, 'Low field lambs 2025', TAGGED[2025]);
  await player.at('2025-10-08T17:00');
  await bringWeighings(scenario, '2025-10-08');
  await injection(scenario);
  await player.at('2025-10-20T08:00');
  scenario.writer('keeper');
  await player.write('depart', {
    subjects: SOLD_2025.map((number) => ({ subject: scenario.animal(number) })),
    how: 'sold',
    to: MART,
  });
  await dryOff(scenario);
  await correctedLabel(scenario);
  await beforeWinter(scenario);
}

/** Lambs kept for the flock get their tags, and join the young ewes. */
export async function tagLambs(
  scenario: Scenario,
  from: string,
  ears: readonly { number: number }[],
): Promise<void> {
  for (const { number } of ears) await scenario.tag(from, number);
  const { group } = await scenario.group(GROUPS.young);
  await scenario.player.write('set-group', {
    holding: scenario.holding(),
    group,
    name: GROUPS.young,
    add: ears.map(({ number }) => scenario.animal(number)),
  });
}

/** The seller's word ends the hold of those it names; two came without a word, and stay held. */
async function boughtIn(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2025-09-16T18:00');
  scenario.writer('sorrel');
  await player.write('import-animals', {
    holding: scenario.holding(),
    file: player.file('bought-in-2025-09.csv'),
    standing: 'unknown',
    options: { dateOrder: 'dmy' },
  });
  await scenario.learnAnimals();
  await player.at('2025-09-17T09:00');
  await scenario.work({
    name: 'Bought-in ewes, on arrival',
    medicine: 'marlexan',
    reason: 'Drenched before they meet the flock',
    by: 'bram',
    groups: [GROUPS.bought],
  });
  await player.at('2025-09-24T15:00');
  scenario.writer('keeper');
  for (let number = 1; number <= 38; number += 1) {
    const subject = scenario.animal(number, 'bought');
    const { holds } = await player.ask('subject', { subject });
    const standing = holds.find((hold) => hold.cause === 'bought-in' && hold.state === 'unknown');
    if (!standing) throw new Error(`Bought-in ewe ${number} is not held.`);
    await player.write('resolve-possible', {
      hold: standing.source.slice('hold:'.length),
      subject,
      how: 'statement',
      why: 'The seller’s letter of 22 Sep 2025: nothing given since 1 Jul 2025',
    });
  }
}

async function injection(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2025-10-09T08:00');
  scenario.writer('sorrel');
  await scenario.receive('orvethin', {
    from: 'stores',
    number: 'OR2711',
    expiry: '2027-09',
    packs: [{ count: 2, size: '250 mL' }],
    price: '214.00 GBP',
    proof: 'Delivery note DEMO-1102',
    store: 'Low shed cupboard',
  });
  await player.at('2025-10-09T09:00');
  const session = await scenario.open({
    name: 'Mites before the ram',
    medicine: 'orvethin',
    reason: 'Mites seen in September',
    by: 'bram',
    groups: [GROUPS.hill, GROUPS.low],
    line: { syringe: { capacity: '2 mL', graduation: '0.1 mL' } },
    sharpsOut: 40,
  });
  // The first pen came over the scale one by one; the rest went by the weights of the day before.
  for (let number = 1; number <= 16; number += 1) {
    const subject = scenario.animal(number);
    const { who } = await player.ask('dose-for', { session, subject });
    if (who.heads === 0) continue;
    const side = number % 2 === 0 ? 'left' : 'right';
    await player.write('treat', {
      session,
      subject,
      site: 'behind the shoulder',
      side,
      needle: '18 G × 1/2"',
    });
  }
  const { heads } = await player.write('treat-many', {
    session,
    except: [{ subject: scenario.animal(77), why: 'To be sold next week' }],
  });
  await scenario.close(session, heads + 16, {
    notThrough: [scenario.animal(77)],
    sharpsBack: 39,
    note: 'One needle did not come back',
  });
  // Nobody could say in whom it was, so everybody treated that day was held until it lay in the straw.
  await player.at('2025-10-10T08:30');
  const { losses } = await player.ask('needle-losses', { session, open: true });
  for (const { loss } of losses) {
    await player.write('needle-finding', {
      loss,
      finding: 'found',
      why: 'Found whole, bent, in the straw of the holding pen',
    });
  }
}

async function dryOff(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2025-10-27T16:00');
  scenario.writer('sorrel');
  const { prescription } = await player.write('record-prescription', {
    number: 'DEMO-RX-0241',
    vet: scenario.person('vet'),
    medicine: scenario.medicine('lactorin'),
    quantity: '40 tubes',
    written: '2025-10-24',
    validUntil: '2026-04-24',
    animals: 'Milking ewes with a high cell count',
    diagnosis: 'Udder infection',
  });
  await scenario.receive('lactorin', {
    from: 'dispensary',
    number: 'LT-0610',
    expiry: '2026-10',
    packs: [{ count: 2, size: '20 tubes' }],
    price: '118.00 GBP',
    prescription,
    store: 'Dairy cupboard',
    proof: 'Dispensary slip DEMO-2019',
  });
  await setMilking(scenario, false);
  await player.at('2025-10-28T07:30');
  await scenario.work({
    name: 'Drying off',
    medicine: 'lactorin',
    reason: 'High cell count',
    by: 'sorrel',
    subjects: [191, 194, 197, 200, 203, 209, 212, 218].map((number) => scenario.animal(number)),
    line: { prescription },
  });
}

async function correctedLabel(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2025-11-05T14:00');
  scenario.writer('sorrel');
  await player.write('set-label', {
    act: 'typed-wrongly',
    medicine: scenario.medicine('orvethin'),
    revision: scenario.revision('orvethin'),
    terms: ORVETHIN_AS_PRINTED,
    why: 'The insert says 35 days for meat; 28 had been typed',
  });
}

/** The young ewes of 2024 are ewes now; the ram goes in; the last lambs of the year are sold. */
async function beforeWinter(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2025-11-06T15:00');
  scenario.writer('keeper');
  const holding = scenario.holding();
  const grown: string[] = [];
  for (let number = 221; number <= 300; number += 1) {
    const subject = scenario.animal(number);
    grown.push(subject);
    await player.write('set-animal', { holding, animal: subject.slice('animal:'.length), class: 'ewe' });
  }
  const young = await scenario.group(GROUPS.young);
  await player.write('set-group', { holding, group: young.group, name: GROUPS.young, remove: grown });
  const low = await scenario.group(GROUPS.low);
  await player.write('set-group', { holding, group: low.group, name: GROUPS.low, add: grown });
  for (const group of [GROUPS.hill, GROUPS.low, GROUPS.dairy, GROUPS.bought]) {
    // The dates of another year are taken out with the new ones.
    const { group: id } = await scenario.group(group);
    await player.write('set-group', { holding, group: id, name: group, dates: { ramIn: '2025-11-06' } });
  }
  await player.at('2025-11-24T07:00');
  const left = [
    ['Hill lambs 2025', 32],
    ['Hill lambs 2025, blue rump', 60],
    ['Low field lambs 2025', 44],
    ['Late lambs 2025', 26],
    ['Dairy lambs 2025', 30],
  ] as const;
  await player.write('depart', {
    subjects: left.map(([name, heads]) => ({ subject: scenario.lot(name), heads })),
    how: 'sold',
    to: MART,
  });
  await player.at('2025-12-03T10:00');
  await scenario.stock('CB77-1', {
    cause: 'counted',
    amount: '8 boluses',
    why: 'Counted at the end of the year',
  });
  await scenario.tidyCabinet();
}
