import type { DataOf } from '../../../src-shared/entries/all.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import type { Reader, Store } from '../../store/store.ts';
import { medicineName } from '../reading/labels.ts';
import { type StockRow, stockRows } from '../reading/stock.ts';

/** One delivery of a batch as the book has it. */
export type Delivery = {
  id: string;
  medicine: string;
  number: string;
  received: string;
  seq: number;
  data: DataOf<'batch-received'>;
};

/** A batch as a recall means it: a number of one medicine, however often it came in, and whether it did at all. */
export type BatchAsked = { medicine: string; number: string; deliveries: Delivery[] };

type RawDelivery = Omit<Delivery, 'data'> & { data: string };
const DELIVERY = 'SELECT id, medicine, number, received, seq, data FROM batch';
const readDelivery = (row: RawDelivery): Delivery => ({ ...row, data: JSON.parse(row.data) });

/** Every delivery in the book, the newest first. */
export function deliveriesOf(tx: Reader): Delivery[] {
  return tx.all<RawDelivery>(`${DELIVERY} ORDER BY seq DESC`).map(readDelivery);
}

/** Doses that came from a bottle of the vet, a contractor or an earlier keeper, with the batch that was written. */
export type Elsewhere = { id: string; medicine: string; number: string; from: string };

/** Doses that did not come from our cabinet and name their batch; of one medicine, or all. */
export function givenFromElsewhere(tx: Reader, medicine?: string): Elsewhere[] {
  const one = medicine === undefined ? '' : 'AND medicine = ?';
  return tx.all<Elsewhere>(
    `SELECT id, medicine, data ->> '$.source.batch' AS number, data ->> '$.source.kind' AS "from" FROM administration
     WHERE data ->> '$.source.batch' IS NOT NULL ${one} ORDER BY at, seq`,
    ...(medicine === undefined ? [] : [medicine]),
  );
}

/**
 * The batch that is asked about, by one of its deliveries or by its number. Two medicines may have a batch of the same
 * number; which is meant is asked, never guessed.
 * @throws Refusal `batch-missing`, `no-such-batch`, `ambiguous`
 */
export function batchAsked(
  tx: Reader,
  asked: { batch?: string | undefined; number?: string | undefined; medicine?: string | undefined },
): BatchAsked {
  const all = deliveriesOf(tx);
  if (asked.batch !== undefined) {
    const one = all.find(({ id }) => id === asked.batch);
    if (one === undefined) throw noSuch('This batch is not in the book.', 'batch');
    return gather(all, one.medicine, one.number);
  }
  if (asked.number === undefined) {
    throw new Refusal('batch-missing', 'Batch number: write it as it is printed on the pack.', {
      field: 'number',
    });
  }
  const key = searchKey(asked.number);
  const isIt = (one: { medicine: string; number: string }) =>
    searchKey(one.number) === key && (asked.medicine === undefined || one.medicine === asked.medicine);
  const found = [...all, ...givenFromElsewhere(tx, asked.medicine)].filter(isIt);
  const medicines = [...new Set(found.map(({ medicine }) => medicine))];
  const [medicine] = medicines;
  if (medicine === undefined) {
    throw noSuch(`Batch number: no batch ${asked.number} is in the book.`, 'number');
  }
  if (medicines.length > 1) {
    const names = medicines.map((id) => medicineName(tx, id)).join(' and of ');
    throw new Refusal('ambiguous', `Batch number: there is a batch ${asked.number} of ${names}.`, {
      field: 'number',
      next: 'Say which medicine is meant.',
    });
  }
  return gather(all, medicine, found[0]?.number ?? asked.number);
}

const noSuch = (says: string, field: string) =>
  new Refusal('no-such-batch', says, {
    field,
    next: 'Compare the number with the pack; O and 0, I and 1 are easily taken for each other.',
  });

function gather(all: readonly Delivery[], medicine: string, number: string): BatchAsked {
  const key = searchKey(number);
  const deliveries = all
    .filter((one) => one.medicine === medicine && searchKey(one.number) === key)
    .toReversed();
  return { medicine, number: deliveries[0]?.number ?? number, deliveries };
}

/** Every container of the batch, and every one that was made up from one of them, however many steps away. */
export function containersOf(
  store: Pick<Store, 'read' | 'entriesOf'>,
  asked: BatchAsked,
  tx: Reader = store.read,
): { row: StockRow; isMadeUp: boolean }[] {
  const ids = new Set(asked.deliveries.map(({ id }) => id));
  const rows = stockRows(tx);
  const byId = new Map(rows.map((row) => [row.id, row]));
  const found = new Map(
    rows
      .filter((row) => row.batch !== null && ids.has(row.batch))
      .map((row) => [row.id, { row, isMadeUp: false }]),
  );
  // A map is walked with what is added to it on the way.
  for (const id of found.keys()) {
    for (const entry of store.entriesOf(`container:${id}`)) {
      if (entry.kind !== 'container-made-up' || entry.state === 'voided') continue;
      const data = entry.data as DataOf<'container-made-up'>;
      const made = byId.get(data.container);
      if (made === undefined || found.has(made.id)) continue;
      if (data.from.some(({ container }) => container === id))
        found.set(made.id, { row: made, isMadeUp: true });
    }
  }
  return [...found.values()].sort((a, b) =>
    a.row.label < b.row.label ? -1 : a.row.label > b.row.label ? 1 : 0,
  );
}
