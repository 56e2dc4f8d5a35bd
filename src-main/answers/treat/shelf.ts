import type { Happened } from '../../../src-shared/entries/kind.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { type CourseDay, drawCourse } from '../../../src-shared/stock/course-draw.ts';
import { compareForUse, planDraw } from '../../../src-shared/stock/draw.ts';
import { compareUnusable, stateAt, unusableOnceOpened } from '../../../src-shared/stock/use-by.ts';
import type { Reader } from '../../store/store.ts';
import { type Revision, revisionOf } from '../reading/revision.ts';
import { type StockRow, stockRows } from '../reading/stock.ts';

/** What one dose takes out of one bottle, losses included. */
export type Draw = {
  container: string;
  label: string;
  batch: string;
  revision: string;
  /** What the container is measured in: a powder made up with water is given in mL. */
  kind: StockRow['kind'];
  unusableFrom: string;
  take: number;
};

export type Opened = {
  /** What the entry says. */
  data: { container: string; inUse?: string; unusableFrom: string };
  /** When it counts as opened: with the dose, but never before its delivery is in the book. */
  happened: Happened;
};
export type Taken = { draws: Draw[]; deviations: { code: string; text: string }[]; opens: Opened[] };

/**
 * The bottles as one call sees them. Entries are folded only when the call ends, so a run of many doses keeps its
 * own count here: without it every animal would be drawn from the same full bottle.
 */
export type Shelf = {
  /** The bottle a dose would come from first, with its revision and its own strength. */
  first(
    medicine: string,
    when: Happened,
    named?: readonly string[],
  ): { row: StockRow; revision: Revision } | undefined;
  /** Takes the units, earliest use-by first, or from the bottles named. What is not there is taken all the same, and named. */
  take(medicine: string, units: number, when: Happened, named?: readonly string[]): Taken;
  /** What a plan would take: the same, but nothing from a bottle that may not be used, and nothing counted down. */
  plan(medicine: string, units: number, when: Happened): { draws: Draw[]; short: number };
  /** What a plan of several days would take, the first of them at `when`; each bottle only while it may be used. */
  planDays(
    medicine: string,
    days: readonly CourseDay[],
    when: Happened,
  ): { local: string; draws: Draw[]; short: number }[];
};

/**
 * A shelf on the book as it stands in this transaction.
 * @param back units that go back into these containers first: what a treatment that is being corrected had drawn
 * @param inHand containers that a plan took from the shelf: while they may be used they go before any other
 */
