import { type DataOf, KINDS_OF_ENTRY } from '../../../src-shared/entries/all.ts';
import type { EntryName } from '../../../src-shared/entries/voided.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { parseExpiry, printExpiry } from '../../../src-shared/stock/use-by.ts';
import type { BookEntry, Reader } from '../../store/store.ts';
import { type Answer, type Asked, type Context, write } from '../context.ts';
import { personName, recordsOf } from '../reading/holding.ts';
import { medicineName, printLocal } from '../reading/labels.ts';

type Batch = DataOf<'batch-received'>;
type Moved = DataOf<'stock-moved'>;
type Administered = DataOf<'administered'>;
type Asks = Asked<'complete-entry'>;
type Blank = 'supplier' | 'supplierAddress' | 'proof' | 'how' | 'where' | 'batch' | 'expiry' | 'prescription';

const isBlank = (text: string | undefined) => text === undefined || text.trim() === '';

/** What an entry of each kind may still be told, and does not say. */
function blanksOf(entry: BookEntry): Blank[] {
  if (entry.kind === 'batch-received') {
    const data = entry.data as Batch;
    return [
      ...(isBlank(data.supplier) ? ['supplier' as const] : []),
      ...(isBlank(data.supplierAddress) ? ['supplierAddress' as const] : []),
      ...(data.proof === undefined ? ['proof' as const] : []),
      ...(data.prescription === undefined ? ['prescription' as const] : []),
    ];
  }
  if (entry.kind === 'stock-moved') {
    const { cause, how, where } = entry.data as Moved;
    if (cause !== 'disposed' && cause !== 'returned') return [];
    return [...(isBlank(how) ? ['how' as const] : []), ...(isBlank(where) ? ['where' as const] : [])];
  }
  if (entry.kind !== 'administered') return [];
  const { source, prescription, instruction } = entry.data as Administered;
  return [
    ...(source.kind !== 'ours' && isBlank(source.batch) ? ['batch' as const] : []),
    ...(source.kind !== 'ours' && isBlank(source.expiry) ? ['expiry' as const] : []),
    ...(prescription === undefined && instruction === undefined ? ['prescription' as const] : []),
  ];
}

/** The entry, as it stands. Refuses (`no-such-entry`) what is not there or was struck out. */
function standing(context: Context, name: EntryName): BookEntry {
  const entry = context.store.entryNamed(name.request, name.n);
  if (entry && entry.state !== 'voided') return entry;
  throw new Refusal('no-such-entry', 'This entry does not stand in the book.', {
    field: 'entry',
    next: 'Open it again from the list of gaps.',
  });
}

/** Answers `entry-to-complete`. */
export const entryToComplete: Answer<'entry-to-complete'> = (context, asked) => {
  const tx = context.store.read;
  const entry = standing(context, asked.entry);
  const medicine = medicineIn(tx, entry);
  const suppliers = new Map(
    tx
      .all<{ supplier: string; supplierAddress: string }>(
        `SELECT data ->> '$.supplier' AS supplier, coalesce(data ->> '$.supplierAddress', '') AS supplierAddress
         FROM batch WHERE data ->> '$.supplier' IS NOT NULL ORDER BY seq`,
      )
      .map((row) => [row.supplier, row] as const),
  );
  return {
    kind: entry.kind,
    text: `${printLocal(entry.happened.local)}, ${medicine === undefined ? '' : `${medicineName(tx, medicine)}: `}${lineOf(entry)}`,
    blanks: blanksOf(entry),
    suppliers: [...suppliers.values()],
    prescriptions: medicine === undefined ? [] : ordersFor(tx, medicine, entry.kind === 'administered'),
  };
};

function lineOf(entry: BookEntry): string {
  for (const [name, kind] of Object.entries(KINDS_OF_ENTRY)) {
    if (name === entry.kind) return kind.line(entry.data as never);
  }
  return entry.kind;
}

function medicineIn(tx: Reader, entry: BookEntry): string | undefined {
  if (entry.kind === 'stock-moved') {
    const { container } = entry.data as Moved;
    return tx.get<{ medicine: string }>('SELECT medicine FROM container WHERE id = ?', container)?.medicine;
  }
  return (entry.data as { medicine?: string }).medicine;
}

