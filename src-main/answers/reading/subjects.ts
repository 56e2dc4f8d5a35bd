import type { SheepClass } from '../../../src-shared/label/terms.ts';
import type { Weight } from '../../../src-shared/quantity/weight.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import type { Reader } from '../../store/store.ts';

/** An animal or a lot as the desk works with it. */
export type SubjectRow = {
  subject: string;
  shown: string;
  class: SheepClass;
  heads: number;
  holding: string;
  tag: string | null;
  chip: string | null;
  management: string | null;
  sex: string | null;
  born: string | null;
  milking: number;
  present: number;
  weight: string | null;
  weight_unit: 'kg' | 'lb' | null;
  weighed_on: string | null;
  weighed_how: string | null;
};

/** The weight the book has of a subject, as it was entered. */
export function weightOf(row: SubjectRow): Weight | undefined {
  return row.weight === null || row.weight_unit === null
    ? undefined
    : { value: row.weight, unit: row.weight_unit };
}

/** Columns of an animal, and of a lot under the same names, so that one list can hold both. */
export const ANIMAL_SELECT = `SELECT 'animal:' || id AS subject, shown, class, 1 AS heads, holding, tag, chip, management, sex, born,
  milking, present, weight, weight_unit, weighed_on, weighed_how FROM animal`;
export const LOT_SELECT = `SELECT 'lot:' || id AS subject, name AS shown, class, heads, holding, NULL AS tag, NULL AS chip,
  NULL AS management, NULL AS sex, born, milking, heads > 0 AS present, weight, weight_unit, weighed_on, weighed_how FROM lot`;

/** The subjects with these names, in the order given; those the book does not know are left out. */
export function subjectsOf(tx: Reader, names: readonly string[]): SubjectRow[] {
  const ids = JSON.stringify(names.map((name) => name.slice(name.indexOf(':') + 1)));
  const rows = [
    ...tx.all<SubjectRow>(`${ANIMAL_SELECT} WHERE id IN (SELECT value FROM json_each(?))`, ids),
    ...tx.all<SubjectRow>(`${LOT_SELECT} WHERE id IN (SELECT value FROM json_each(?))`, ids),
  ];
  const bySubject = new Map(rows.map((row) => [row.subject, row]));
  return names.flatMap((name) => bySubject.get(name) ?? []);
}

/** One subject. Refuses (`no-such-animal`). */
export function subjectOfName(tx: Reader, subject: string, field = 'subject'): SubjectRow {
  const row = subjectsOf(tx, [subject])[0];
  if (!row) {
    throw new Refusal('no-such-animal', 'This animal or lot is not in the book.', {
      field,
      next: 'Look for it under Flock, or add it there.',
    });
  }
  return row;
}

/** What a list shows of a subject. */
export function shownOf(row: SubjectRow): { subject: string; shown: string; class: string; heads: number } {
  return { subject: row.subject, shown: row.shown, class: row.class, heads: row.heads };
}

/** Members of a group that are there. */
export function membersOf(tx: Reader, group: string): SubjectRow[] {
  const members = tx.all<{ member: string }>('SELECT member FROM member WHERE subject = ?', `group:${group}`);
  return subjectsOf(
    tx,
    members.map((row) => row.member),
  ).filter((row) => row.present === 1);
}
