import { hoursIn, parsePeriod, printPeriod } from '../quantity/period.ts';
import { rowMatches } from '../withdrawal/holds.ts';
import { sayRate } from './say-dose.ts';
import { periodWords } from './say-text.ts';
import { CLASSES, type LabelTerms, type PeriodRow, type Produce } from './terms.ts';
import { ANCHOR_WORDS, classList, PRODUCE_WORDS, ROUTE_WORDS } from './words.ts';

/** Every row, and that meat or milk has none. `say` gets a key that the same row has in another reading of the label. */
export function sayPeriods(terms: LabelTerms, say: (key: string, text: string) => void): void {
  const seen = new Map<string, number>();
  for (const row of terms.periods) {
    // Two rows may be about the same thing: each needs a name of its own.
    const about = `period:${row.produce}:${row.market}:${[...row.classes, ...row.routes, ...row.doseLines].join('+')}`;
    const n = (seen.get(about) ?? 0) + 1;
    seen.set(about, n);
    say(`${about}:${n}`, sayPeriod(terms, row));
  }
  for (const produce of ['meat', 'milk'] as const) {
    if (terms.periods.some((row) => row.produce === produce && row.market === 'domestic')) continue;
    say(
      `period:${produce}:domestic::1`,
      `${PRODUCE_WORDS[produce]}: the label has no period entered. It never clears by time.`,
    );
  }
}

/** The rows for other animals, which the laws about treatments outside the label go by. */
export function sayOthers(terms: LabelTerms, say: (key: string, text: string) => void): void {
  for (const [n, row] of (terms.others ?? []).entries()) {
    const period =
      row.says === 'value' && row.value !== undefined
        ? periodWords(row.value)
        : row.says === 'zero'
          ? 'zero'
          : `not for animals that give ${PRODUCE_WORDS[row.produce].toLowerCase()} for people`;
    const family = row.otherFamily ? ', which are of another family than sheep' : '';
    say(`other:${n}`, `On the insert for ${row.animal}${family}: ${PRODUCE_WORDS[row.produce]}, ${period}.`);
  }
}

/** A dose line as a sentence can name it: by its title, else by what it gives. */
function nameOfDose(terms: LabelTerms, id: string): string {
  const line = terms.doseLines.find((each) => each.id === id);
  return line?.title ?? (line === undefined ? id : `of ${sayRate(terms, line)}`);
}

/** Whom and what a row speaks of, in words: ["for export", "for lambs", "into the muscle"]. Empty: of all. */
export function periodScope(terms: LabelTerms, row: PeriodRow): string[] {
  return [
    ...(row.market === 'export' ? ['for export'] : []),
    ...(row.classes.length > 0 ? [`for ${classList(row.classes)}`] : []),
    ...(row.routes.length > 0 ? [row.routes.map((route) => ROUTE_WORDS[route]).join(' or ')] : []),
    ...(row.doseLines.length > 0
      ? [`for the dose ${row.doseLines.map((id) => nameOfDose(terms, id)).join(' or ')}`]
      : []),
  ];
}

/** One row of the withdrawal table: "Meat, for lambs: 28 days after the last dose." */
export function sayPeriod(terms: LabelTerms, row: PeriodRow): string {
  return `${[PRODUCE_WORDS[row.produce], ...periodScope(terms, row)].join(', ')}: ${sayRow(row)}`;
}

function sayRow(row: PeriodRow): string {
  if (row.says === 'zero') return 'zero. It may be taken at once.';
  if (row.says === 'for-life') return 'never again, for life.';
  if (row.says === 'not-stated' || row.value === undefined) {
    return row.says === 'not-for-this-produce'
      ? `not for animals that give ${PRODUCE_WORDS[row.produce].toLowerCase()} for people.`
      : 'not stated. It never clears by time.';
  }
  const value = periodWords(row.value);
  if (row.countedFrom === 'later-of-two' && row.valueFromDose !== undefined) {
    return `${value} after lambing or ${periodWords(row.valueFromDose)} after the last dose, whichever is later.`;
  }
  return `${value} after ${ANCHOR_WORDS[row.countedFrom]}.`;
}

/**
 * The period of one produce in a list's column: "28 d", "zero", "not stated", "not for milk", "for life", several
 * as "28 d to 42 d". Only what is sold at home. A class or route that no row speaks of adds "not stated".
 */
export function periodText(terms: LabelTerms, produce: Produce): string {
  const rows = terms.periods.filter((row) => row.produce === produce && row.market === 'domestic');
  const found = new Set<PeriodRow>();
  let silent = rows.length === 0;
  for (const line of terms.doseLines) {
    for (const cls of line.classes.length > 0 ? line.classes : CLASSES) {
      const here = rows.filter((row) =>
        rowMatches(row, { class: cls, route: line.route, doseLine: line.id }),
      );
      if (here.length === 0) silent = true;
      for (const row of here) found.add(row);
    }
  }
  const timed = new Map<string, number>();
  const others = new Set<string>();
  for (const row of found) {
    if (row.says === 'zero') timed.set('zero', 0);
    else if (row.says === 'for-life') others.add('for life');
    else if (row.says === 'not-for-this-produce')
      others.add(`not for ${PRODUCE_WORDS[produce].toLowerCase()}`);
    else if (row.says === 'not-stated' || row.value === undefined) silent = true;
    else {
      const value = parsePeriod(row.value, 'value');
      const text = row.countedFrom === 'last-dose' ? '' : ` after ${ANCHOR_WORDS[row.countedFrom]}`;
      timed.set(`${printPeriod(value)}${text}`, hoursIn(value));
    }
  }
  if (silent) others.add('not stated');
  const sorted = [...timed].sort((a, b) => a[1] - b[1]).map(([text]) => text);
  const range = sorted.length > 1 ? [`${sorted[0]} to ${sorted.at(-1)}`] : sorted;
  return [...range, ...others].join(' or ');
}