export function shelfOf(
  tx: Reader,
  back: ReadonlyMap<string, number> = new Map(),
  inHand: readonly string[] = [],
): Shelf {
  const byMedicine = new Map<string, StockRow[]>();
  const revisions = new Map<string, Revision>();

  const rowsOf = (medicine: string): StockRow[] => {
    const known = byMedicine.get(medicine);
    if (known) return known;
    const rows = stockRows(tx, medicine).map((row) => ({
      ...row,
      left_units: row.left_units + (back.get(row.id) ?? 0),
    }));
    byMedicine.set(medicine, rows);
    return rows;
  };
  const revision = (id: string): Revision => {
    const known = revisions.get(id) ?? revisionOf(tx, id);
    revisions.set(id, known);
    return known;
  };
  const drawn = (row: StockRow, take: number): Draw => ({
    container: row.id,
    label: row.label,
    batch: row.number,
    revision: row.revision,
    kind: row.kind,
    unusableFrom: row.unusable_from,
    take,
  });

  function namedRows(medicine: string, named: readonly string[]): StockRow[] {
    const rows = rowsOf(medicine);
    return named.map((id) => {
      const row = rows.find((each) => each.id === id);
      if (!row) {
        throw new Refusal('not-this-medicine', 'This container does not hold the medicine that was chosen.', {
          field: 'containers',
          next: 'Choose a container of this medicine.',
        });
      }
      return row;
    });
  }

  function planned(medicine: string, units: number, when: Happened): { row: StockRow; take: number }[] {
    const rows = sameAsFirst(rowsOf(medicine), when);
    const plan = planDraw(rows, units, { now: when.local, keep: inHand });
    return plan.draws.flatMap(({ container, take }) => {
      const row = rows.find((each) => each.id === container);
      return row ? [{ row, take }] : [];
    });
  }

  /**
   * The containers a dose may be shared between: those like the first one. What was made up on the farm has a
   * strength of its own, and mL of one strength do not fill up mL of another, nor a powder's grams. It was made up to
   * be given, so it goes before what it was made from.
   */
  function sameAsFirst(rows: readonly StockRow[], when: Happened): readonly StockRow[] {
    const made = rows.filter((row) => row.strength !== null);
    const next = [made, rows].flatMap((some) => planDraw(some, 1, { now: when.local, keep: inHand }).draws)[0]
      ?.container;
    const first = rows.find((row) => row.id === next);
    return first ? rows.filter((row) => row.kind === first.kind && row.strength === first.strength) : rows;
  }

  /** With nothing usable in the book it still came out of some bottle: the one with the latest use-by is named. */
  function lastResort(medicine: string): StockRow {
    const row = latest(rowsOf(medicine));
    if (row) return row;
    throw new Refusal('none-received', 'No container of this medicine is in the book.', {
      field: 'medicine',
      next: "Receive the batch under Cabinet first, or say that it was the vet's own.",
    });
  }

  function open(row: StockRow, when: Happened): Opened | undefined {
    if (row.opened !== null || row.state !== 'sealed') return undefined;
    const { inUse } = revision(row.revision).terms;
    const unusableFrom = unusableOnceOpened({
      opened: when.local,
      zone: when.zone,
      inUse,
      unopenedUntil: row.unopened_until,
    });
    row.opened = when.local;
    row.state = 'open';
    row.unusable_from = unusableFrom;
    const isBeforeDelivery = row.since_at !== null && when.at < row.since_at;
    return {
      data: { container: row.id, unusableFrom, ...(inUse === undefined ? {} : { inUse }) },
      happened:
        isBeforeDelivery && row.since_at !== null
          ? { local: row.since_local ?? when.local, zone: when.zone, at: row.since_at }
          : when,
    };
  }

  return {
    first(medicine, when, named = []) {
      const rows = rowsOf(medicine);
      const row =
        named.length > 0
          ? namedRows(medicine, named)[0]
          : (planned(medicine, 1, when)[0]?.row ?? latest(rows));
      return row && { row, revision: revision(row.revision) };
    },
    take(medicine, units, when, named = []) {
      const parts =
        named.length > 0 ? fill(namedRows(medicine, named), units) : planned(medicine, units, when);
      const covered = parts.reduce((sum, part) => sum + part.take, 0);
      const deviations: Taken['deviations'] = [];
      if (covered < units) {
        const last = parts.at(-1)?.row ?? lastResort(medicine);
        const part = parts.find((each) => each.row === last);
        if (part) part.take += units - covered;
        else parts.push({ row: last, take: units - covered });
        deviations.push({
          code: 'more-than-the-book-has',
          text: `More was drawn from ${last.label} than the book says is left`,
        });
      }
      const opens: Opened[] = [];
      const draws: Draw[] = [];
      for (const { row, take } of parts) {
        deviations.push(...faults(row, when));
        const opened = open(row, when);
        if (opened) opens.push(opened);
        row.left_units -= take;
        draws.push(drawn(row, take));
      }
      return { draws, deviations, opens };
    },
    plan(medicine, units, when) {
      const parts = planned(medicine, units, when);
      const covered = parts.reduce((sum, part) => sum + part.take, 0);
      return { draws: parts.map(({ row, take }) => drawn(row, take)), short: units - covered };
    },
    planDays(medicine, days, when) {
      const rows = sameAsFirst(rowsOf(medicine), when);
      const byId = new Map(rows.map((row) => [row.id, row]));
      const inUse = (row: StockRow) => revision(row.revision).terms.inUse;
      return drawCourse(rows, days, { zone: when.zone, inUse, keep: inHand }).map(
        ({ local, draws, short }) => ({
          local,
          short,
          draws: draws.flatMap(({ container, take }) => {
            const row = byId.get(container);
            return row ? [drawn(row, take)] : [];
          }),
        }),
      );
    },
  };
}

/**
 * The one that may be used longest. Of two that end together the one out of a batch: a mixture that is past its end
 * is thrown away, and what is weighed out next is the powder. Else in the order of use, so that it is always the same.
 */
function latest(rows: readonly StockRow[]): StockRow | undefined {
  const mixed = (row: StockRow) => Number(row.batch === null);
  return rows.toSorted(
    (a, b) => compareUnusable(b.unusable_from, a.unusable_from) || mixed(a) - mixed(b) || compareForUse(a, b),
  )[0];
}

function fill(rows: readonly StockRow[], units: number): { row: StockRow; take: number }[] {
  let still = units;
  const parts: { row: StockRow; take: number }[] = [];
  for (const row of rows) {
    const take = Math.max(0, Math.min(still, row.left_units));
    if (take > 0) parts.push({ row, take });
    still -= take;
  }
  const last = rows.at(-1);
  // The last bottle named must be in the list, so that what is over is booked on it.
  if (still > 0 && last && !parts.some((part) => part.row === last)) parts.push({ row: last, take: 0 });
  return parts;
}

/** What is wrong with drawing from this bottle at that time. Planning never does it; it may have happened. */
function faults(row: StockRow, when: Happened): { code: string; text: string }[] {
  const says: Readonly<Record<string, string>> = {
    quarantined: 'was in quarantine',
    'past-in-use': 'was past its in-use life',
    expired: 'was past its expiry date',
    disposed: 'had been disposed of',
    returned: 'had been returned',
  };
  // An emptied bottle still has dates; its emptiness is named by the caller.
  const state = stateAt({ ...row, left_units: Math.max(1, row.left_units) }, when.local);
  const text = says[state];
  return text === undefined ? [] : [{ code: state, text: `${row.label} ${text}` }];
}
