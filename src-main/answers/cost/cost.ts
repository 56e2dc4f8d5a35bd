import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import type { Reader } from '../../store/store.ts';
import type { Context } from '../context.ts';
import { optional } from '../optional.ts';
import { daysOf } from '../reading/days.ts';
import { medicineName } from '../reading/labels.ts';
import { subjectsOf } from '../reading/subjects.ts';
import { isLost, type Move, movesOf } from './moves.ts';
import { type UnitPrice, unitPrices } from './prices.ts';
import { alone, inMinorUnits, type Money, perEach, priced, tally, type Units } from './tally.ts';
import { fromOthers, notWritten, withoutPrice } from './unknown.ts';

type Cost = Reply<'cost'>;

/** Answers `cost`. Refuses (`bad-day`, `dates-crossed`). */
export function cost({ store }: Context, asked: Asked<'cost'>): Cost {
  const tx = store.read;
  const { from, to } = daysOf(asked);
  const priceOf = unitPrices(tx);
  const moves = movesOf(tx, from, to);
  const given = moves.filter(({ cause }) => cause === 'drawn');
  const lost = moves.filter(isLost);
  const subjects = bySubject(tx, given, priceOf).toSorted(dearestFirst);
  const words = searchKey(asked.search)
    .split(' ')
    .filter((word) => word !== '');
  const found = subjects.filter(({ shown }) => words.every((word) => searchKey(shown).includes(word)));
  const medicines = byMedicine(tx, given, lost, priceOf);
  return {
    from,
    to,
    total: medicines.total,
    lost: medicines.lost,
    medicines: medicines.rows,
    groups: byGroup(tx, given, priceOf),
    subjectsInAll: subjects.length,
    subjectsFound: found.length,
    subjects: found.slice(0, asked.most),
    unknown: [
      ...withoutPrice(tx, [...given, ...lost], priceOf),
      ...notWritten(tx, moves),
      ...fromOthers(tx, from, to),
    ],
  };
}

type PriceOf = (container: string) => UnitPrice | undefined;

function byMedicine(tx: Reader, given: readonly Move[], lost: readonly Move[], priceOf: PriceOf) {
  const used = new Map<string, Units>();
  const wasted = new Map<string, Units>();
  for (const { medicine, container, units } of given) tally(used, medicine, container, units);
  for (const { medicine, container, units } of lost) tally(wasted, medicine, container, units);
  const names = [...new Set([...used.keys(), ...wasted.keys()])]
    .map((medicine) => ({ medicine, name: medicineName(tx, medicine) }))
    .toSorted((a, b) => a.name.localeCompare(b.name, 'en'));
  const costs = names.map(({ medicine }) => priced(used.get(medicine), priceOf));
  const losses = names.map(({ medicine }) => atLeastNone(priced(wasted.get(medicine), priceOf)));
  const shown = inMinorUnits(costs);
  const shownLost = inMinorUnits(losses);
  const rows = names.map(({ medicine, name }, i): Cost['medicines'][number] => {
    const doses = dosesOf(given.filter((move) => move.medicine === medicine));
    const one = costs[i] ?? { exact: new Map(), isPart: false };
    return {
      medicine,
      name,
      doses,
      cost: shown.rows[i] ?? [],
      perDose: one.isPart ? [] : ofEach(shown.rows[i] ?? [], one, doses),
      lost: shownLost.rows[i] ?? [],
      isPart: one.isPart,
    };
  });
  return { rows, total: shown.total, lost: shownLost.total };
}

/** Found again more than was lost in the period: nothing was lost, and nothing is earned either. */
function atLeastNone(row: ReturnType<typeof priced>): ReturnType<typeof priced> {
  return { ...row, exact: new Map([...row.exact].filter(([, sum]) => sum.n > 0n)) };
}

/** Heads of the treatments, each treatment once however many bottles it was drawn from. */
function dosesOf(moves: readonly Move[]): number {
  const heads = new Map(moves.map((move) => [move.administration, move.heads ?? 0]));
  return [...heads.values()].reduce((sum, one) => sum + one, 0);
}

