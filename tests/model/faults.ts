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

/** Changes every period row of every label. */
function relabelled(change: (row: Record<string, unknown>) => Record<string, unknown>) {
  return changing('label-set', (data) => {
    const terms = data.terms as { periods: Record<string, unknown>[] };
    return { ...data, terms: { ...terms, periods: terms.periods.map(change) } };
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
  { name: 'a record of one medicine clears of every other that was planned', rules: { partlyCounts: false } },
  { name: 'that one got none of a medicine is not heard', rules: { noneIsHeard: false } },
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
  { name: 'what a hold waited for ends nothing', rules: { settles: () => false } },
  { name: 'an event ends what others carry too, who were elsewhere', rules: { settlesForAll: true } },
  { name: 'the earlier of two anchors', rules: { ofTwo: Math.min } },
  { name: 'whatever happens ends whatever waits', rules: { isAwaited: () => true } },
  {
    name: 'an event known by its day sorts at the end of that day',
    rules: {
      orderOf: (line) =>
        line.kind === 'event-noted' && line.happened.local.length === 10
          ? dayBegins(line.happened.local, line.happened.zone, 1)
          : RULES.orderOf(line),
    },
  },
  {
    name: 'an event that was struck out still ends a hold',
    lines: (lines) => {
      const events = new Set(
        lines.filter(({ kind }) => kind === 'event-noted').map(({ request, n }) => `${request} ${n}`),
      );
      return lines.filter(({ kind, data }) => {
        if (kind !== 'voided') return true;
        const { target } = data as { target: { request: string; n: number } };
        return !events.has(`${target.request} ${target.n}`);
      });
    },
  },
  {
    name: 'a device taken out read as a lambing',
    lines: changing('event-noted', (data) => ({
      ...data,
      what: data.what === 'removal' ? 'lambing' : data.what,
    })),
  },
  {
    name: 'the organic period is the one of the label',
    rules: { organicOf: (period) => [period, '48 h'] },
  },
  {
    name: 'organic without its least of 48 h',
    rules: { organicOf: (period, purpose) => RULES.organicOf(period, purpose).slice(0, 1) },
  },
  {
    name: 'a vaccine doubled under a certificate',
    rules: { organicOf: (period) => RULES.organicOf(period, 'parasites') },
  },
  {
    name: 'a certificate counts on every day',
    rules: { isCertified: ({ organic }) => (organic ?? []).length > 0 },
  },
  { name: 'no certificate counts', rules: { isCertified: () => false } },
  { name: 'lambs at foot of a treated ewe go free', rules: { atFootHolds: false } },
  { name: 'lambs carry all that their dam ever had', rules: { atFootFor: () => true } },
  {
    name: 'weaned lambs are still at foot',
    lines: changing('at-foot-set', (data) => ({ ...data, until: undefined })),
  },
  { name: 'what a label says of lambs that suck is not heard', rules: { youngIsHeard: false } },
  {
    name: 'what a label says of lambs that suck counts in the place of the ewe’s period, whatever the farm goes by',
    rules: { youngInstead: () => true },
  },
  { name: 'a word that dates a bought-in hold is not heard', rules: { wordsDate: false } },
  {
    name: 'handling wool taken for shearing',
    lines: relabelled((row) => ({
      ...row,
      produce: row.produce === 'wool-handling' ? 'wool-harvest' : row.produce,
    })),
  },
  {
    name: 'the period for export taken for here',
    lines: relabelled((row) => ({ ...row, market: 'domestic' })),
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
