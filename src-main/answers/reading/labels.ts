import { type LabelTerms, labelTermsSchema } from '../../../src-shared/label/terms.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import type { Day } from '../../../src-shared/time/day.ts';
import { printDay } from '../../../src-shared/time/day.ts';
import type { Reader } from '../../store/store.ts';

/** A medicine as lists show it: what its newest revision says. */
export type MedicineRow = {
  id: string;
  name: string;
  name_key: string;
  purpose: string;
  kind: 'volume' | 'mass' | 'pieces';
  form: string;
  revision: string;
  state: 'draft' | 'confirmed';
};

/** A revision with its place among the others and how it came about. */
export type LabelRow = {
  id: string;
  medicine: string;
  n: number;
  state: 'draft' | 'confirmed';
  act: string;
  since: string;
  terms: LabelTerms;
};

type RawLabel = Omit<LabelRow, 'terms'> & { terms: string };

/** Terms as they were written, with the defaults of today for what did not exist then. */
export function readTerms(text: string): LabelTerms {
  return labelTermsSchema.parse(JSON.parse(text));
}

/** One medicine. Refuses (`no-such-medicine`). */
export function medicineOf(tx: Reader, id: string, field = 'medicine'): MedicineRow {
  const row = tx.get<MedicineRow>('SELECT * FROM medicine WHERE id = ?', id);
  if (!row) {
    throw new Refusal('no-such-medicine', 'This medicine is not in the book.', {
      field,
      next: 'Enter its label under Cabinet first.',
    });
  }
  return row;
}

/** The name to print for a medicine's id; the id itself when the book does not know it. */
export function medicineName(tx: Reader, id: string): string {
  return tx.get<{ name: string }>('SELECT name FROM medicine WHERE id = ?', id)?.name ?? id;
}

/** Every medicine, by name. */
export function medicinesOf(tx: Reader): MedicineRow[] {
  return tx.all<MedicineRow>('SELECT * FROM medicine ORDER BY name_key, id');
}

/** Every revision of a medicine, newest first. */
export function labelsOf(tx: Reader, medicine: string): LabelRow[] {
  return tx
    .all<RawLabel>('SELECT * FROM revision WHERE medicine = ? ORDER BY n DESC', medicine)
    .map((row) => ({ ...row, terms: readTerms(row.terms) }));
}

/** Terms by revision, each read once: for lists of many containers. Answers nothing for a revision not in the book. */
export function termsReader(tx: Reader): (revision: string) => LabelTerms | undefined {
  const known = new Map<string, LabelTerms | undefined>();
  return (revision) => {
    if (!known.has(revision)) {
      const row = tx.get<{ terms: string }>('SELECT terms FROM revision WHERE id = ?', revision);
      known.set(revision, row && readTerms(row.terms));
    }
    return known.get(revision);
  };
}

/** A local day or time as people read it: "12 Apr 2026", "12 Apr 2026, 08:00". */
export function printLocal(local: string): string {
  const day = printDay(local.slice(0, 10) as Day);
  return local.length > 10 ? `${day}, ${local.slice(11, 16)}` : day;
}
