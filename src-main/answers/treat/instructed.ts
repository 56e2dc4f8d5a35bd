import { type Day, printDay } from '../../../src-shared/time/day.ts';
import { dayOf, parseInstant } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import type { Instruction } from '../reading/instructions.ts';
import { isSpokenFor } from '../reading/spoken-for.ts';

/** What a treatment must be for an instruction to hold for it. */
export type Followed = {
  medicine: string;
  /** The animal or lot, and the lot it came out of with this very act. */
  subjects: readonly string[];
  /** Local day or date-time of the treatment. */
  local: string;
  zone: string;
  /** Its instant: it tells more than a local time in minutes, and who was in a lot hangs on it. */
  at: string;
};

type Deviation = { code: string; text: string };

/** What is wrong with an instruction for a treatment: then the vet's periods do not count for it. */
export const NOT_FOLLOWED = new Set([
  'instruction-other-medicine',
  'instruction-other-animals',
  'instruction-ended',
]);

/**
 * Why an instruction does not hold for a treatment (then its periods do not count), or that it was given after the
 * treatment, which holds and is named: after a slip the vet is asked at once, and has a word on it.
 */
export function instructionDeviations(
  tx: Reader,
  instruction: Omit<Instruction, 'inWriting'>,
  of: Followed,
): Deviation[] {
  const { data, at } = instruction;
  const found: Deviation[] = [];
  const given = dayOf(parseInstant(at, 'given'), of.zone);
  const says = `The vet's instruction of ${printDay(given)}`;
  const day = of.local.slice(0, 10) as Day;
  if (data.medicine !== undefined && data.medicine !== of.medicine) {
    found.push({
      code: 'instruction-other-medicine',
      text: `${says} is about another medicine, so its periods do not count here`,
    });
  }
  if (!of.subjects.some((subject) => isSpokenFor(tx, instruction, subject, of.at))) {
    const isNamed = of.subjects.some((subject) => data.subjects.includes(subject));
    found.push({
      code: 'instruction-other-animals',
      text: `${says} is for ${isNamed ? 'this lot as it was then, and others have joined it' : 'other animals'}, so its periods do not count here`,
    });
  }
  if (data.validUntil !== undefined && day > data.validUntil) {
    found.push({
      code: 'instruction-ended',
      text: `${says} was good until ${printDay(data.validUntil as Day)}, so its periods do not count here`,
    });
  }
  if (found.length === 0 && given > day) {
    found.push({ code: 'instruction-after', text: `${says} came after the treatment` });
  }
  return found;
}

/**
 * The vet's periods for a treatment, by produce; empty where it follows no instruction, or one that does not hold for
 * it by what was named when it was decided.
 */
export function statedBy(
  instruction: Pick<Instruction, 'data'> | undefined,
  deviations: readonly { code: string }[],
): ReadonlyMap<string, string> {
  if (instruction === undefined || deviations.some(({ code }) => NOT_FOLLOWED.has(code))) return new Map();
  return new Map(instruction.data.periods.map((row) => [row.produce, row.period]));
}
