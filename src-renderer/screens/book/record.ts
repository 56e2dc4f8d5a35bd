import type { Reply } from '../../../src-shared/calls/all.ts';
import type { Column } from '../../parts/list-rows.ts';
import type { Narrowed } from './narrow.tsx';
import { instantInWords, localAt, localInWords } from './when.ts';

export type BookRow = Reply<'book'>['rows'][number];

/** A row with its place in the record: the versions of one treatment share a place and stay in their order. */
export type Line = BookRow & { readonly place: number; readonly version: number };

/** Gives each treatment its place, from 1, in the order the desk sent them. */
export function placed(rows: readonly BookRow[]): Line[] {
  let place = 0;
  let version = 0;
  let before: string | undefined;
  return rows.map((row) => {
    if (row.administration !== before) {
      place += 1;
      version = 0;
    }
    version += 1;
    before = row.administration;
    return { ...row, place, version };
  });
}

/** What became of a version, in words. */
export const stateWords: Readonly<Record<BookRow['state'], string>> = {
  stands: 'stands',
  voided: 'struck out',
  replaced: 'corrected',
};

/** Route as a person says it. */
export function routeWords(route: string): string {
  return route.replaceAll('-', ' ');
}

/** Every column of the record as a file: more than the screen has room for, milk only where milk is taken. */
export function recordColumns(zone: string, milks: boolean): readonly Column<Line>[] {
  const column = (key: string, head: string, text: (row: Line) => string): Column<Line> => ({
    key,
    head,
    text,
  });
  const milk = [
    column('milkPeriod', 'Milk period', (row) => row.milkPeriod),
    column('milkUntil', 'Milk withdrawal until', (row) => row.milkUntil),
  ];
  return [
    column('when', 'Given', (row) => row.local.replace('T', ' ')),
    column('who', 'Animal or lot', (row) => row.shown),
    column('class', 'Class', (row) => row.class),
    column('heads', 'Head', (row) => String(row.heads)),
    column('product', 'Medicine', (row) => row.product),
    column('batch', 'Batch', (row) => row.batch),
    column('expiry', 'Expiry', (row) => row.expiry),
    column('dose', 'Dose a head', (row) => row.dose),
    column('quantity', 'Quantity', (row) => row.quantity),
    column('route', 'Route', (row) => routeWords(row.route)),
    column('reason', 'Reason', (row) => row.reason),
    column('givenBy', 'Given by', (row) => row.givenBy),
    column('source', 'Not from our own stock', (row) => row.source),
    column('period', 'Meat period', (row) => row.period),
    column('until', 'Meat withdrawal until', (row) => row.until),
    ...(milks ? milk : []),
    column('deviations', 'Not as the label says', (row) => row.deviations.join('; ')),
    column('state', 'State', (row) => stateWords[row.state]),
    column('why', 'Why corrected', (row) => row.correction?.reason ?? ''),
    column('by', 'Corrected by', (row) => row.correction?.by ?? ''),
    column('written', 'Written', (row) => instantInWords(row.recorded, zone)),
  ];
}

/** The words under the name: class, and heads where it is a lot. */
export function whoWords(row: Pick<BookRow, 'class' | 'heads' | 'subject'>): string {
  const cls = row.class.replaceAll('-', ' ');
  return row.subject.startsWith('lot:') ? `${row.heads.toLocaleString('en-GB')} head, ${cls}` : cls;
}

/** What went in and how, in one line under the name of the medicine. */
export function doseWords(row: BookRow): string {
  const dose = row.dosedTo === undefined ? row.dose : `${row.dose} (${row.dosedTo})`;
  const head = row.heads > 1 ? `${dose} a head, ${row.quantity} in all` : dose;
  return [head, routeWords(row.route), row.batch === '' ? '' : `batch ${row.batch}`, row.reason]
    .filter((part) => part !== '')
    .join(', ');
}

/** Why a version does not stand, in a sentence; nothing when it does. */
export function correctionWords(row: BookRow, zone: string): string | undefined {
  if (row.correction === undefined) return undefined;
  const { by, reason, recorded } = row.correction;
  const what = row.state === 'voided' ? 'Struck out' : 'Corrected';
  return `${what} by ${by} on ${instantInWords(recorded, zone)}: ${reason}`;
}

/** How a hold reads after a noun: "held until 3 Mar 2026, 00:00", "held for life", "not held". */
export function heldWords(until: string): string {
  if (until === '' || until === 'clear') return 'not held';
  if (until.startsWith(noWithdrawal)) return until;
  if (/^\d/.test(until)) return `held until ${until}`;
  return until.startsWith('not stated') ? `held, period ${until}` : `held ${until}`;
}

/** What is said of a period of no days that ended where it began. */
export const noWithdrawal = 'no withdrawal (0 days)';

/**
 * The end of a period in words. A period of zero that ended with the dose itself never held anything, so it has no
 * date; one with a margin of the farm's own did, and keeps its date.
 */
export function endWords(period: string, until: string, local: string): string {
  const [home = '', ...abroad] = until.split('; for export ');
  if (home === '' || home === 'clear') return until === '' ? 'not held' : until;
  if (period !== 'zero' || home !== localInWords(local)) return until;
  return [noWithdrawal, ...abroad].join('; for export ');
}

/** The milk of a row of the list; what would follow if she came into milk stands on the page of the line. */
export function milkWords(row: Pick<BookRow, 'milkPeriod' | 'milkUntil' | 'local'>): string {
  if (row.milkUntil.startsWith('not in milk')) return 'not in milk';
  return endWords(row.milkPeriod, row.milkUntil, row.local);
}

/** The words over a date or a reason that is set large. */
export function heldLabel(until: string, isNow: boolean): string {
  const is = isNow ? 'Meat' : 'Meat, before';
  if (until === '' || until === 'clear' || until.startsWith(noWithdrawal)) return is;
  const withdrawal = isNow ? 'Meat withdrawal' : 'Meat withdrawal was';
  return /^\d/.test(until) ? `${withdrawal} until` : withdrawal;
}

/**
 * Whether the end of a hold is over. It is never said too early: not on the day itself unless it ended at its
 * start, and not at all by a date that is in doubt (`today` undefined).
 */
export function isOver(
  row: Pick<BookRow, 'until' | 'untilAt'>,
  today: string | undefined,
  zone: string,
): boolean {
  if (row.untilAt === undefined || today === undefined) return false;
  const local = localAt(row.untilAt, zone);
  return local.slice(0, 10) < today || local === `${today}T00:00`;
}

/** Orders by when the meat is clear: not held first, those that no time clears last. */
export function untilOrder(row: Pick<BookRow, 'until' | 'untilAt'>): string {
  return row.untilAt ?? (row.until === '' || row.until === 'clear' ? '' : '9999');
}

/** Which part of the record is shown. */
export type Range = Narrowed & { readonly corrections: boolean };

/** The name under which the rows are saved. */
export function recordFile(range: Pick<Range, 'from' | 'to'>): string {
  return `treatment-record-${range.from}-${range.to}`;
}

/** How a line is addressed on its own screen. */
export function lineQuery(row: Pick<BookRow, 'entry'>): { request: string; n: string } {
  return { request: row.entry.request, n: String(row.entry.n) };
}

/** The entry an address names, if it names one. */
export function entryOfQuery(
  query: Readonly<Record<string, string>>,
): { request: string; n: number } | undefined {
  const n = Number(query.n);
  if (query.request === undefined || query.request === '' || !Number.isInteger(n) || n < 1) return undefined;
  return { request: query.request, n };
}
