import { expect, test } from 'vitest';
import { decisionsOf } from '../../src-main/answers/treat/holds.ts';
import { labelTermsSchema } from '../../src-shared/label/terms.ts';
import { localOf, parseInstant } from '../../src-shared/time/zone.ts';
import type { OrganicRules } from '../../src-shared/withdrawal/organic.ts';

/**
 * The organic clock where the vet states a period: every period is doubled before the longest is chosen. Expected days
 * are derived by hand from the two ways of counting; twice and at least 48 h: Regulation (EU) 2018/848 (second-hand).
 */
const ZONE = 'Europe/Dublin';
const terms = (periods: object[], purpose: string) =>
  labelTermsSchema.parse({
    name: 'Calverol drench',
    form: 'drench',
    kind: 'volume',
    purpose,
    doseLines: [{ id: 'd', route: 'oral', rate: { style: 'rate', text: '5 mL per head' } }],
    periods,
  });

type More = { purpose?: string; marginDays?: number; offLabel?: boolean; rules?: OrganicRules };
function decided(periods: object[], stated: Record<string, string>, more: More = {}) {
  const { food, organic } = decisionsOf(
    {
      holding: { counting: 'later', marginDays: more.marginDays ?? 0, law: 'eu' },
      subject: { class: 'ewe', milking: 1 },
      happened: { local: '2026-01-05T08:00', zone: ZONE },
      stated: new Map(Object.entries(stated)),
      organic: more.rules ?? 'eu-organic',
    },
    [{ terms: terms(periods, more.purpose ?? 'parasites') }],
    { id: 'd', route: 'oral' },
    more.offLabel === true ? [{ code: 'over-label' }] : [],
  );
  const of = (list: typeof food, produce: string) => {
    const one = list.find((each) => each.produce === produce && each.market === 'domestic');
    if (one === undefined) return 'no clock';
    const end = one.until ?? one.atLeast;
    const local = end === undefined ? '' : localOf(parseInstant(end, 'end'), ZONE).slice(0, 16);
    return one.state === 'until' ? local : `${one.state} ${local}`.trim();
  };
  return { meat: [of(food, 'meat'), of(organic, 'meat')], milk: [of(food, 'milk'), of(organic, 'milk')] };
}
const meat = (value: string) => ({ produce: 'meat', says: value === '0 d' ? 'zero' : 'value', value });

test('the vet’s longer period is doubled, the farm’s margin is added once', () => {
  expect(decided([meat('28 d')], { meat: '30 d' }).meat).toEqual(['2026-02-05T00:00', '2026-03-07T00:00']);
  const withMargin = decided([meat('28 d')], { meat: '30 d' }, { marginDays: 2 });
  expect(withMargin.meat).toEqual(['2026-02-07T00:00', '2026-03-09T00:00']);
});

test('a period that does not govern for food governs when all are twice as long', () => {
  // 2 d end on 8 Jan 00:00, 60 h on 7 Jan 20:00; 4 d end on 10 Jan 00:00, and 120 h on 10 Jan 08:00.
  expect(decided([meat('60 h')], { meat: '2 d' }).meat).toEqual(['2026-01-08T00:00', '2026-01-10T08:00']);
});

test('outside the label the least by law is doubled as well, and what the label prints', () => {
  // The label's 28 d are the floor: the vet's 20 d go under it.
  const floor = decided([meat('28 d')], { meat: '20 d' }, { offLabel: true });
  expect(floor.meat).toEqual(['2026-02-03T00:00', '2026-03-03T00:00']);
  // Without a word nothing clears it, on either clock.
  expect(decided([meat('28 d')], {}, { offLabel: true }).meat).toEqual(['unknown', 'unknown']);
});

test('what waits for lambing keeps twice the vet’s days to the day, and no less than 48 h of a zero', () => {
  const milk = { produce: 'milk', says: 'value', value: '36 h', countedFrom: 'lambing' };
  expect(decided([meat('0 d'), milk], { milk: '10 d' }).milk).toEqual([
    'event 2026-01-16T00:00',
    'event 2026-01-26T00:00',
  ]);
  expect(decided([meat('0 d')], { meat: '0 d' }).meat).toEqual(['2026-01-05T08:00', '2026-01-07T08:00']);
});

test('a vaccine is not doubled, and by the rules of the United States only an antibiotic has a second clock', () => {
  const vaccine = decided([meat('28 d')], { meat: '30 d' }, { purpose: 'vaccine' });
  expect(vaccine.meat).toEqual(['2026-02-05T00:00', '2026-02-05T00:00']);
  const us = { rules: 'us-organic' } as const;
  expect(decided([meat('28 d')], { meat: '30 d' }, us).meat).toEqual(['2026-02-05T00:00', 'no clock']);
  const antibiotic = decided([meat('28 d')], { meat: '30 d' }, { ...us, purpose: 'antibiotic' });
  expect(antibiotic.meat).toEqual(['2026-02-05T00:00', 'life']);
});
