import type { BookLine, ColumnName, RecordAct } from './columns.ts';

/** What an item depends on besides the line itself. */
export type ItemContext = {
  /** Milk for people is taken on this holding. */
  milk: boolean;
};

/** One thing that a record of an act has to say. */
export type Item = {
  act: RecordAct;
  /** As it is called in a list: "Supplier". */
  name: string;
  /** Every one of these cells must be filled. */
  columns: readonly ColumnName[];
  /** When it is asked for; absent: always. */
  when?: (line: BookLine, context: ItemContext) => boolean;
  /** What is missing, as a sentence that follows "12 Mar 2026, Calverol drench, batch B4:". */
  missing: string;
};

const fromVet = (line: BookLine) => line.from.startsWith('the vet');
const prescribed = (line: BookLine) =>
  line.supply === 'vet-only' || line.supply === 'vet-prescription' || fromVet(line);
const ofVaccine = (line: BookLine) => line.purpose === 'vaccine';

const item = (
  act: RecordAct,
  name: string,
  columns: readonly ColumnName[],
  missing: string,
  when?: Item['when'],
): Item => ({ act, name, columns, missing, ...(when === undefined ? {} : { when }) });

/** Every item that a profile may ask for, by its id. */
export const ITEMS = {
  'bought-on': item('purchase', 'Date received', ['happened'], 'the date it came in is not written down'),
  'bought-medicine': item('purchase', 'Medicine', ['medicine'], 'the medicine is not named'),
  'bought-batch': item('purchase', 'Batch number', ['batch'], 'the batch number is not written down'),
  'bought-expiry': item('purchase', 'Expiry', ['expiry'], 'the expiry is not written down'),
  'bought-quantity': item('purchase', 'Quantity', ['quantity'], 'the quantity is not written down'),
  'bought-strength': item(
    'purchase',
    'Strength',
    ['strength'],
    'the label in the book gives no strength',
    // A vaccine's label states no strength as a rule.
    (line) => !ofVaccine(line),
  ),
  'bought-form': item('purchase', 'Form', ['form'], 'the form is not written down'),
  supplier: item('purchase', "Supplier's name", ['supplier'], 'the supplier is not named'),
  'supplier-address': item(
    'purchase',
    "Supplier's address",
    ['supplierAddress'],
    'the address of the supplier is not written down',
  ),
  proof: item('purchase', 'Proof of purchase', ['proof'], 'there is no proof of purchase'),

  'given-on': item('administration', 'Date', ['happened'], 'the date is not written down'),
  duration: item(
    'administration',
    'First and last day',
    ['firstDay', 'lastDay'],
    'how long the treatment lasted is not written down',
  ),
  'given-medicine': item('administration', 'Medicine', ['medicine'], 'the medicine is not named'),
  'given-batch': item('administration', 'Batch number', ['batch'], 'the batch number is not written down'),
  'given-expiry': item('administration', 'Expiry', ['expiry'], 'the expiry is not written down'),
  'given-quantity': item(
    'administration',
    'Quantity',
    ['quantity'],
    'how much was given is not written down',
  ),
  dose: item('administration', 'Dose a head', ['dose'], 'the dose is not written down'),
  route: item('administration', 'Route', ['route'], 'the route is not written down'),
  animals: item(
    'administration',
    'Animals or group',
    ['animal'],
    'the animal or group it was given to is not named',
  ),
  traceable: item(
    'administration',
    'Group traceable to its animals',
    ['animalsKnown'],
    'only part of the lot got it, and the book cannot say which head',
  ),
  heads: item('administration', 'Number treated', ['heads'], 'how many head got it is not written down'),
  species: item('administration', 'Species', ['species'], 'the species is not written down'),
  location: item('administration', 'Place', ['location'], 'the place is not written down'),
  reason: item('administration', 'Reason', ['reason'], 'why it was given is not written down'),
  'given-by': item('administration', 'Who gave it', ['givenBy'], 'who gave it is not written down'),
  'vet-gave': item(
    'administration',
    'Which vet gave it, when it was the vet’s',
    ['givenBy'],
    'which vet gave it is not written down',
    fromVet,
  ),
  'vet-batch': item(
    'administration',
    'Batch number, when it was the vet’s',
    ['batch'],
    'the batch number of the vet’s medicine is not written down',
    fromVet,
  ),
  prescriber: item(
    'administration',
    'Prescribing vet',
    ['prescriber'],
    'the vet who prescribed it is not named',
    prescribed,
  ),
  'prescriber-contact': item(
    'administration',
    'How that vet is reached',
    ['prescriberContact'],
    'neither address nor telephone of the vet is written down',
    // Without a vet there is nothing to reach: that is the gap of the line above.
    (line) => prescribed(line) && line.prescriber !== '',
  ),
  prescription: item(
    'administration',
    "Prescription or vet's order",
    ['prescription'],
    "no prescription or vet's order is named with it",
    prescribed,
  ),
  'meat-period': item(
    'administration',
    'Meat withdrawal period, even if zero',
    ['meatPeriod'],
    'no meat withdrawal period is stated',
  ),
  'meat-until': item(
    'administration',
    'End of the meat withdrawal',
    ['meatUntil'],
    'when the meat withdrawal ends is not known',
  ),
  'milk-period': item(
    'administration',
    'Milk withdrawal period, even if zero',
    ['milkPeriod'],
    'no milk withdrawal period is stated',
    (_line, { milk }) => milk,
  ),
  'milk-until': item(
    'administration',
    'End of the milk withdrawal',
    ['milkUntil'],
    'when the milk withdrawal ends is not known',
    (_line, { milk }) => milk,
  ),

  'disposed-on': item('disposal', 'Date', ['happened'], 'the date is not written down'),
  'disposed-medicine': item('disposal', 'Medicine', ['medicine'], 'the medicine is not named'),
  'disposed-batch': item('disposal', 'Batch number', ['batch'], 'the batch number is not written down'),
  'disposed-quantity': item(
    'disposal',
    'Quantity',
    ['quantity'],
    'how much was disposed of is not written down',
  ),
  'disposed-how': item('disposal', 'How', ['how'], 'how it was disposed of is not written down'),
  'disposed-where': item('disposal', 'Where', ['where'], 'where it went is not written down'),
} as const satisfies Readonly<Record<string, Item>>;

export type ItemId = keyof typeof ITEMS;
export const ITEM_IDS = Object.keys(ITEMS) as readonly ItemId[];

/** An item by its id, with the type that they all share. */
export function itemOf(id: ItemId): Item {
  return ITEMS[id];
}
