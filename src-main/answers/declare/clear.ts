import { searchKey } from '../../../src-shared/search-key.ts';
import { type Instant, instantOf, isoWithOffset } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import { type Answer, checkClock } from '../context.ts';
import { holdingOf, onlyHolding } from '../reading/holding.ts';
import { ANIMAL_SELECT, LOT_SELECT, membersOf, type SubjectRow, shownOf } from '../reading/subjects.ts';
import { silentOnExport } from './export.ts';
import { begunBy, clearSince, type HeldRow, heldRows, holdsBySubject } from './lines.ts';
import { barsOn } from './organic.ts';

/** So many days on which some more of them may go are given; the last of them is when all may. */
const MOST_STEPS = 6;
/** So many are named of those who stay at home on a day. */
const MOST_STAYING = 5;

/** Everybody that is asked about, in the order of a list. */
function asked(
  tx: Reader,
  ask: { group?: string | undefined; holding?: string | undefined; search: string },
) {
  const rows =
    ask.group === undefined
      ? [
          ...tx.all<SubjectRow>(`${ANIMAL_SELECT} WHERE present = 1 ORDER BY shown_key, id`),
          ...tx.all<SubjectRow>(`${LOT_SELECT} WHERE heads > 0 ORDER BY name_key, id`),
        ]
      : membersOf(tx, ask.group);
  const key = searchKey(ask.search);
  return rows.filter(
    (row) =>
      (ask.holding === undefined || row.holding === ask.holding) &&
      (key === '' ||
        [row.shown, row.tag, row.chip, row.management].some((text) => text && searchKey(text).includes(key))),
  );
}

/** Answers `clear-list`: who may go on a day, who may not, and when the rest may if some stay at home. */
export const clearList: Answer<'clear-list'> = (context, ask) => {
  checkClock(context);
  const tx = context.store.read;
  const holding = ask.holding === undefined ? onlyHolding(tx) : holdingOf(tx, ask.holding);
  const zone = holding?.zone ?? 'UTC';
  const at = instantOf(ask.at, zone, 'start', 'at');
  const begun = begunBy(ask.at, zone);
  const { produce, destination } = ask;
  const wanted = asked(tx, ask);
  const narrow = ask.group !== undefined || ask.search !== '';
  const holds = holdsBySubject(tx, narrow ? wanted.map((row) => row.subject) : 'present', { produce });
  const heldRow = heldRows(zone);
  const barsOf = barsOn(tx, wanted, holds, { produce, destination, at, begun, zone });
  const clear = [];
  const held: HeldRow[] = [];
  const abroad = new Map<string, number>();
  for (const row of wanted) {
    const own = holds.get(row.subject) ?? [];
    const bad = barsOf(row);
    const silent = destination === 'export' ? silentOnExport(own, produce, { at, begun, zone }) : [];
    for (const product of silent) abroad.set(product, (abroad.get(product) ?? 0) + row.heads);
    if (bad.length > 0) held.push(heldRow(row, bad));
    else {
      const since = clearSince(own, produce, at, destination);
      clear.push({
        ...shownOf(row),
        ...(since === undefined ? {} : { since: isoWithOffset(since as Instant, zone) }),
        ...(silent.length === 0 ? {} : { silent }),
      });
    }
  }
  return {
    produce,
    destination,
    at: isoWithOffset(at, zone),
    clear,
    held,
    steps: stepsOf(held),
    silent: saidSilent(abroad),
  };
};

/** Labels that are silent on export, with the heads that had the medicine. */
function saidSilent(heads: ReadonlyMap<string, number>) {
  return [...heads]
    .map(([product, count]) => ({ product, heads: count }))
    .toSorted((a, b) => a.product.localeCompare(b.product));
}

/**
 * When the held may go if some of them stay at home: the latest days first. The first step is the day on which all
 * may go for whom there is a day at all; each that follows leaves those of the step before at home as well.
 */
function stepsOf(held: readonly HeldRow[]) {
  const byTime = held
    .flatMap((row) => (row.clear === undefined ? [] : [{ row, at: row.clear, ms: Date.parse(row.clear) }]))
    .toSorted((a, b) => b.ms - a.ms);
  const staying = held.filter((row) => row.clear === undefined);
  const steps = [];
  for (let i = 0; i < byTime.length && steps.length < MOST_STEPS; ) {
    const { at = '', ms = 0 } = byTime[i] ?? {};
    steps.push({
      at,
      stay: staying.length,
      stayHeads: staying.reduce((sum, row) => sum + row.heads, 0),
      staying: staying.slice(0, MOST_STAYING).map(({ subject, shown }) => ({ subject, shown })),
    });
    for (; byTime[i]?.ms === ms; i += 1) {
      const row = byTime[i]?.row;
      if (row !== undefined) staying.push(row);
    }
  }
  return steps;
}
