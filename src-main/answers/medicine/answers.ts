import { isDeepStrictEqual } from 'node:util';
import type { Reply } from '../../../src-shared/calls/all.ts';
import type { medicineCalls } from '../../../src-shared/calls/medicine.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import { checkTerms, plausibilityQuestions } from '../../../src-shared/label/check.ts';
import { doseDifferences } from '../../../src-shared/label/samples.ts';
import { periodText, sayDifferences, sayTerms } from '../../../src-shared/label/say.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import { usable } from '../../../src-shared/stock/draw.ts';
import { printExpiry } from '../../../src-shared/stock/use-by.ts';
import { localOf, parseInstant } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import { type Act, type Answers, type Asked, type Context, write } from '../context.ts';
import { onlyHolding } from '../reading/holding.ts';
import {
  type LabelRow,
  labelsOf,
  type MedicineRow,
  medicineOf,
  medicinesOf,
  printLocal,
  termsReader,
} from '../reading/labels.ts';
import { type StockRow, stockRows } from '../reading/stock.ts';
import { addCorrection, correctionOf } from './correction.ts';

/** The local time now, on the clock of the holding. */
export function nowLocal(context: Context, tx: Reader): string {
  return localOf(parseInstant(context.now(), 'clock'), onlyHolding(tx)?.zone ?? 'UTC');
}

/** "500 mL", or what is missing below none: a balance under zero is said, never shown as a stock. */
export function sayLeft(kind: MedicineRow['kind'], units: number, piece: string | undefined): string {
  if (units >= 0) return printAmount(amountOf(kind, units), piece);
  return `${printAmount(amountOf(kind, -units), piece)} more went out than came in: count it`;
}

function medicines(context: Context, asked: Asked<'medicines'>): Reply<'medicines'> {
  const tx = context.store.read;
  const now = nowLocal(context, tx);
  const key = searchKey(asked.search);
  const termsOf = termsReader(tx);
  return {
    medicines: medicinesOf(tx).flatMap((row) => {
      const terms = termsOf(row.revision);
      if (!terms) return [];
      const words = [row.name, ...terms.actives.map((active) => active.substance)].map(searchKey);
      if (!words.some((word) => word.includes(key))) return [];
      const stock = stockRows(tx, row.id);
      const mayUse = stock.filter((each) => usable(each, now));
      return [
        {
          medicine: row.id,
          name: row.name,
          purpose: row.purpose,
          form: row.form,
          kind: row.kind,
          state: row.state,
          revision: row.revision,
          routes: [...new Set(terms.doseLines.map((line) => line.route))],
          meat: periodText(terms, 'meat'),
          milk: periodText(terms, 'milk'),
          usable: sayUsable(row.kind, mayUse, terms.piece),
          containers: stock.filter(
            (each) => each.state !== 'disposed' && each.state !== 'returned' && each.left_units !== 0,
          ).length,
          prescription: terms.prescription,
          ...lastGiven(tx, row.id),
        },
      ];
    }),
  };
}

/** What may be used as it came, and beside it what was made up on the farm: a powder's grams and its mL do not add. */
function sayUsable(kind: MedicineRow['kind'], rows: readonly StockRow[], piece: string | undefined): string {
  const sum = (some: readonly StockRow[]) => some.reduce((units, row) => units + row.left_units, 0);
  const made = rows.filter((row) => row.strength !== null);
  const asCame = sayLeft(kind, sum(rows.filter((row) => row.strength === null)), piece);
  return made.length === 0 ? asCame : `${asCame}, and ${sayLeft('volume', sum(made), undefined)} made up`;
}

/** When it was last given out of a container of the farm, if ever. */
function lastGiven(tx: Reader, medicine: string): { lastGiven?: string } {
  const row = tx.get<{ local: string }>(
    `SELECT local FROM administration WHERE medicine = ? AND json_extract(data, '$.source.kind') = 'ours'
     ORDER BY at DESC LIMIT 1`,
    medicine,
  );
  return row ? { lastGiven: row.local } : {};
}

type BatchRow = {
  id: string;
  number: string;
  expiry: string;
  revision: string;
  received: string;
  data: string;
};

