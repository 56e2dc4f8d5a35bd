import { type Draw, planDraw, type StockRow } from './draw.ts';
import { unusableOnceOpened } from './use-by.ts';

/** What one day of a course needs, in base units. */
export type CourseDay = { readonly local: string; readonly need: number };
export type CourseDraws = readonly {
  readonly local: string;
  readonly draws: readonly Draw[];
  readonly short: number;
}[];

/**
 * From which containers a course comes, day by day in the order of time: what the earlier days leave, each container
 * only while it may be used, and its in-use life running from the day that opens it. A day that is known without its
 * hour is taken at its end, when a container that ends on that day no longer counts. Nothing is refused; what a day
 * cannot have is its `short`, and the days after it go on with what is there.
 * @param inUse the in-use life on the label that came with a container, as typed; nothing where it is silent
 */
export function drawCourse(
  containers: readonly StockRow[],
  days: readonly CourseDay[],
  options: {
    zone: string;
    inUse: (row: StockRow) => string | undefined;
    keep?: readonly string[] | undefined;
  },
): CourseDraws {
  const rows = containers.map((row) => ({ ...row }));
  const byId = new Map(rows.map((row) => [row.id, row]));
  return days
    .toSorted((a, b) => (a.local < b.local ? -1 : a.local > b.local ? 1 : 0))
    .map(({ local, need }) => {
      const { draws, short } = planDraw(rows, need, { now: local, keep: options.keep });
      for (const { container, take } of draws) {
        const row = byId.get(container);
        if (row === undefined) continue;
        row.left_units -= take;
        if (row.opened !== null) continue;
        row.opened = local;
        row.state = 'open';
        row.unusable_from = unusableOnceOpened({
          opened: local,
          zone: options.zone,
          inUse: options.inUse(row),
          unopenedUntil: row.unopened_until,
        });
      }
      return { local, draws, short };
    });
}
