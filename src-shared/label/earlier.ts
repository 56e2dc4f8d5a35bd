import { hoursIn, parsePeriod, periodInWords } from '../quantity/period.ts';
import { rowMatches } from '../withdrawal/holds.ts';
import type { Warning } from '../working.ts';
import { CLASSES, type LabelTerms, type PeriodRow } from './terms.ts';
import { PRODUCE_WORDS } from './words.ts';

/** How long one row holds, in hours: for comparing. No end by time is longer than any; not stated compares with nothing. */
function lengthOf(row: PeriodRow): number | undefined {
  if (row.says === 'zero') return 0;
  if (row.says === 'value' && row.value !== undefined) return hoursIn(parsePeriod(row.value, 'value'));
  return row.says === 'not-stated' ? undefined : Number.POSITIVE_INFINITY;
}

/** The longest of the rows, which is the one that would hold the animal; undefined when one of them is not stated. */
function longestOf(rows: readonly PeriodRow[]): { row: PeriodRow; hours: number } | undefined {
  let longest: { row: PeriodRow; hours: number } | undefined;
  for (const row of rows) {
    const hours = lengthOf(row);
    if (hours === undefined) return undefined;
    if (longest === undefined || hours > longest.hours) longest = { row, hours };
  }
  return longest;
}

function said(row: PeriodRow): string {
  if (row.says === 'for-life') return 'for life';
  if (row.says === 'not-for-this-produce') return 'not at all for this produce';
  return row.value === undefined ? 'zero' : periodInWords(parsePeriod(row.value, 'value'));
}

/**
 * Asks about every period that is shorter than what an earlier revision held the same sheep for, by the same route:
 * an insert may have been changed so, or a digit was mistyped. The terms have passed `checkTerms`.
 */
export function shorterThanBefore(terms: LabelTerms, earlier: readonly LabelTerms[]): Warning[] {
  const texts = new Set<string>();
  for (const market of ['domestic', 'export'] as const) {
    for (const produce of new Set(terms.periods.map((row) => row.produce))) {
      const ours = (rows: readonly PeriodRow[]) =>
        rows.filter((row) => row.produce === produce && row.market === market);
      const now = ours(terms.periods);
      for (const line of terms.doseLines) {
        for (const cls of line.classes.length > 0 ? line.classes : CLASSES) {
          const given = { class: cls, route: line.route, doseLine: line.id };
          const matching = (rows: readonly PeriodRow[]) =>
            longestOf(rows.filter((row) => rowMatches(row, given)));
          const here = matching(now);
          if (here === undefined) continue;
          for (const old of earlier) {
            const before = matching(ours(old.periods));
            if (before === undefined || here.hours >= before.hours) continue;
            const what = `${PRODUCE_WORDS[produce]}${market === 'export' ? ' for export' : ''}`;
            texts.add(
              `${what}: ${said(here.row)} is shorter than an earlier label said (${said(before.row)}): is the label so?`,
            );
          }
        }
      }
    }
  }
  return [...texts].map((text) => ({ code: 'shorter-period', text }));
}