function medicine(context: Context, asked: Asked<'medicine'>): Reply<'medicine'> {
  const tx = context.store.read;
  const row = medicineOf(tx, asked.medicine);
  const batches = tx.all<BatchRow>(
    'SELECT id, number, expiry, revision, received, data FROM batch WHERE medicine = ? ORDER BY expiry, seq',
    row.id,
  );
  return {
    medicine: row.id,
    name: row.name,
    revisions: labelsOf(tx, row.id).map(({ id, n, state, act, since, terms }) => ({
      revision: id,
      n,
      state,
      act,
      since: printLocal(since),
      terms,
      says: sayTerms(terms),
    })),
    batches: batches.map((batch) => ({
      batch: batch.id,
      number: batch.number,
      expiry: printExpiry((JSON.parse(batch.data) as DataOf<'batch-received'>).expiry),
      revision: batch.revision,
      received: printLocal(batch.received),
    })),
  };
}

function checkLabel(context: Context, asked: Asked<'check-label'>): Reply<'check-label'> {
  const { terms, medicine: id, revision } = asked;
  checkTerms(terms);
  const tx = context.store.read;
  const earlier = id === undefined ? [] : earlierTerms(tx, medicineOf(tx, id).id, revision);
  return { says: sayTerms(terms), questions: plausibilityQuestions(terms, earlier) };
}

/** What the labels of a medicine said before this revision; before a new insert, all of them. */
function earlierTerms(tx: Reader, medicine: string, revision?: string): LabelTerms[] {
  const labels = labelsOf(tx, medicine);
  const own = revision === undefined ? undefined : wrongRevision(tx, medicine, revision).n;
  return labels.filter((label) => own === undefined || label.n < own).map((label) => label.terms);
}

/** The revision of this medicine that was typed wrongly. Refuses (`revision-missing`, `no-such-label`). */
function wrongRevision(tx: Reader, medicine: string, revision: string | undefined): LabelRow {
  const labels = labelsOf(tx, medicine);
  if (revision === undefined) {
    throw new Refusal('revision-missing', 'Choose which label was typed wrongly.', { field: 'revision' });
  }
  const label = labels.find((each) => each.id === revision);
  if (label) return label;
  throw new Refusal('no-such-label', 'This label does not belong to this medicine.', {
    field: 'revision',
    next: 'Choose one of the labels of this medicine.',
  });
}

/** Bottles and treatments are counted in the old unit: no label can turn mL into tablets afterwards. */
function checkKind(tx: Reader, row: MedicineRow, terms: LabelTerms): void {
  if (row.kind === terms.kind) return;
  const used =
    tx.get('SELECT 1 FROM container WHERE medicine = ? LIMIT 1', row.id) ??
    tx.get('SELECT 1 FROM administration WHERE medicine = ? LIMIT 1', row.id);
  if (!used) return;
  throw new Refusal('kind-fixed', `${row.name} is already counted in another unit in this book.`, {
    field: 'terms.kind',
    next: 'Enter it as another medicine.',
  });
}

function previewCorrection(
  context: Context,
  asked: Asked<'preview-label-correction'>,
): Reply<'preview-label-correction'> {
  const tx = context.store.read;
  checkTerms(asked.terms);
  const row = medicineOf(tx, asked.medicine);
  const label = wrongRevision(tx, row.id, asked.revision);
  checkKind(tx, row, asked.terms);
  const { moved, notices, warnings } = correctionOf(context.store, tx, row.id, label.id, asked.terms);
  return {
    moved,
    notices,
    differences: [...sayDifferences(label.terms, asked.terms), ...warnings.map(({ text }) => text)],
    doses: doseDifferences(label.terms, asked.terms),
  };
}

/** When a label was set: as the person said, but never sorted before the labels there are. */
export function labelHappened(act: Act, medicine: string | undefined): Happened {
  const when = act.happened(undefined);
  const last =
    medicine === undefined
      ? undefined
      : act.tx.get<{ at: string | null }>(
          'SELECT max(at) AS at FROM subject_entry WHERE subject = ?',
          `medicine:${medicine}`,
        )?.at;
  return last != null && last > when.at ? { ...when, at: last } : when;
}

