import type { DataOf } from '../../src-shared/entries/all.ts';
import type { Line } from './facts.ts';
import { RULES, type Rules } from './model.ts';
import { MOVES, type Move } from './stock.ts';
import { atTime, dayBegins, wallClock } from './zones.ts';

/**
 * Plausible mistakes, one at a time: in a rule of the model, or in what it is told. Book and model must then disagree
 * on some history, or the comparison would not notice the same mistake in the book.
 */
export type Fault = { name: string; rules?: Partial<Rules>; lines?(lines: readonly Line[]): Line[] };

const without = (drop: (line: Line) => boolean) => (lines: readonly Line[]) =>
  lines.filter((line) => !drop(line));
const moved = (line: Line) => line.data as DataOf<'lot-moved'>;

/** Changes the content of every line of one kind, where it is written and where it is corrected. */
function changing(kind: string, change: (data: Record<string, unknown>) => Record<string, unknown>) {
  return (lines: readonly Line[]) =>
    lines.map((line) => {
      const data = line.data as Record<string, unknown>;
      if (line.kind === kind) return { ...line, data: change(data) };
      if (line.kind !== 'replaced' || data.kind !== kind) return line;
      return { ...line, data: { ...data, data: change(data.data as Record<string, unknown>) } };
    });
}

export const FAULTS: readonly Fault[] = [
  { name: 'the order of writing for the order of happening', rules: { orderOf: (line) => line.seq } },
  {
    name: 'a move known by its day sorts at the start of that day',
    rules: {
      orderOf: (line) =>
        line.kind === 'lot-moved' && line.happened.local.length === 10
          ? dayBegins(line.happened.local, line.happened.zone)
          : RULES.orderOf(line),
    },
  },
  {
    name: 'a treatment known by its day sorts at the end of that day',
    rules: {
      orderOf: (line) =>
        line.kind === 'administered' && line.happened.local.length === 10
          ? dayBegins(line.happened.local, line.happened.zone, 1)
          : RULES.orderOf(line),
    },
  },
  { name: 'what happened at the moment of a move does not follow', rules: { momentFollows: false } },
  { name: 'the first dose of a course for its last', rules: { lastDose: (happened) => happened } },
  {
    name: 'a closed course still holds to its planned last dose',
    lines: without((line) => line.kind === 'course-set' && (line.data as { state: string }).state !== 'open'),
  },
  { name: 'whole days end a day early: W for W + 1', rules: { daysOn: (days) => days } },
  {
    name: '24-hour days where whole days or the later were asked for',
    rules: { countingOf: () => '24-hour' },
  },
  {
    name: 'whole days where 24-hour days or the later were asked for',
    rules: { countingOf: () => 'whole-days' },
  },
  {
    name: 'a dose known by its day counts from midnight before it',
    rules: {
      countedFrom: (local, zone) => (local.length > 10 ? atTime(local, zone) : dayBegins(local, zone)),
    },
  },
  {
    name: 'the wall clock taken for UTC',
    rules: {
      countedFrom: (local, zone) =>
        local.length > 10 ? Date.parse(`${local}:00.000Z`) : RULES.countedFrom(local, zone),
    },
  },
  {
    name: 'a time the clocks repeat taken for the earlier',
    rules: {
      countedFrom(local, zone) {
        const at = RULES.countedFrom(local, zone);
        return local.length > 10 && wallClock(at - 3_600_000, zone) === local ? at - 3_600_000 : at;
      },
    },
  },
  { name: 'not stated taken for zero', rules: { notStated: Number.NEGATIVE_INFINITY } },
  {
    name: 'a row for one class taken for every class',
    rules: { matches: (row, dose) => RULES.matches({ ...row, classes: [] }, dose) },
  },
  {
    name: 'a row for one route taken for every route',
    rules: { matches: (row, dose) => RULES.matches({ ...row, routes: [] }, dose) },
  },
  { name: 'the shortest of several periods', rules: { governing: (clears) => Math.min(...clears) } },
  {
    name: 'a dose out of two boxes held by the first box only',
    rules: { boxes: (labels) => labels.slice(0, 1) },
  },
  {
    name: 'a merge is forgotten',
    lines: without((line) => line.kind === 'lot-moved' && moved(line).why === 'merge'),
  },
  { name: 'holds stay behind when a lot is merged', rules: { follows: ({ why }) => why !== 'merge' } },
  { name: 'holds stay behind when a lot is split', rules: { follows: ({ why }) => why !== 'split' } },
  { name: 'holds stay behind when a head gets a tag', rules: { follows: ({ why }) => why !== 'tagged' } },
  { name: 'an entry struck out still counts', rules: { struckCounts: false } },
  { name: 'a correction is ignored', rules: { correctionCounts: false } },
  { name: 'the label as first typed, not as corrected', rules: { labelAsCorrected: false } },
  { name: 'some of a lot treated unmarked hold nobody', rules: { unmarkedHoldAll: false } },
  { name: 'who went through unread is not held', rules: { unreadCount: false } },
  { name: 'a needle that nobody found holds nobody', rules: { needlesHold: false } },
  { name: 'a finding about one speaks for all who may carry the needle', rules: { findingIsOfOne: false } },
  { name: 'a hold that ended goes on', lines: without((line) => line.kind === 'hold-ended') },
  {
    name: 'more than the label says, still by the label',
    lines: changing('administered', (data) => ({ ...data, deviations: [] })),
  },
  {
    name: "the farm's own margin left out",
    lines: changing('holding-set', (data) => ({ ...data, marginDays: 0 })),
  },
  ...MOVES.map((move) => ({
    name: `what was ${move} moves nothing`,
    rules: { movesBy: (why: Move, by: bigint) => (why === move ? 0n : by) },
  })),
  { name: 'a loss booked as drawn', rules: { bookedAs: (why) => (why === 'lost' ? 'drawn' : why) } },
  {
    name: 'a count finds nothing',
    lines: changing('stock-moved', (data) =>
      data.cause === 'counted' ? { ...data, amount: { kind: 'volume', microlitres: 0 } } : data,
    ),
  },
  {
    name: 'a bottle that was carried to another store still stands where it was',
    lines: without(
      (line) => line.kind === 'stock-moved' && (line.data as DataOf<'stock-moved'>).cause === 'carried',
    ),
  },
  { name: 'who left is still there', lines: without((line) => line.kind === 'departed') },
];
