import type { Reply } from '../../../src-shared/calls/all.ts';
import type { DataOf } from '../../../src-shared/entries/all.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import { amountData } from '../../../src-shared/entries/parts.ts';
import { checkTerms } from '../../../src-shared/label/check.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { type Amount, baseOf, parseAmount } from '../../../src-shared/quantity/amount.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import { type Price, parsePrice, printPrice } from '../../../src-shared/stock/price.ts';
import {
  type Expiry,
  parseExpiry,
  printExpiry,
  unusableAfter,
  usableAt,
} from '../../../src-shared/stock/use-by.ts';
import { type Day, daysBetween, parseDay } from '../../../src-shared/time/day.ts';
import { type Act, type Asked, type Context, write } from '../context.ts';
import { addInsert } from '../medicine/answers.ts';
import { lineOf, orderOf } from '../order/lists.ts';
import { checkPrescription } from '../prescription/on-receipt.ts';
import { happenedBy } from '../reading/flock.ts';
import { type MedicineRow, medicineName, medicineOf, printLocal } from '../reading/labels.ts';
import { packOfSerial, productOf } from '../reading/pack-codes.ts';
import { needsPrescription } from '../reading/prescriptions.ts';
import { revisionOf } from '../reading/revision.ts';
import { bookCurrency } from '../reading/supply.ts';

/** As many containers as one delivery entry holds. */
const MOST_CONTAINERS = 500;
/** An expiry further off than this is more likely a slip of the keyboard (practice). */
const FAR_DAYS = 3660;
/** A container's name on its sticker is at most 40 signs long, number included. */
const MOST_BASE = 34;

/**
 * Answers `receive-batch`: one delivery of one batch. With a new insert in the box, its label comes first and the batch
 * is held to it. Each container gets a name for its sticker that no other container of the book has.
 */
export function receiveBatch(context: Context, asked: Asked<'receive-batch'>): Reply<'receive-batch'> {
  return write<'receive-batch'>(context, asked, (act): Reply<'receive-batch'> => {
    const row = medicineOf(act.tx, asked.medicine);
    const happened = happenedBy(act, undefined, 'start', asked.happened);
    const expiry = parseExpiry(asked.expiry, 'expiry');
    const unusableFrom = unusableAfter(expiry.lastDay);
    const { terms, revision } = boxed(act, row, asked);
    askAboutExpiry(act, expiry, happened.local);
    askAboutBatch(act, row, asked.number, expiry);
    const amounts = packsOf(asked, terms);
    checkSerials(act, row, asked.serials, amounts.length);
    const price =
      asked.price === undefined || asked.price === '' ? undefined : parsePrice(asked.price, 'price');
    askAboutCurrency(act, price);
    checkPrescription(act, asked.prescription, {
      medicine: row.id,
      on: happened.local.slice(0, 10) as Day,
      units: amounts.reduce((sum, amount) => sum + baseOf(amount), 0),
    });
    if (asked.order !== undefined) checkOrderLine(act, asked.order, row);
    const labels = freeLabels(act, asked.number, amounts.length);
    const containers = amounts.map((amount, i) => ({
      container: act.id(),
      label: labels[i] ?? '',
      amount: amountData(amount.kind, baseOf(amount)),
      unusableFrom,
      ...filled('serial', asked.serials[i]),
    }));
    const batch = act.id();
    act.add(
      'batch-received',
      {
        batch,
        medicine: row.id,
        revision,
        number: asked.number,
        expiry: { printed: expiry.printed, lastDay: expiry.lastDay },
        containers,
        ...(price === undefined ? {} : { price }),
        ...filled('supplier', asked.supplier),
        ...filled('supplierAddress', asked.supplierAddress),
        ...filled('store', asked.store),
        ...(asked.prescription === undefined ? {} : { prescription: asked.prescription }),
        ...(asked.order === undefined ? {} : { order: asked.order }),
        ...(asked.proof === undefined || asked.proof === '' ? {} : { proof: { text: asked.proof } }),
      },
      happened,
    );
    rememberCode(act, row, asked.code, asked.packs[0]?.size, happened);
    return {
      batch,
      revision,
      containers: containers.map(({ container, label }) => ({ container, label })),
      warnings: withoutPrescription(terms, asked),
    };
  });
}

/** A text that was left empty on the form is no text. */
function filled<K extends string>(key: K, text: string | undefined): { [P in K]?: string } {
  const found: { [P in K]?: string } = {};
  if (text !== undefined && text !== '') found[key] = text;
  return found;
}

/** The label in the box: the newest there is, or a new one typed with the delivery. */
function boxed(
  act: Act,
  row: MedicineRow,
  asked: Asked<'receive-batch'>,
): { terms: LabelTerms; revision: string } {
  if (asked.insert === 'as-before')
    return { terms: revisionOf(act.tx, row.revision).terms, revision: row.revision };
  const { terms, state } = asked.insert;
  checkTerms(terms);
  return { terms, revision: addInsert(act, row, terms, state) };
}

function askAboutExpiry(act: Act, expiry: Expiry, receivedOn: string): void {
  if (!usableAt(unusableAfter(expiry.lastDay), receivedOn)) {
    act.ask(
      'expired-on-receipt',
      `This batch was usable until ${printExpiry(expiry)} and is already expired. Is the date right?`,
      'expiry',
    );
    return;
  }
  if (daysBetween(parseDay(receivedOn.slice(0, 10), 'happened'), expiry.lastDay) > FAR_DAYS) {
    act.ask(
      'expiry-far-off',
      `${printExpiry(expiry)} is more than ten years off. Is the date right?`,
      'expiry',
    );
  }
}