/** Most heads of a subject that were treated at once: a lot of 40 treated twice is 40 head. */
function headsOf(moves: readonly Move[]): number {
  const heads = new Map<string, number>();
  for (const { treated, heads: many } of moves) {
    if (treated !== null) heads.set(treated, Math.max(heads.get(treated) ?? 0, many ?? 0));
  }
  return [...heads.values()].reduce((sum, one) => sum + one, 0);
}

function bySubject(tx: Reader, given: readonly Move[], priceOf: PriceOf): Cost['subjects'] {
  const used = new Map<string, Units>();
  const moves = new Map<string, Move[]>();
  for (const move of given) {
    if (move.treated === null) continue;
    tally(used, move.treated, move.container, move.units);
    const list = moves.get(move.treated);
    if (list) list.push(move);
    else moves.set(move.treated, [move]);
  }
  const names = new Map(subjectsOf(tx, [...used.keys()]).map((row) => [row.subject, row.shown]));
  const keys = [...used.keys()];
  const costs = keys.map((subject) => priced(used.get(subject), priceOf));
  const shown = inMinorUnits(costs);
  return keys.map((subject, i): Cost['subjects'][number] => {
    const heads = headsOf(moves.get(subject) ?? []);
    const one = costs[i] ?? { exact: new Map(), isPart: false };
    return {
      subject,
      shown: names.get(subject) ?? subject,
      heads,
      cost: shown.rows[i] ?? [],
      perHead: one.isPart ? [] : ofEach(shown.rows[i] ?? [], one, heads),
      isPart: one.isPart,
    };
  });
}

/** What one costs. Of a single one that is what the row says, which may be a minor unit off so that the rows add up. */
function ofEach(row: Money, one: ReturnType<typeof priced>, count: number): Money {
  return count === 1 ? row : perEach(one, count);
}

/** By the first currency, which is nearly always the only one; what is not known comes last. */
function dearestFirst(a: Cost['subjects'][number], b: Cost['subjects'][number]): number {
  const worth = ({ cost: money }: typeof a) => money[0]?.minorUnits ?? -1;
  return worth(b) - worth(a);
}

type Membership = { group: string; name: string; member: string; from_at: string; until_at: string };

function byGroup(tx: Reader, given: readonly Move[], priceOf: PriceOf): Cost['groups'] {
  const memberships = new Map<string, Membership[]>();
  const names = new Map<string, string>();
  for (const one of tx.all<Membership>(
    `SELECT g.id AS "group", g.name, m.member, m.from_at, m.until_at
     FROM membership AS m JOIN flock_group AS g ON g.subject = m.subject`,
  )) {
    names.set(one.group, one.name);
    const list = memberships.get(one.member);
    if (list) list.push(one);
    else memberships.set(one.member, [one]);
  }
  const rows = new Map<string, Move[]>();
  for (const move of given) {
    const at = move.at ?? '';
    const of = (memberships.get(move.treated ?? '') ?? [])
      .filter((one) => one.from_at <= at && at < one.until_at)
      .map(({ group }) => group);
    for (const group of of.length === 0 ? [''] : new Set(of)) {
      const list = rows.get(group);
      if (list) list.push(move);
      else rows.set(group, [move]);
    }
  }
  return [...rows]
    .map(([group, moves]): Cost['groups'][number] => {
      const units = new Map<string, Units>();
      for (const { container, units: each } of moves) tally(units, group, container, each);
      const one = priced(units.get(group), priceOf);
      const heads = headsOf(moves);
      return {
        ...optional('group', group === '' ? undefined : group),
        name: group === '' ? 'In no group' : (names.get(group) ?? group),
        heads,
        cost: alone(one),
        perHead: one.isPart ? [] : perEach(one, heads),
        isPart: one.isPart,
      };
    })
    .toSorted((a, b) => a.name.localeCompare(b.name, 'en'));
}
