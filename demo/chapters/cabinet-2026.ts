import type { Reply } from '../../src-shared/calls/all.ts';
import { PEOPLE } from '../farm.ts';
import { GROUPS } from '../flock/animals.ts';
import type { Scenario } from '../scenario.ts';

/** Pack codes of the demo: their prefix is the one that is set apart for examples. */
export const DEMO_CODES = { marlexan: '09520001000010', calstrand: '09520001000027' } as const;

/** Serial numbers of so many packs that were scanned. */
export function serials(start: string, count: number): string[] {
  return Array.from({ length: count }, (_, n) => `${start}${String(n + 1).padStart(3, '0')}`);
}

/** Round the stores in the second week of November: thermometers, the drawer, a gun, and what is to come. */
export async function weeklyRound(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2026-11-11T08:30');
  scenario.writer('sorrel');
  const store = 'Dairy refrigerator';
  await player.write('record-storage', { store, least: '3.1', most: '7.2', happened: '2026-11-06T08:00' });
  await player.write('record-storage', { store, least: '2.9', most: '7.6' });
  await player.write('record-storage', { store: 'Low shed cupboard', least: '4.5', most: '14' });
  await drawer(scenario);
  await workAhead(scenario);
}

async function drawer({ player }: Scenario): Promise<void> {
  const needle = await player.write('set-consumable', {
    what: 'needle',
    gauge: '18',
    lengthIn: '1/2',
    least: 30,
    count: 120,
  });
  await player.write('set-consumable', { what: 'syringe', name: '2 mL', least: 10, count: 24 });
  await player.write('set-consumable', { what: 'sharps-box', name: 'Sharps box, 1 L', least: 1, count: 1 });
  await player.write('set-consumable', { what: 'marking-spray', name: 'Blue spray', least: 2, count: 1 });
  await player.write('move-consumable', {
    consumable: needle.consumable,
    cause: 'counted',
    pieces: 96,
    why: 'Counted with the shelf',
  });
  const { equipment } = await player.write('set-equipment', {
    what: 'gun',
    name: 'Drench gun, green handle',
    capacity: '20 mL',
    graduation: '0.5 mL',
    drawsBack: false,
    priming: '25 mL',
  });
  await player.write('check-gun', { equipment, setTo: '10 mL', shots: 10, total: '100 mL' });
}

/** What is foreseen for the spring, and how its medicine is bought. */
async function workAhead(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  const { group } = await scenario.group(GROUPS.hill);
  const medicine = scenario.medicine('ostrivac');
  await player.write('foresee-work', {
    medicine,
    name: 'Booster before lambing',
    on: '2027-03-10',
    group,
    doseLine: 'booster',
  });
  await player.write('set-supply', {
    medicine,
    supplier: PEOPLE.stores.name,
    packs: [
      { size: '100 mL', price: '30.25 GBP' },
      { size: '250 mL', price: '66.00 GBP' },
    ],
    leadDays: '7',
  });
}

/** A bottle that was taken along and stood too warm, and the shelf counted with what is missing and why. */
export async function stockRound(scenario: Scenario): Promise<void> {
  const { player } = scenario;
  await player.at('2026-11-17T06:30');
  scenario.writer('sorrel');
  await scenario.stock('PL-140-2', {
    cause: 'carried',
    store: 'Cool box',
    why: 'Taken along to the far bank',
  });
  await player.at('2026-11-18T09:00');
  await player.write('record-storage', { store: 'Cool box', least: '4.1', most: '14.5' });
  await player.at('2026-11-18T14:00');
  const { stores } = await player.ask('stocktake-sheet', { store: 'Low shed cupboard' });
  const rows = stores.flatMap(({ containers }) => containers).filter((row) => !row.isBelowNone);
  const begun = rows.filter((row) => row.state === 'open' && row.left.amount.kind === 'volume');
  await player.write('write-stocktake', {
    counts: rows.map((row) => {
      const container = row.container;
      if (row === begun[0]) return { container, ...less(row, 20_000), difference: 'priming' as const };
      if (row === begun[1]) return { container, ...less(row, 5000), difference: 'not-known' as const };
      return { container, amount: row.left.text };
    }),
  });
}

type Row = Reply<'stocktake-sheet'>['stores'][number]['containers'][number];

/** So many microlitres less than the book has. */
function less({ left: { amount } }: Row, microlitres: number): { amount: string } {
  const has = amount.kind === 'volume' ? amount.microlitres : 0;
  return { amount: `${Math.max(0, has - microlitres) / 1000} mL` };
}