/** Adds the label of a new insert and answers its revision. */
export function addInsert(
  act: Act,
  row: MedicineRow,
  terms: LabelTerms,
  state: 'draft' | 'confirmed',
  why?: string,
): string {
  checkKind(act.tx, row, terms);
  const revision = act.id();
  act.add(
    'label-set',
    { medicine: row.id, revision, act: 'new-insert', state, terms, ...(why === undefined ? {} : { why }) },
    labelHappened(act, row.id),
  );
  return revision;
}

function askSameName(act: Act, terms: LabelTerms, own?: string): void {
  const key = searchKey(terms.name);
  const other = medicinesOf(act.tx).find((each) => each.name_key === key && each.id !== own);
  if (other) {
    act.ask(
      'same-name',
      `There is already a medicine called ${other.name}. Is this another one?`,
      'terms.name',
    );
  }
}

function setLabel(context: Context, asked: Asked<'set-label'>): Reply<'set-label'> {
  return write<'set-label'>(context, asked, (act): Reply<'set-label'> => {
    const { terms, state, why } = asked;
    checkTerms(terms);
    if (asked.act === 'first') {
      if (asked.medicine !== undefined) {
        throw new Refusal('medicine-not-new', 'This medicine has a label already.', {
          field: 'act',
          next: 'Say whether this is a new insert, or whether the old one was typed wrongly.',
        });
      }
      askSameName(act, terms);
      const medicine = act.id();
      const revision = act.id();
      act.add('label-set', {
        medicine,
        revision,
        act: 'first',
        state,
        terms,
        ...(why === undefined ? {} : { why }),
      });
      return { medicine, revision, moved: [], notices: [], questions: plausibilityQuestions(terms) };
    }
    if (asked.medicine === undefined) {
      throw new Refusal('medicine-missing', 'Choose the medicine this label belongs to.', {
        field: 'medicine',
      });
    }
    const row = medicineOf(act.tx, asked.medicine);
    askSameName(act, terms, row.id);
    if (asked.act === 'new-insert') {
      const questions = plausibilityQuestions(terms, earlierTerms(act.tx, row.id));
      const revision = addInsert(act, row, terms, state, why);
      return { medicine: row.id, revision, moved: [], notices: [], questions };
    }
    const corrected = typedWrongly(context, act, asked, row);
    const questions = plausibilityQuestions(terms, earlierTerms(act.tx, row.id, corrected.revision));
    return { ...corrected, questions: [...questions, ...corrected.questions] };
  });
}

function typedWrongly(
  context: Context,
  act: Act,
  asked: Asked<'set-label'>,
  row: MedicineRow,
): Reply<'set-label'> {
  const { terms, state, why } = asked;
  const label = wrongRevision(act.tx, row.id, asked.revision);
  checkKind(act.tx, row, terms);
  if (isDeepStrictEqual(label.terms, terms) && label.state === state) {
    throw new Refusal('nothing-changed', 'This is what the label says already.', {
      field: 'terms',
      next: 'Change what was typed wrongly, or leave it.',
    });
  }
  const correction = correctionOf(context.store, act.tx, row.id, label.id, terms);
  act.add(
    'label-set',
    {
      medicine: row.id,
      revision: label.id,
      act: 'typed-wrongly',
      state,
      terms,
      ...(why === undefined ? {} : { why }),
    },
    labelHappened(act, row.id),
  );
  addCorrection(act, correction, terms.inUse, `Label of ${terms.name} corrected: ${why ?? 'typed wrongly'}`);
  return {
    medicine: row.id,
    revision: label.id,
    moved: correction.moved,
    notices: correction.notices,
    questions: correction.warnings,
  };
}

/** Labels: entered, read back, replaced by a new insert, or corrected with all that a correction moves. */
export const medicineAnswers: Answers<keyof typeof medicineCalls> = {
  medicines,
  medicine,
  'check-label': checkLabel,
  'preview-label-correction': previewCorrection,
  'set-label': setLabel,
};
