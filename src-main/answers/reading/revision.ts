import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import type { Reader } from '../../store/store.ts';

/** A revision of a label as the desk works with it. */
export type Revision = {
  revision: string;
  medicine: string;
  state: 'draft' | 'confirmed';
  terms: LabelTerms;
};

type Row = { id: string; medicine: string; state: Revision['state']; terms: string };

function fromRow(row: Row): Revision {
  return {
    revision: row.id,
    medicine: row.medicine,
    state: row.state,
    terms: JSON.parse(row.terms) as LabelTerms,
  };
}

/** The revision with this id. Refuses (`no-such-label`). */
export function revisionOf(tx: Reader, id: string): Revision {
  const row = tx.get<Row>('SELECT id, medicine, state, terms FROM revision WHERE id = ?', id);
  if (!row) throw new Refusal('no-such-label', 'This label is not in the book.', { field: 'revision' });
  return fromRow(row);
}

/** The newest revision of a medicine. Refuses (`no-such-medicine`). */
export function newestRevision(tx: Reader, medicine: string, field = 'medicine'): Revision {
  const row = tx.get<Row>(
    'SELECT revision.id, revision.medicine, revision.state, terms FROM medicine JOIN revision ON revision.id = medicine.revision WHERE medicine.id = ?',
    medicine,
  );
  if (!row) {
    throw new Refusal('no-such-medicine', 'This medicine is not in the book.', {
      field,
      next: 'Enter its label under Cabinet first.',
    });
  }
  return fromRow(row);
}
