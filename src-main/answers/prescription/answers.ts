import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { prescriptionCalls } from '../../../src-shared/calls/prescription.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import { batchReceived } from '../../../src-shared/entries/batch-received.ts';
import { unitsOf } from '../../../src-shared/entries/parts.ts';
import { prescriptionReceived } from '../../../src-shared/entries/prescription-received.ts';
import { amountOf, parseAmount, printAmount } from '../../../src-shared/quantity/amount.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import { compareDays, type Day, daysBetween, parseDay } from '../../../src-shared/time/day.ts';
import { dayOf, parseInstant } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import { type Act, type Answers, type Context, write } from '../context.ts';
import { optional } from '../optional.ts';
import { keptPapersOf } from '../reading/attachments.ts';
import { onlyHolding, personName, recordsOf } from '../reading/holding.ts';
import { labelsOf, medicineName, medicineOf } from '../reading/labels.ts';
import {
  type Delivery,
  isPast,
  prescriptionNamed,
  prescriptionsOf,
  receivedWithout,
  type StandingPrescription,
} from '../reading/prescriptions.ts';
import { checkVet, validUntil } from '../reading/vet-papers.ts';
import { checkPrescription } from './on-receipt.ts';

type Paper = DataOf<'prescription-received'>;

function todayOf(context: Context, tx: Reader): Day {
  return dayOf(parseInstant(context.now(), 'clock'), onlyHolding(tx)?.zone ?? 'UTC');
}

/** What was typed from the paper, checked, as an entry keeps it. */
function decided(act: Act, prescription: string, asked: Asked<'record-prescription'>): Paper {
  checkVet(act.tx, asked.vet);
  const medicine = medicineOf(act.tx, asked.medicine);
  const piece = labelsOf(act.tx, medicine.id)[0]?.terms.piece;
  const quantity =
    asked.quantity === undefined ? undefined : parseAmount(asked.quantity, 'quantity', { piece });
  if (quantity && quantity.kind !== medicine.kind) {
    throw new Refusal('units-do-not-match', `Quantity: ${medicine.name} is not measured in that unit.`, {
      field: 'quantity',
      next: 'Write it as the label measures the medicine.',
    });
  }
  const { number, vet, animals, dose, period, diagnosis } = asked;
  const written = parseDay(asked.written, 'written');
  if (compareDays(written, act.happened(undefined, undefined).local.slice(0, 10) as Day) > 0) {
    throw new Refusal('in-the-future', 'Written on: this day is still to come.', {
      field: 'written',
      next: 'Check the day, and the clock of the computer.',
    });
  }
  const again = recordsOf<Paper>(act.tx, 'prescription').find(
    (each) =>
      each.prescription !== prescription && each.vet === vet && searchKey(each.number) === searchKey(number),
  );
  if (again) {
    act.ask(
      'number-again',
      `Prescription ${number} of this vet is already in the book. Is this another?`,
      'number',
    );
  }
  return {
    prescription,
    number,
    vet,
    medicine: medicine.id,
    written,
    ...optional('quantity', quantity),
    ...validUntil(asked.validUntil, written),
    ...optional('animals', animals),
    ...optional('dose', dose),
    ...optional('period', period),
    ...optional('diagnosis', diagnosis),
  };
}

const recordPrescription: Answers<'record-prescription'>['record-prescription'] = (context, asked) =>
  write<'record-prescription'>(context, asked, (act) => {
    const prescription = act.id();
    act.add('prescription-received', decided(act, prescription, asked));
    return { prescription };
  });

const correctPrescription: Answers<'correct-prescription'>['correct-prescription'] = (context, asked) =>
  write<'correct-prescription'>(context, asked, (act) => {
    const { paper, entry, receipts } = prescriptionNamed(
      act.tx,
      todayOf(context, act.tx),
      asked.prescription,
    );
    const data = decided(act, asked.prescription, asked);
    if (data.medicine !== paper.medicine && receipts.length > 0) {
      act.ask(
        'medicine-of-receipts',
        `Deliveries of ${medicineName(act.tx, paper.medicine)} name this prescription, and they stay as they are. Is it for ${medicineName(act.tx, data.medicine)} all the same?`,
        'medicine',
      );
    }
    const old = context.store.entryNamed(entry.request, entry.n);
    act.add('replaced', {
      target: entry,
      kind: prescriptionReceived.kind,
      v: prescriptionReceived.version,
      // When it came into the book stays; the day on the paper is part of what is put right.
      happened: old?.happened ?? act.happened(undefined),
      data: { ...data, ...optional('paper', paper.paper) },
      reason: asked.reason,
    });
    return { done: true };
  });

