import { type DataOf, KINDS_OF_ENTRY } from '../../../src-shared/entries/all.ts';
import type { Entry } from '../../../src-shared/entries/kind.ts';
import { type AmountData, unitsOf } from '../../../src-shared/entries/parts.ts';
import { amountOf, printAmount } from '../../../src-shared/quantity/amount.ts';
import { type BookLine, bookLine } from '../../../src-shared/record/columns.ts';
import { printExpiry } from '../../../src-shared/stock/use-by.ts';
import type { Reader } from '../../store/store.ts';
import type { lineMaker } from './book-lines.ts';
import { medicineName } from './labels.ts';
import { type Version, versionsOf } from './versions.ts';

type Maker = ReturnType<typeof lineMaker>;
type Batch = DataOf<'batch-received'>;
type Moved = DataOf<'stock-moved'>;
type MadeUp = DataOf<'container-made-up'>;

/** A line with the instant and number it sorts by, and the medicine it is of. */
export type PlacedLine = { at: string; seq: number; medicine: string; line: BookLine };

/** The entries that moved stock without a dose, those that were struck out among them. */
const STOCK_ENTRIES = `SELECT DISTINCT journal.seq, journal.line FROM journal WHERE journal.seq IN (
    SELECT seq FROM batch
    UNION SELECT seq FROM movement WHERE cause IN ('made-up', 'lost', 'disposed', 'returned', 'counted') AND administration IS NULL
    UNION SELECT target FROM correction)
  AND journal.line ->> '$.kind' IN ('batch-received', 'container-made-up', 'stock-moved')
  ORDER BY journal.seq`;

/**
 * What came in and what went out of the containers without a dose, in a period (instants, the first included and the
 * last not); every version of each. The stock is the business's: it is of no one holding.
 */
export function stockLines(tx: Reader, make: Maker, range: { from: string; to: string }): PlacedLine[] {
  const container = containerReader(tx);
  const found: PlacedLine[] = [];
  for (const { line } of tx.all<{ seq: number; line: string }>(STOCK_ENTRIES)) {
    const entry = JSON.parse(line) as Entry;
    for (const placed of linesOf(tx, make, entry, container)) {
      if (placed.at >= range.from && placed.at < range.to) found.push(placed);
    }
  }
  return found.sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : a.seq - b.seq));
}

/** The versions of one entry that moved stock; nothing for an entry of another kind. */
export function linesOf(
  tx: Reader,
  make: Maker,
  entry: Entry,
  container = containerReader(tx),
): PlacedLine[] {
  if (entry.kind === 'batch-received') {
    return versionsOf<Batch>(tx, KINDS_OF_ENTRY['batch-received'], entry).map((version) =>
      received(tx, make, entry, version),
    );
  }
  if (entry.kind === 'container-made-up') {
    return versionsOf<MadeUp>(tx, KINDS_OF_ENTRY['container-made-up'], entry).map((version) =>
      madeUp(tx, make, entry, version),
    );
  }
  if (entry.kind !== 'stock-moved') return [];
  return versionsOf<Moved>(tx, KINDS_OF_ENTRY['stock-moved'], entry).flatMap((version) => {
    if (['quarantined', 'released', 'carried'].includes(version.data.cause)) return [];
    return [moved(tx, make, entry, version, container(version.data.container))];
  });
}

function received(tx: Reader, make: Maker, entry: Entry, version: Version<Batch>): PlacedLine {
  const { data } = version;
  const amounts = data.containers.map(({ amount }) => amount);
  return {
    at: version.at,
    seq: entry.seq,
    medicine: data.medicine,
    line: bookLine({
      ...make.medicineCells(data.revision),
      ...make.wroteCells(entry, version),
      act: 'received',
      medicine: medicineName(tx, data.medicine),
      batch: data.number,
      expiry: printExpiry(data.expiry),
      container: data.containers.map(({ label }) => label).join(', '),
      quantity: sumText(amounts, make.piece(data.revision)),
      supplier: data.supplier ?? '',
      supplierAddress: data.supplierAddress ?? '',
      proof: data.proof?.text ?? make.papers(`batch:${data.batch}`),
    }),
  };
}

function madeUp(tx: Reader, make: Maker, entry: Entry, version: Version<MadeUp>): PlacedLine {
  const { data } = version;
  return {
    at: version.at,
    seq: entry.seq,
    medicine: data.medicine,
    line: bookLine({
      ...make.medicineCells(data.revision),
      ...make.wroteCells(entry, version),
      act: 'made up',
      medicine: medicineName(tx, data.medicine),
      strength: data.strength,
      batch: data.batch ?? '',
      container: data.label,
      quantity: sumText([data.amount], make.piece(data.revision)),
    }),
  };
}

type Container = { medicine: string; revision: string; label: string; batch: string; expiry: string };

