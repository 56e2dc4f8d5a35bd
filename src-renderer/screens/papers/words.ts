import type { Reply } from '../../../src-shared/calls/all.ts';
import { parsePeriod, periodInWords } from '../../../src-shared/quantity/period.ts';
import { attempt } from '../../../src-shared/refusal.ts';
import { compareDays, parseDay } from '../../../src-shared/time/day.ts';
import { count, dayInWords, listed } from '../../parts/words.ts';

export type Instruction = Reply<'papers'>['instructions'][number];
export type Prescription = Reply<'prescriptions'>['prescriptions'][number];
/** What its sentences are made of. */
type Prescribed = Omit<
  Prescription,
  'entry' | 'prescription' | 'vet' | 'medicine' | 'quantity' | 'receipts' | 'corrected'
> & { readonly quantity?: { readonly text: string } | undefined };

/** A paper as a line of the list: the word in the margin, the sentence, and the smaller one under it. */
export type PaperWords = { readonly margin: string; readonly text: string; readonly small: string };

/** More animals than this are counted instead of named. */
const NAMED_MOST = 6;

export const PRODUCE_WORDS: Readonly<Record<Instruction['periods'][number]['produce'], string>> = {
  meat: 'meat',
  milk: 'milk',
  'wool-harvest': 'shearing',
  'wool-handling': 'handling of the wool',
};

/** True when the last day of a paper is over. A paper without a last day never is. */
export function isOver(validUntil: string | undefined, today: string): boolean {
  if (validUntil === undefined) return false;
  return compareDays(parseDay(validUntil, 'validUntil'), parseDay(today, 'today')) < 0;
}

/** "28 d" as "28 days"; what is no period is left as it stands. */
export function sayPeriod(text: string): string {
  const period = attempt(() => parsePeriod(text, 'period'));
  return period.ok ? periodInWords(period.value) : text;
}

/** What was typed as a sentence of its own: with a full stop where it has none. */
function stopped(text: string): string {
  const line = text.replace(/\s+/g, ' ').trim();
  return /[.!?…]$/.test(line) ? line : `${line}.`;
}

/** Until when a paper is good, in a sentence. */
export function sayLastDay(validUntil: string | undefined, today: string): string {
  if (validUntil === undefined) return 'No last day was named.';
  const day = dayInWords(validUntil);
  return isOver(validUntil, today) ? `It ended on ${day}.` : `It is good until ${day}.`;
}

function forWhom(paper: Instruction): string[] {
  const of = paper.medicineName === undefined ? [] : [`With ${paper.medicineName}`];
  const names = paper.subjectNames;
  if (names.length === 0) return of.map(stopped);
  const who =
    names.length > NAMED_MOST ? count(names.length, 'animal or lot', 'animals or lots') : listed(names);
  return [...of, `For ${who}`].map(stopped);
}

/** What the vet ordered, in sentences. `today` is the day of the holding. */
export function instructionWords(paper: Instruction, today: string): PaperWords {
  const isTold = paper.form === 'told';
  const periods = paper.periods.map((row) => `${PRODUCE_WORDS[row.produce]} ${sayPeriod(row.period)}`);
  return {
    margin: isOver(paper.validUntil, today) ? 'Ended' : isTold ? 'Told' : 'Written',
    text: `${paper.vetName} ${isTold ? 'said' : 'wrote'} on ${dayInWords(paper.given)}: ${stopped(paper.what)}`,
    small: [
      ...forWhom(paper),
      periods.length === 0 ? 'No period was named.' : `Period from the vet: ${listed(periods)}.`,
      `Why: ${stopped(paper.reason)}`,
      sayLastDay(paper.validUntil, today),
    ].join(' '),
  };
}

const stateWords: Readonly<Record<Prescription['state'], string>> = {
  open: 'Valid',
  expired: 'Ended',
  'used-up': 'Used up',
};

/** What came in on a prescription and what is left of it: "50 mL came in on it, 150 mL are left." */
export function sayDrawn({ drawn, left, over }: Pick<Prescription, 'drawn' | 'left' | 'over'>): string {
  if (over !== undefined) return `${drawn} came in on it, ${over} more than it is for.`;
  if (drawn === 'none') return 'Nothing came in on it yet.';
  if (left === undefined) return `${drawn} came in on it; it names no quantity.`;
  return left === 'none' ? `All of it came in.` : `${drawn} came in on it, ${left} is left.`;
}

/** A prescription to choose from: "RX 7 of Dr Wren: 150 mL left, good until …". */
export function sayOption(paper: Prescription, today: string): string {
  const left =
    paper.state === 'used-up' ? 'used up' : paper.left === undefined ? undefined : `${paper.left} left`;
  const until =
    paper.validUntil === undefined
      ? undefined
      : `${isOver(paper.validUntil, today) ? 'ended' : 'good until'} ${dayInWords(paper.validUntil)}`;
  const rest = [left, until].filter((text) => text !== undefined).join(', ');
  return `${paper.number} of ${paper.vetName}${rest === '' ? '' : `: ${rest}`}`;
}

/** A prescription in sentences. `today` is the day of the holding. */
export function prescriptionWords(paper: Prescribed, today: string): PaperWords {
  const what =
    paper.quantity === undefined ? paper.medicineName : `${paper.quantity.text} of ${paper.medicineName}`;
  const rest = [
    ['For', paper.animals],
    ['Dose', paper.dose],
    ['Period', paper.period],
    ['Diagnosis', paper.diagnosis],
  ] as const;
  return {
    margin: paper.state === 'open' && paper.validUntil === undefined ? 'Written' : stateWords[paper.state],
    text: `Prescription ${paper.number} of ${paper.vetName} is for ${what}, written on ${dayInWords(paper.written)}.`,
    small: [
      ...rest.flatMap(([head, said]) => (said === undefined ? [] : [`${head}: ${stopped(said)}`])),
      sayDrawn(paper),
      sayLastDay(paper.validUntil, today),
      ...(paper.copies === 0 ? ['No copy of it is kept.'] : []),
    ].join(' '),
  };
}

/** A period field read back ("28 days"), or nothing while it is none. */
export function readBackPeriod(text: string): { readBack?: string } {
  const period = attempt(() => parsePeriod(text, 'period'));
  return period.ok ? { readBack: periodInWords(period.value) } : {};
}