const namePrescription: Answers<'name-prescription'>['name-prescription'] = (context, asked) =>
  write<'name-prescription'>(context, asked, (act) => {
    const row = act.tx.get<{ request: string; n: number }>(
      'SELECT j.request, j.n FROM batch AS b JOIN journal AS j ON j.seq = b.seq WHERE b.id = ?',
      asked.batch,
    );
    const entry = row && context.store.entryNamed(row.request, row.n);
    if (!row || !entry) {
      throw new Refusal('no-such-batch', 'This delivery is not in the book.', {
        field: 'batch',
        next: 'Look for it under Cabinet.',
      });
    }
    const data = batchReceived.schema.parse(entry.data);
    checkPrescription(act, asked.prescription, {
      batch: data.batch,
      medicine: data.medicine,
      on: entry.happened.local.slice(0, 10) as Day,
      units: data.containers.reduce((sum, { amount }) => sum + unitsOf(amount), 0),
    });
    act.add('replaced', {
      target: { request: row.request, n: row.n },
      kind: batchReceived.kind,
      v: batchReceived.version,
      happened: entry.happened,
      data: { ...data, prescription: asked.prescription },
      reason: asked.reason,
    });
    return { done: true };
  });

const plural = (days: number) => `${days} ${days === 1 ? 'day' : 'days'}`;

/** What did not fit a delivery to its paper. */
function mindOf(paper: Paper, { on }: Delivery): { mind?: string } {
  if (paper.validUntil !== undefined && isPast(paper.validUntil, on)) {
    return { mind: `${plural(daysBetween(paper.validUntil as Day, on))} after its last day` };
  }
  const early = daysBetween(on, paper.written as Day);
  return early > 0 ? { mind: `${plural(early)} before it was written` } : {};
}

type Shown = Reply<'prescriptions'>['prescriptions'][number];

function shown(tx: Reader, one: StandingPrescription): Shown {
  const { paper, drawn, left, receipts } = one;
  const { kind } = medicineOf(tx, paper.medicine);
  const piece = labelsOf(tx, paper.medicine)[0]?.terms.piece;
  const say = (units: number) => printAmount(amountOf(kind, units), piece);
  const { quantity, prescription, number, vet, medicine, written, animals, dose, period, diagnosis } = paper;
  return {
    prescription,
    entry: one.entry,
    number,
    vet,
    vetName: personName(tx, vet),
    medicine,
    medicineName: medicineName(tx, medicine),
    ...(quantity === undefined ? {} : { quantity: { amount: quantity, text: say(unitsOf(quantity)) } }),
    written,
    ...optional('validUntil', paper.validUntil),
    ...optional('animals', animals),
    ...optional('dose', dose),
    ...optional('period', period),
    ...optional('diagnosis', diagnosis),
    state: one.state,
    drawn: drawn === 0 ? 'none' : say(drawn),
    ...(left === undefined ? {} : { left: left <= 0 ? 'none' : say(left) }),
    ...(left === undefined || left >= 0 ? {} : { over: say(-left) }),
    receipts: receipts.map((each) => ({
      batch: each.batch,
      number: each.number,
      on: each.on,
      amount: say(each.units),
      ...mindOf(paper, each),
    })),
    copies: keptPapersOf(tx, [{ what: 'prescription', id: prescription }]).length,
    corrected: tx.get('SELECT 1 FROM correction WHERE target = ? LIMIT 1', one.seq) !== undefined,
  };
}

/** Prescriptions: written down, put right, drawn down by what came in on them. */
export const prescriptionAnswers: Answers<keyof typeof prescriptionCalls> = {
  'record-prescription': recordPrescription,
  'correct-prescription': correctPrescription,
  'name-prescription': namePrescription,
  prescriptions(context, asked) {
    const tx = context.store.read;
    const today = todayOf(context, tx);
    const without = asked.prescription === undefined ? receivedWithout(tx, asked.medicine) : [];
    return {
      today,
      prescriptions: prescriptionsOf(tx, today, asked).map((one) => shown(tx, one)),
      without: without.map(({ kind, units, ...one }) => ({
        ...one,
        medicineName: medicineName(tx, one.medicine),
        amount: printAmount(amountOf(kind, units), labelsOf(tx, one.medicine)[0]?.terms.piece),
      })),
    };
  },
};
