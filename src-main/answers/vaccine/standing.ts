import { type Cover, type CoverState, coverOn, type VaccineDose } from '../../../src-shared/dose/coverage.ts';
import { sayCover } from '../../../src-shared/dose/coverage-words.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { type Day, printDay } from '../../../src-shared/time/day.ts';

import type { Reader } from '../../store/store.ts';
import { possiblyGiven } from '../reading/given-before.ts';
import { PRESENT } from '../reading/holds.ts';
import { medicinesOf, termsReader } from '../reading/labels.ts';
import { type SubjectRow, subjectsOf } from '../reading/subjects.ts';
import { vaccineDoses } from '../reading/vaccine-doses.ts';

/** A vaccine of the farm, by its newest label. */
export type Vaccine = { medicine: string; name: string; terms: LabelTerms };

/** How one subject stands by one vaccine. */
export type Standing = {
  row: SubjectRow;
  vaccine: Vaccine;
  cover: Cover;
  /** Not all heads had the same: `cover` is the worst of what they had. */
  isMixed: boolean;
  last: Day | undefined;
  text: string;
};

/** The worst first: what a mixed lot is counted as. */
const WORST: readonly CoverState[] = ['not-started', 'unknown', 'lapsed', 'late', 'part', 'covered'];

/** The vaccines whose label is confirmed, and those that were given by a label that is still a draft. */
export function vaccinesOf(tx: Reader, medicine?: string): Vaccine[] {
  const termsOf = termsReader(tx);
  return medicinesOf(tx).flatMap((row) => {
    if (row.purpose !== 'vaccine' || (medicine !== undefined && row.id !== medicine)) return [];
    const isGiven = tx.get('SELECT 1 FROM administration WHERE medicine = ? LIMIT 1', row.id) !== undefined;
    const terms = termsOf(row.revision);
    return terms === undefined || (row.state === 'draft' && !isGiven)
      ? []
      : [{ medicine: row.id, name: terms.name, terms }];
  });
}

/** Every animal that is there and every lot with heads, by name. */
export function presentRows(tx: Reader): SubjectRow[] {
  return subjectsOf(
    tx,
    tx.all<{ s: string }>(PRESENT).map(({ s }) => s),
  );
}

/**
 * How the subjects stand by a vaccine on a day. Who has no dose of it and for whose class the label has none is left
 * away. A dose that may have been given, without a record, is said and not counted.
 */
export function standingsOf(
  tx: Reader,
  vaccine: Vaccine,
  rows: readonly SubjectRow[],
  on: Day,
  zone: string,
): Standing[] {
  const doses = vaccineDoses(tx, vaccine.medicine);
  const possibly = possiblyOn(tx, vaccine, rows, on, zone);
  return rows.flatMap((row): Standing[] => {
    const histories = doses.of(row.subject);
    const isFor = vaccine.terms.doseLines.some(
      ({ classes }) => classes.length === 0 || classes.includes(row.class),
    );
    if (!isFor && histories.every((list) => list.length === 0)) return [];
    const { cover, isMixed } = worstOf(histories, on);
    const maybe = possibly.get(row.subject) ?? [];
    const last = histories
      .flat()
      .reduce<Day | undefined>(
        (latest, dose) => (dose.on <= on && (latest === undefined || dose.on > latest) ? dose.on : latest),
        undefined,
      );
    const text = [
      ...(isMixed ? [`${sayMixed(row)} At worst:`] : []),
      sayCover(cover),
      ...(maybe.length === 0
        ? []
        : [`It may have had a dose on ${maybe.join(' and ')}, without a record: not counted.`]),
    ].join(' ');
    return [{ row, vaccine, cover, isMixed, last, text }];
  });
}

function sayMixed(row: SubjectRow): string {
  return row.subject.startsWith('lot:')
    ? 'Not all of its heads had the same doses.'
    : 'It came out of a lot in which not all had the same doses.';
}

/** The worst of what its heads may have had, and whether they differ. */
export function worstOf(
  histories: readonly (readonly VaccineDose[])[],
  on: Day,
): { cover: Cover; isMixed: boolean } {
  const covers = histories.map((list) => coverOn(list, on));
  const isMixed = new Set(covers.map((cover) => sayCover(cover))).size > 1;
  const [cover = coverOn([], on)] = covers.toSorted(
    (a, b) =>
      WORST.indexOf(a.state) - WORST.indexOf(b.state) ||
      // Of two that are covered, the one whose cover ends first.
      (a.until ?? '').localeCompare(b.until ?? ''),
  );
  return { cover, isMixed };
}

/** Days on which somebody went through a session with this vaccine and has no record, by subject. */
function possiblyOn(
  tx: Reader,
  vaccine: Vaccine,
  rows: readonly SubjectRow[],
  on: Day,
  zone: string,
): Map<string, string[]> {
  const found = new Map<string, string[]>();
  // Asked first, because it is rare and to go through the whole flock is not for nothing.
  const unread = tx.get(
    `SELECT 1 FROM session WHERE state = 'closed' AND json_array_length(closing, '$.unread') > 0
       AND EXISTS (SELECT 1 FROM json_each(data, '$.lines') AS line WHERE line.value ->> '$.medicine' = ?) LIMIT 1`,
    vaccine.medicine,
  );
  if (unread === undefined) return found;
  const subjects = rows.map((row) => row.subject);
  for (const { subject, before } of possiblyGiven(tx, subjects, { from: '0', to: '9999' }, zone)) {
    if (before.medicine !== vaccine.medicine || before.on > on) continue;
    found.set(subject, [...(found.get(subject) ?? []), printDay(before.on)]);
  }
  return found;
}
