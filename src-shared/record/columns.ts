/**
 * The one set of columns of the medicine book as rows: what its CSV has, what its pages are printed from, and what a
 * record profile looks for. Every cell is text as people read it; what is not known is an empty cell.
 */
export const COLUMNS = {
  no: 'Number of the entry in the journal that wrote this version',
  entry: 'Lasting name of the entry the line is about: request#number; the same for all its versions',
  act: 'received, made up, given, lost, disposed, returned, counted, or left (what is there at the end)',
  state: 'stands, corrected or struck out',
  happened: 'When it happened, local to the holding: day, or day and time (ISO 8601)',
  zone: 'Time zone of that (IANA)',
  written: 'When this version was written (UTC, ISO 8601)',
  writtenBy: 'Who wrote this version',
  late: 'How late it was written, when that was more than two days after it happened',
  holding: 'Number and name of the holding',
  keeper: 'Who keeps the animals there',
  location: 'Address of the holding',
  medicine: 'Medicine, as it was called then',
  form: 'Its form',
  strength: 'Active substances with their strength',
  purpose: 'What it is for',
  supply: 'Who may supply it, as the label says',
  batch: 'Batch number as printed',
  expiry: 'Expiry as printed',
  container: 'Stickers of the containers',
  quantity: 'How much in all',
  dose: 'How much a head',
  lostWith: 'What was lost with the dose: dead space, priming, spill, leaked back',
  heads: 'How many head',
  subject: 'Lasting name of the animal or lot',
  animal: 'Animal or lot, as it is called now',
  animalsKnown:
    'How the animals are known that got it; empty when only part of a lot did and nobody can say which',
  class: 'Class of sheep then',
  species: 'Species',
  firstDay: 'First day of the treatment',
  lastDay: 'Last day of the treatment, as given or planned',
  route: 'Route',
  site: 'Place on the animal',
  reason: 'Why it was given',
  givenBy: 'Who gave it',
  from: 'Whose medicine it was, when it was not our own',
  prescriber: 'Vet who prescribed or ordered it',
  prescriberContact: 'How that vet is reached',
  prescription: 'Prescription number, or what the vet ordered',
  meatPeriod: 'Withdrawal period of meat, even if zero',
  meatUntil: 'When the meat withdrawal ends',
  milkPeriod: 'Withdrawal period of milk, even if zero',
  milkUntil: 'When the milk withdrawal ends',
  deviations: 'What was not as the label or the plan says',
  supplier: 'Supplier',
  supplierAddress: "Supplier's address",
  proof: 'Proof of purchase: number of the invoice or delivery note',
  how: 'How it was disposed of or returned; of a count, how far the book was off',
  where: 'Where to',
  why: 'Why it was lost, disposed of, or counted otherwise',
  correction: 'Why this version was corrected or struck out',
  correctedBy: 'Who did that',
  correctedOn: 'When that was written (UTC)',
  explained:
    'What is missing in it or was late and cannot be mended any more, with the reason, who gave it and on which day',
} as const;

export type ColumnName = keyof typeof COLUMNS;
export type BookLine = Readonly<Record<ColumnName, string>>;

/** The names in the order in which they stand in a file. */
export const COLUMN_NAMES = Object.keys(COLUMNS) as readonly ColumnName[];

const EMPTY = Object.fromEntries(COLUMN_NAMES.map((name) => [name, ''])) as BookLine;

/** A line with these cells; the others are empty. */
export function bookLine(cells: Partial<Record<ColumnName, string>>): BookLine {
  return { ...EMPTY, ...cells };
}

/** What a line is to a record profile. */
export const RECORD_ACTS = ['purchase', 'administration', 'disposal'] as const;
export type RecordAct = (typeof RECORD_ACTS)[number];

const ACT_OF: Readonly<Record<string, RecordAct>> = {
  received: 'purchase',
  given: 'administration',
  disposed: 'disposal',
  returned: 'disposal',
};

/** Which act of a record profile a line is; nothing for what no profile asks about. */
export function recordActOf(line: Pick<BookLine, 'act'>): RecordAct | undefined {
  return ACT_OF[line.act];
}