/** An invoice may be in another currency; then it is in no sum of the book, and is asked about. */
function askAboutCurrency(act: Act, price: Price | undefined): void {
  const currency = price && bookCurrency(act.tx);
  if (price === undefined || currency === undefined || currency === price.currency) return;
  act.ask(
    'other-currency',
    `This book keeps its prices in ${currency}, and ${printPrice(price)} is another currency: it will be in no sum. Is it right?`,
    'price',
  );
}

type KnownBatch = { number: string; received: string; data: string };

/** The same batch number again is another delivery, or the same one typed twice; another expiry on it is a slip. */
function askAboutBatch(act: Act, row: MedicineRow, number: string, expiry: Expiry): void {
  const key = searchKey(number);
  const known = act.tx
    .all<KnownBatch>('SELECT number, received, data FROM batch WHERE medicine = ? ORDER BY seq', row.id)
    .filter((each) => searchKey(each.number) === key);
  const last = known.at(-1);
  if (!last) return;
  act.ask(
    'batch-again',
    `Batch ${last.number} of ${row.name} was received on ${printLocal(last.received)}. Is this another delivery of it?`,
    'number',
  );
  const before = (JSON.parse(last.data) as DataOf<'batch-received'>).expiry;
  if (before.lastDay !== expiry.lastDay) {
    act.ask(
      'batch-other-expiry',
      `Batch ${last.number} had the expiry ${printExpiry(before)} before, and now ${printExpiry(expiry)}. Is that right?`,
      'expiry',
    );
  }
}

function packsOf(asked: Asked<'receive-batch'>, terms: LabelTerms): Amount[] {
  const amounts = asked.packs.flatMap(({ count, size }, i) => {
    const field = `packs.${i}.size`;
    const amount = parseAmount(size, field, { piece: terms.piece });
    if (amount.kind !== terms.kind) {
      const unit = { volume: 'mL', mass: 'g or mg', pieces: `pieces (${terms.piece ?? 'such as bolus'})` }[
        terms.kind
      ];
      throw new Refusal('units-do-not-match', `Size: ${terms.name} is measured in ${unit}, so write it so.`, {
        field,
      });
    }
    if (baseOf(amount) === 0) throw new Refusal('bad-amount', 'Size: a pack cannot be empty.', { field });
    return Array.from({ length: count }, () => amount);
  });
  if (amounts.length > MOST_CONTAINERS) {
    throw new Refusal(
      'too-many-containers',
      `Packs: one delivery holds at most ${MOST_CONTAINERS} containers.`,
      {
        field: 'packs',
        next: 'Enter the delivery in parts.',
      },
    );
  }
  return amounts;
}

/** A serial number is on one pack only. Twice it is the same pack scanned again, or a slip. */
function checkSerials(act: Act, row: MedicineRow, serials: readonly string[], packs: number): void {
  const field = 'serials';
  if (serials.length > packs) {
    throw new Refusal(
      'more-serials-than-packs',
      `Packs: ${serials.length} were scanned, and ${packs} are written.`,
      { field: 'packs', next: 'Write how many came.' },
    );
  }
  const twice = serials.find((serial, i) => serials.indexOf(serial) !== i);
  if (twice !== undefined) {
    act.ask('serial-twice', `Serial number ${twice} was scanned twice. Are these really two packs?`, field);
  }
  for (const serial of serials) {
    const known = packOfSerial(act.tx, row.id, serial);
    if (known === undefined) continue;
    act.ask(
      'serial-known',
      `Serial number ${serial} is in the book already: ${known}. Is this really another pack?`,
      field,
    );
  }
}

/** Remembers what a product number stands for, once; that it stood for another medicine is asked about. */
function rememberCode(
  act: Act,
  row: MedicineRow,
  gtin: string | undefined,
  size: string | undefined,
  happened: Happened,
): void {
  if (gtin === undefined) return;
  const known = productOf(act.tx, gtin);
  if (known !== undefined && known.medicine !== row.id) {
    act.ask(
      'code-of-other',
      `The code of this pack stands for ${medicineName(act.tx, known.medicine)} so far. Is it ${row.name} from now on?`,
      'medicine',
    );
  }
  if (known?.medicine === row.id && known.size === size) return;
  act.add('product-code-set', { gtin, medicine: row.id, ...filled('size', size) }, happened);
}

/** A gap the book has from then on: said at once, because the paper is at hand now. */
function withoutPrescription(
  terms: LabelTerms,
  asked: Asked<'receive-batch'>,
): Reply<'receive-batch'>['warnings'] {
  if (asked.prescription !== undefined || !needsPrescription(terms.prescription)) return [];
  return [
    {
      code: 'no-prescription',
      text: `${terms.name} is supplied on a vet’s prescription, and none is named with this delivery. Name it when the paper is at hand.`,
    },
  ];
}

/** Refuses (`order-of-other`) a line of an order list that is for another medicine. */
function checkOrderLine(act: Act, asked: { order: string; line: string }, row: MedicineRow): void {
  const order = orderOf(act.tx, asked.order);
  if (lineOf(order, asked.line).medicine === row.id) return;
  throw new Refusal('order-of-other', `This line of order ${order.number} is not for ${row.name}.`, {
    field: 'order',
    next: 'Choose the line of this medicine, or none.',
  });
}

/** "B4-1", "B4-2" …: the batch number and the next numbers that no sticker in the book has. */
function freeLabels(act: Act, number: string, count: number): string[] {
  const base = number.slice(0, MOST_BASE);
  const taken = new Set(
    act.tx
      .all<{ label: string }>(
        'SELECT label FROM container WHERE substr(label, 1, ?) = ?',
        base.length + 1,
        `${base}-`,
      )
      .map((row) => row.label),
  );
  const free: string[] = [];
  for (let n = 1; free.length < count; n += 1) if (!taken.has(`${base}-${n}`)) free.push(`${base}-${n}`);
  return free;
}
