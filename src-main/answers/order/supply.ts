import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import { amountData } from '../../../src-shared/entries/parts.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { type Amount, baseOf, parseAmount, printAmount } from '../../../src-shared/quantity/amount.ts';
import { quoted } from '../../../src-shared/quantity/field.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { printPrice } from '../../../src-shared/stock/price.ts';
import { type Context, write } from '../context.ts';
import { optional } from '../optional.ts';
import { medicineOf } from '../reading/labels.ts';
import { revisionOf } from '../reading/revision.ts';
import {
  bookCurrency,
  priceInBook,
  type Supply,
  seenSupply,
  supplyOf,
  writtenSupply,
} from '../reading/supply.ts';

const MOST_LEAD = 365;

/** Answers `supply`. */
export function supply({ store }: Context, asked: Asked<'supply'>): Reply<'supply'> {
  const tx = store.read;
  const row = medicineOf(tx, asked.medicine);
  const { piece } = revisionOf(tx, row.revision).terms;
  const written = writtenSupply(tx, row.id);
  return {
    medicine: row.id,
    name: row.name,
    ...optional('written', written && shown(supplyOf(tx, row.id, piece), piece, written.packs.length > 0)),
    seen: shown(seenSupply(tx, row.id, piece), piece, true),
    ...optional('currency', bookCurrency(tx)),
  };
}

function shown(one: Supply, piece: string | undefined, hasPacks: boolean): Reply<'supply'>['seen'] {
  return {
    ...optional('supplier', one.supplier),
    packs: hasPacks
      ? one.offers.map(({ size, price }) => ({ size, ...optional('price', price && printPrice(price)) }))
      : [],
    ...optional('leadDays', one.leadDays),
    ...optional('least', one.least && printAmount(one.least, piece)),
  };
}

/** Answers `set-supply`. */
export function setSupply(context: Context, asked: Asked<'set-supply'>): Reply<'set-supply'> {
  return write<'set-supply'>(context, asked, (act): Reply<'set-supply'> => {
    const row = medicineOf(act.tx, asked.medicine);
    const { terms } = revisionOf(act.tx, row.revision);
    let currency = bookCurrency(act.tx, row.id);
    const sizes = new Map<number, number>();
    const packs = asked.packs.map(({ size, price }, i) => {
      if (size === '') {
        throw new Refusal('size-missing', 'Pack size: write how much is in one pack, as in 500 mL.', {
          field: `packs.${i}.size`,
        });
      }
      const amount = readAmount(size, `packs.${i}.size`, 'Pack size', terms);
      if (baseOf(amount) === 0) {
        throw new Refusal('bad-amount', 'Pack size: a pack cannot be empty.', {
          field: `packs.${i}.size`,
          next: 'Write how much is in one pack, as it is printed.',
        });
      }
      if (sizes.has(baseOf(amount))) {
        throw new Refusal('size-twice', `Pack size: ${printAmount(amount, terms.piece)} stands here twice.`, {
          field: `packs.${i}.size`,
          next: 'Keep the one whose price is right.',
        });
      }
      sizes.set(baseOf(amount), i);
      const read =
        price === undefined || price === '' ? undefined : priceInBook(price, `packs.${i}.price`, currency);
      currency ??= read?.currency;
      return { size, amount: amountData(amount.kind, baseOf(amount)), ...optional('price', read) };
    });
    const least = filled(asked.least) && readAmount(asked.least ?? '', 'least', 'Least stock', terms);
    act.add('supply-set', {
      medicine: row.id,
      packs,
      ...optional('supplier', filled(asked.supplier)),
      ...optional('leadDays', filled(asked.leadDays) === undefined ? undefined : readLead(asked.leadDays)),
      ...optional('least', least ? amountData(least.kind, baseOf(least)) : undefined),
    });
    return { done: true };
  });
}

/** A text that was left empty is none. */
export function filled(text: string | undefined): string | undefined {
  return text === undefined || text === '' ? undefined : text;
}

/** Whole days from 0 to a year. Refuses (`bad-lead`). */
function readLead(text = ''): number {
  const match = /^(\d{1,3})(?:\s*(?:d|days?))?$/i.exec(text);
  const days = Number(match?.[1]);
  if (match !== null && days <= MOST_LEAD) return days;
  throw new Refusal(
    'bad-lead',
    `Days an order takes: write whole days from 0 to ${MOST_LEAD}, not ${quoted(text)}.`,
    { field: 'leadDays', next: 'Leave it empty where you do not know.' },
  );
}

/** An amount in the unit of the medicine. Refuses (`units-do-not-match`, and what `parseAmount` refuses). */
export function readAmount(text: string, field: string, name: string, terms: LabelTerms): Amount {
  const amount = parseAmount(text, field, { piece: terms.piece });
  if (amount.kind === terms.kind) return amount;
  const unit = { volume: 'mL', mass: 'g or mg', pieces: `pieces (${terms.piece ?? 'such as bolus'})` }[
    terms.kind
  ];
  throw new Refusal('units-do-not-match', `${name}: ${terms.name} is measured in ${unit}, so write it so.`, {
    field,
  });
}
