import type { GroupDose, InGroup } from '../../../src-shared/dose/group-part.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import { type AmountData, unitsOf } from '../../../src-shared/entries/parts.ts';
import type { DoseLine, LabelTerms } from '../../../src-shared/label/terms.ts';
import { type Amount, addAmounts, amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import type { Reader } from '../../store/store.ts';
import { headsAt } from '../reading/lot-heads.ts';
import type { Moved } from './doses-before.ts';
import { isOverFor, sayTimes } from './in-group.ts';

/** A dose whose day is looked at. */
export type DoseOfDay = {
  /** The administration itself, which is no other dose of its day. */
  administration: string;
  subjects: readonly string[];
  heads: number;
  medicine: string;
  happened: Pick<Happened, 'local' | 'at'>;
};

/** An entry keeps so many doses of its day at most: the sum is far over the label's long before. */
const MOST = 50;

/**
 * What else of a medicine a subject had on the local day of a dose, by whatever line of the label and as the book stands:
 * its own doses before and after, those of the lots it came out of up to the moment it did, and those of whoever came
 * out of it later. Of some of a lot they count where, with the heads of this dose, they are more than the lot had: then
 * somebody had two. What is written later finds what was written before it, so one of two always knows of the other.
 */
export function othersThatDay(
  tx: Reader,
  of: DoseOfDay,
  moved: readonly Moved[] = [],
  /** A line whose own doses are left out. */
  exceptLine = '',
): AmountData[] {
  const { local, at } = of.happened;
  const rows = tx.all<{ subject: string; heads: number; dose: string }>(
    `WITH RECURSIVE own(s) AS (SELECT value FROM json_each(?)),
     moved(s, parent, at) AS (
       SELECT value ->> 'subject', value ->> 'parent', value ->> 'at' FROM json_each(?)
     ),
     kin(s, cut) AS (
       SELECT s, ? FROM own
       UNION
       SELECT lineage.parent, min(lineage.at, kin.cut)
       FROM kin JOIN lineage ON lineage.subject = kin.s AND lineage.at <= kin.cut
       UNION
       SELECT moved.parent, min(moved.at, kin.cut) FROM kin JOIN moved ON moved.s = kin.s AND moved.at <= kin.cut
     ),
     heirs(s, since) AS (
       SELECT s, ? FROM own
       UNION
       SELECT lineage.subject, lineage.at
       FROM heirs JOIN lineage ON lineage.parent = heirs.s AND lineage.at >= heirs.since
     ),
     wanted(s, since, cut) AS (
       SELECT s, '', '9999' FROM own
       UNION SELECT s, '', cut FROM kin WHERE NOT s IN (SELECT s FROM own)
       UNION SELECT s, since, '9999' FROM heirs WHERE NOT s IN (SELECT s FROM own)
     )
     SELECT a.subject, a.heads, a.data ->> '$.dose' AS dose
     FROM wanted CROSS JOIN administration AS a ON a.subject = wanted.s
     WHERE a.medicine = ? AND substr(a.local, 1, 10) = ? AND a.id <> ?
       AND a.data ->> '$.doseLine' <> ?
       AND (length(a.local) = 10 OR a.at BETWEEN wanted.since AND wanted.cut)
     GROUP BY a.id ORDER BY a.at, a.seq`,
    JSON.stringify(of.subjects),
    JSON.stringify(moved),
    local.length > 10 ? at : '9999',
    at,
    of.medicine,
    local.slice(0, 10),
    of.administration,
    exceptLine,
  );
  const counts = (subject: string): boolean => {
    if (!subject.startsWith('lot:') || !of.subjects.includes(subject)) return true;
    const heads = rows.reduce((sum, row) => (row.subject === subject ? sum + row.heads : sum), of.heads);
    return heads > headsAt(tx, subject, at);
  };
  const counted = new Map([...new Set(rows.map(({ subject }) => subject))].map((s) => [s, counts(s)]));
  return rows
    .filter(({ subject }) => counted.get(subject))
    .slice(0, MOST)
    .map(({ dose }) => JSON.parse(dose) as AmountData);
}

/**
 * The line whose own doses of a day are judged by the repeats it prints (`repeatDeviations`) and not by their sum, or
 * nothing: of a vaccine the repeats are weeks apart. Doses by another line of the label always count with it.
 */
export function lineOfRepeats(
  { purpose }: Pick<LabelTerms, 'purpose'>,
  { id, repeats }: Pick<DoseLine, 'id' | 'repeats'>,
): string | undefined {
  return repeats === undefined || purpose === 'vaccine' ? undefined : id;
}

/**
 * What the doses of one day are together, where that is more than the label's dose: a label that prints no second dose
 * gives its period for one. Judged by the sum, so that a dose given in two halves is one. Doses in units that do not add
 * count as over.
 * @param others as `othersThatDay` found them when the dose was written, without those of its own `lineOfRepeats`
 */
export function dayDeviation(
  others: readonly AmountData[],
  {
    terms,
    dose,
    dosed,
    group,
  }: {
    terms: Pick<LabelTerms, 'piece'>;
    dose: Amount;
    dosed: Omit<GroupDose, 'isMoved'>;
    group: InGroup | undefined;
  },
): { code: 'over-label'; text: string } | undefined {
  if (others.length === 0) return undefined;
  const amounts = others.map((data) => amountOf(data.kind, unitsOf(data)));
  const each = [...amounts, dose].map((amount) => printAmount(amount, terms.piece)).join(' and ');
  if (amounts.some(({ kind }) => kind !== dose.kind)) {
    return { code: 'over-label', text: `${each} on one day; the label prints no second dose` };
  }
  const sum = amounts.reduce(addAmounts, dose);
  if (!isOverFor(sum, dosed, group)) return undefined;
  const text = `${each} on one day, ${printAmount(sum, terms.piece)} together${sayTimes(sum, dosed.worked.exact)}`;
  return { code: 'over-label', text };
}

/** What to ask before a dose that is too much with the others of its day: a treatment may have been written twice. */
export function dosedToday(who: string, text: string): { code: string; text: string } {
  return {
    code: 'dosed-today',
    text: `${who} had this medicine on that day already: ${text}. Was it given again?`,
  };
}