/** What the vet wrote or ordered for a medicine, as it may be named with an entry. */
function ordersFor(tx: Reader, medicine: string, withOrders: boolean): { value: string; label: string }[] {
  const prescriptions = recordsOf<DataOf<'prescription-received'>>(tx, 'prescription')
    .filter((one) => one.medicine === medicine)
    .map((one) => ({
      value: `prescription:${one.prescription}`,
      label: `Prescription ${one.number}, ${personName(tx, one.vet)}, ${printLocal(one.written)}`,
    }));
  if (!withOrders) return prescriptions;
  const orders = recordsOf<DataOf<'instruction-given'>>(tx, 'instruction')
    .filter((one) => one.medicine === undefined || one.medicine === medicine)
    .map((one) => ({
      value: `instruction:${one.instruction}`,
      label: `${one.form === 'told' ? 'Told' : 'Written'} by ${personName(tx, one.vet)}: ${one.what}`,
    }));
  return [...prescriptions, ...orders];
}

/**
 * Answers `complete-entry`: the entry is replaced by itself with what was missing. Nothing that was decided changes,
 * and nothing that is said already: that would be a correction.
 */
export const completeEntry: Answer<'complete-entry'> = (context, asked) =>
  write<'complete-entry'>(context, asked, (act) => {
    const entry = standing(context, asked.entry);
    const blanks = blanksOf(entry);
    const said = FIELDS.filter((field) => asked[field] !== undefined);
    const filled = said.find((field) => !blanks.includes(field));
    if (filled !== undefined) {
      throw new Refusal(
        'already-said',
        `${NAMES[filled]}: the book says this already, or this entry has none.`,
        {
          field: filled,
          next: 'Leave it as it is. To change what is written, correct or strike out the entry.',
        },
      );
    }
    if (said.length === 0) {
      throw new Refusal('nothing-filled-in', 'Nothing was filled in.', {
        ...(blanks[0] === undefined ? {} : { field: blanks[0] }),
        next: 'Write at least one of the things that are missing.',
      });
    }
    const data = completed(act.tx, entry, asked);
    act.add('replaced', {
      target: asked.entry,
      kind: entry.kind,
      v: entry.v,
      happened: entry.happened,
      data,
      reason: asked.reason,
    });
    return { filled: said.map((field) => NAMES[field]) };
  });

const NAMES: Readonly<Record<Blank, string>> = {
  supplier: 'Supplier',
  supplierAddress: 'Address of the supplier',
  proof: 'Proof of purchase',
  how: 'How',
  where: 'Where',
  batch: 'Batch',
  expiry: 'Expiry',
  prescription: 'Prescription or order',
};
const FIELDS = Object.keys(NAMES) as readonly Blank[];

function completed(tx: Reader, entry: BookEntry, asked: Asks): unknown {
  const { supplier, supplierAddress, proof, how, where, batch } = asked;
  const given = <T extends object>(part: T): Partial<T> =>
    Object.fromEntries(Object.entries(part).filter(([, value]) => value !== undefined)) as Partial<T>;
  if (entry.kind === 'batch-received') {
    const order = orderOf(tx, entry, asked.prescription);
    return {
      ...(entry.data as Batch),
      ...given({ supplier, supplierAddress, proof: proof === undefined ? undefined : { text: proof } }),
      ...order,
    };
  }
  if (entry.kind === 'stock-moved') return { ...(entry.data as Moved), ...given({ how, where }) };
  const data = entry.data as Administered;
  const expiry = asked.expiry === undefined ? undefined : printExpiry(parseExpiry(asked.expiry, 'expiry'));
  return {
    ...data,
    source: data.source.kind === 'ours' ? data.source : { ...data.source, ...given({ batch, expiry }) },
    ...orderOf(tx, entry, asked.prescription),
  };
}

/** The prescription or the order by its name. Refuses (`no-such-prescription`) one that is not for this medicine. */
function orderOf(
  tx: Reader,
  entry: BookEntry,
  name: string | undefined,
): { prescription?: string } | { instruction?: string } {
  if (name === undefined) return {};
  const medicine = medicineIn(tx, entry) ?? '';
  const fits = ordersFor(tx, medicine, entry.kind === 'administered').some(({ value }) => value === name);
  if (!fits) {
    throw new Refusal('no-such-prescription', 'Prescription: there is no such one for this medicine.', {
      field: 'prescription',
      next: "Write it down among the vet's papers first.",
    });
  }
  const at = name.indexOf(':');
  const id = name.slice(at + 1);
  return name.slice(0, at) === 'prescription' ? { prescription: id } : { instruction: id };
}
