import type { DataOf } from '../../../src-shared/entries/all.ts';
import { type AmountData, unitsOf } from '../../../src-shared/entries/parts.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { compareDays, type Day } from '../../../src-shared/time/day.ts';
import type { Reader } from '../../store/store.ts';

export type Prescription = DataOf<'prescription-received'>;

/** A delivery of one batch. `units` are whole microlitres, micrograms or pieces; `on` is the day it came in. */
export type Delivery = {
  batch: string;
  number: string;
  medicine: string;
  on: Day;
  kind: AmountData['kind'];
  units: number;
};

/** Where a prescription stands on a day: `used-up` once all of its quantity came in, else `expired` after its last day. */
export type PrescriptionState = 'open' | 'expired' | 'used-up';

export type StandingPrescription = {
  paper: Prescription;
  entry: { request: string; n: number };
  seq: number;
  state: PrescriptionState;
  /** What came in on it, in the whole units of its medicine. */
  drawn: number;
  /** What is left of its quantity, below none where more came in; absent where it names no quantity. */
  left: number | undefined;
  receipts: Delivery[];
};

/** Where the law or the label wants a vet's prescription before a medicine is supplied, as its label says. */
const NEEDED = ['vet-only', 'vet-prescription'] as const;

/** Whether a medicine supplied as its label says comes on a vet's prescription. */
export function needsPrescription(supply: string): boolean {
  return (NEEDED as readonly string[]).includes(supply);
}

function delivery(text: string, received: string): Delivery {
  const data = JSON.parse(text) as DataOf<'batch-received'>;
  const units = data.containers.reduce((sum, { amount }) => sum + unitsOf(amount), 0);
  return {
    batch: data.batch,
    number: data.number,
    medicine: data.medicine,
    // A batch row keeps the local time of the holding, which begins with its day.
    on: received.slice(0, 10) as Day,
    // A delivery has at least one container, and all are measured alike.
    kind: data.containers[0]?.amount.kind ?? 'volume',
    units,
  };
}

/** Deliveries by the prescription they came on, in the order in which they came. */
function receipts(tx: Reader): Map<string, Delivery[]> {
  const found = new Map<string, Delivery[]>();
  const rows = tx.all<{ prescription: string; data: string; received: string }>(
    `SELECT data ->> '$.prescription' AS prescription, data, received FROM batch
     WHERE data ->> '$.prescription' IS NOT NULL ORDER BY received, seq`,
  );
  for (const { prescription, data, received } of rows) {
    const list = found.get(prescription) ?? [];
    list.push(delivery(data, received));
    found.set(prescription, list);
  }
  return found;
}

/** True when the last day of a paper is over. A paper without a last day never is. */
export function isPast(validUntil: string | undefined, day: Day): boolean {
  return validUntil !== undefined && compareDays(validUntil as Day, day) < 0;
}

function standing(row: Row, came: Delivery[], today: Day): StandingPrescription {
  const paper = JSON.parse(row.data) as Prescription;
  const drawn = came.reduce((sum, one) => sum + one.units, 0);
  const left = paper.quantity === undefined ? undefined : unitsOf(paper.quantity) - drawn;
  const state =
    left !== undefined && left <= 0 ? 'used-up' : isPast(paper.validUntil, today) ? 'expired' : 'open';
  return {
    paper,
    entry: { request: row.request, n: row.n },
    seq: row.seq,
    state,
    drawn,
    left,
    receipts: came,
  };
}

type Row = { data: string; seq: number; request: string; n: number };

/**
 * Prescriptions with what came in on each, by the day they were written, newest first.
 * @param today the day at the holding, on which they stand as said
 */
export function prescriptionsOf(
  tx: Reader,
  today: Day,
  wanted: { medicine?: string | undefined; prescription?: string | undefined } = {},
): StandingPrescription[] {
  const came = receipts(tx);
  return tx
    .all<Row>(
      `SELECT r.data, r.seq, j.request, j.n FROM record AS r JOIN journal AS j ON j.seq = r.seq
       WHERE r.what = 'prescription' AND (? IS NULL OR r.data ->> '$.medicine' = ?) AND (? IS NULL OR r.id = ?)
       ORDER BY r.data ->> '$.written' DESC, r.seq DESC`,
      wanted.medicine ?? null,
      wanted.medicine ?? null,
      wanted.prescription ?? null,
      wanted.prescription ?? null,
    )
    .map((row) => standing(row, came.get((JSON.parse(row.data) as Prescription).prescription) ?? [], today));
}

/** One of them. Refuses (`no-such-prescription`). */
export function prescriptionNamed(tx: Reader, today: Day, prescription: string): StandingPrescription {
  const [found] = prescriptionsOf(tx, today, { prescription });
  if (!found) {
    throw new Refusal('no-such-prescription', 'This prescription is not in the book.', {
      field: 'prescription',
      next: 'Write it down first.',
    });
  }
  return found;
}

/** Those for a medicine on which something may still be got, newest first; and the last diagnosis on any of its papers. */
export function openPrescriptions(
  tx: Reader,
  medicine: string,
  today: Day,
): { open: StandingPrescription[]; lastDiagnosis: { text: string; written: string } | undefined } {
  const all = prescriptionsOf(tx, today, { medicine });
  const said = all.find(({ paper }) => paper.diagnosis !== undefined)?.paper;
  return {
    open: all.filter(({ state }) => state === 'open'),
    lastDiagnosis:
      said?.diagnosis === undefined ? undefined : { text: said.diagnosis, written: said.written },
  };
}

/** Deliveries of medicines whose label wants a prescription, with none named: a gap in the book. Newest first. */
export function receivedWithout(tx: Reader, medicine?: string): Delivery[] {
  return tx
    .all<{ data: string; received: string }>(
      `SELECT b.data, b.received FROM batch AS b JOIN revision AS r ON r.id = b.revision
       WHERE b.data ->> '$.prescription' IS NULL
         AND r.terms ->> '$.prescription' IN (SELECT value FROM json_each(?)) AND (? IS NULL OR b.medicine = ?)
       ORDER BY b.received DESC, b.seq DESC`,
      JSON.stringify(NEEDED),
      medicine ?? null,
      medicine ?? null,
    )
    .map(({ data, received }) => delivery(data, received));
}