function moved(
  tx: Reader,
  make: Maker,
  entry: Entry,
  version: Version<Moved>,
  of: Container & { name: string },
): PlacedLine {
  const { data } = version;
  return {
    at: version.at,
    seq: entry.seq,
    medicine: of.medicine,
    line: bookLine({
      ...make.medicineCells(of.revision),
      ...make.wroteCells(entry, version),
      act: data.cause,
      medicine: of.name,
      batch: of.batch,
      expiry: of.expiry,
      container: of.label,
      quantity: data.amount === undefined ? '' : sumText([data.amount], make.piece(of.revision)),
      how: data.cause === 'counted' ? countedWords(tx, make, entry, version, of) : (data.how ?? ''),
      where: data.where ?? '',
      why: [data.why, data.difference?.replaceAll('-', ' ')].filter((part) => part !== undefined).join('; '),
    }),
  };
}

/** How far the book was off when it was counted; nothing of a count that does not stand. */
function countedWords(
  tx: Reader,
  make: Maker,
  entry: Entry,
  { state, data }: Version<Moved>,
  of: Container,
): string {
  const found = tx.get<{ units: number }>(
    "SELECT units FROM movement WHERE seq = ? AND cause = 'counted'",
    entry.seq,
  );
  if (state !== 'stands' || found === undefined || data.amount === undefined) return '';
  const { units } = found;
  if (units === 0) return 'as the book had it';
  const off = printAmount(amountOf(data.amount.kind, Math.abs(units)), make.piece(of.revision));
  return `${off} ${units < 0 ? 'less' : 'more'} than the book had`;
}

/** The containers by their id, each read once; one that is not in the book has no name and no batch. */
function containerReader(tx: Reader): (id: string) => Container & { name: string } {
  const known = new Map<string, Container & { name: string }>();
  return (id) => {
    const found = known.get(id);
    if (found) return found;
    const row = tx.get<Omit<Container, 'expiry'> & { expiry: string | null }>(
      `SELECT c.medicine, c.revision, c.label, coalesce(b.number, c.batch_text, '') AS batch,
         b.data -> '$.expiry' AS expiry
       FROM container AS c LEFT JOIN batch AS b ON b.id = c.batch WHERE c.id = ?`,
      id,
    );
    const made =
      row === undefined
        ? { medicine: '', revision: '', label: id, batch: '', expiry: '', name: '' }
        : {
            ...row,
            expiry: row.expiry === null ? '' : printExpiry(JSON.parse(row.expiry) as Batch['expiry']),
            name: medicineName(tx, row.medicine),
          };
    known.set(id, made);
    return made;
  };
}

function sumText(amounts: readonly AmountData[], word: string | undefined): string {
  const kind = amounts[0]?.kind ?? 'volume';
  const units = amounts.reduce((sum, amount) => sum + unitsOf(amount), 0);
  const text = printAmount(amountOf(kind, units), word);
  const all = amounts.map((amount) => printAmount(amountOf(kind, unitsOf(amount)), word));
  if (amounts.length < 2) return text;
  return new Set(all).size === 1 ? `${text} (${amounts.length} × ${all[0]})` : `${text} (${all.join(' + ')})`;
}

type Left = {
  id: string;
  medicine: string;
  revision: string;
  label: string;
  kind: AmountData['kind'];
  batch: string;
  expiry: string | null;
  units: number;
};

/** What was in each container at an instant, by everything that had happened to it before; nothing of empty ones. */
export function leftLines(tx: Reader, make: Maker, at: string): PlacedLine[] {
  const rows = tx.all<Left>(
    `SELECT c.id, c.medicine, c.revision, c.label, c.kind, coalesce(b.number, c.batch_text, '') AS batch,
       b.data -> '$.expiry' AS expiry, sum(m.units) AS units
     FROM container AS c JOIN movement AS m ON m.subject = c.subject AND m.at < ?
     LEFT JOIN batch AS b ON b.id = c.batch
     GROUP BY c.id HAVING sum(m.units) <> 0 ORDER BY c.medicine, c.unusable_from, c.label`,
    at,
  );
  return rows.map((row) => {
    const { units } = row;
    const text = printAmount(amountOf(row.kind, Math.abs(units)), make.piece(row.revision));
    return {
      at,
      seq: 0,
      medicine: row.medicine,
      line: bookLine({
        ...make.medicineCells(row.revision),
        act: 'left',
        state: 'stands',
        medicine: medicineName(tx, row.medicine),
        batch: row.batch,
        expiry: row.expiry === null ? '' : printExpiry(JSON.parse(row.expiry) as Batch['expiry']),
        container: row.label,
        quantity: units > 0 ? text : `${text} more went out than came in: count it`,
      }),
    };
  });
}
