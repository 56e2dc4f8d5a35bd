import type { Reply } from '../../../src-shared/calls/all.ts';
import type { instructionCalls } from '../../../src-shared/calls/instruction.ts';
import { dayOf, parseInstant } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import type { Answers, Context } from '../context.ts';
import { optional } from '../optional.ts';
import { onlyHolding, personName } from '../reading/holding.ts';
import { instructionsOf, knownInstruction, treatmentsBy } from '../reading/instructions.ts';
import { medicineName } from '../reading/labels.ts';
import { subjectsOf } from '../reading/subjects.ts';
import type { Administered } from '../treat/core.ts';
import { NOT_FOLLOWED } from '../treat/instructed.ts';
import { instructionsForRun } from './for-run.ts';
import { vetMustSay } from './vet-must-say.ts';

const zoneOf = (tx: Reader): string => onlyHolding(tx)?.zone ?? 'UTC';

function instruction({ store }: Context, asked: { instruction: string }): Reply<'instruction'> {
  const tx = store.read;
  const { data, at, seq, inWriting } = knownInstruction(tx, asked.instruction);
  const { vet, what, reason, form, medicine, periods, validUntil } = data;
  const entry = store.entry(seq);
  const treatments = treatmentsBy(tx, data.instruction);
  const names = new Map(
    subjectsOf(tx, [...new Set([...data.subjects, ...treatments.map(({ subject }) => subject)])]).map(
      (row) => [row.subject, row.shown] as const,
    ),
  );
  return {
    instruction: data.instruction,
    entry: { request: entry?.request ?? '', n: entry?.n ?? 0 },
    vet,
    vetName: personName(tx, vet),
    given: dayOf(parseInstant(at, 'given'), zoneOf(tx)),
    what,
    reason,
    form,
    inWriting,
    ...optional('medicine', medicine),
    ...optional('medicineName', medicine && medicineName(tx, medicine)),
    subjects: data.subjects.map((subject) => ({ subject, shown: names.get(subject) ?? subject })),
    periods,
    ...optional('validUntil', validUntil),
    treatments: treatments.map(({ id, subject, local, product, data: text }) => {
      const { deviations } = JSON.parse(text) as Administered;
      return {
        administration: id,
        local,
        shown: names.get(subject) ?? subject,
        product,
        ...optional('why', deviations.find(({ code }) => NOT_FOLLOWED.has(code))?.text),
      };
    }),
  };
}

function notInWriting({ store }: Context): Reply<'instructions-not-in-writing'> {
  const tx = store.read;
  return {
    instructions: instructionsOf(tx)
      .filter(({ inWriting }) => !inWriting)
      .toReversed()
      .map(({ data, at }) => ({
        instruction: data.instruction,
        vetName: personName(tx, data.vet),
        given: dayOf(parseInstant(at, 'given'), zoneOf(tx)),
        what: data.what,
        treatments: treatmentsBy(tx, data.instruction).length,
      })),
  };
}

/** The vet's word: what it must be for a treatment outside the label, and what there is of it. */
export const instructionAnswers: Answers<keyof typeof instructionCalls> = {
  'vet-must-say': vetMustSay,
  'instructions-for-run': instructionsForRun,
  instruction,
  'instructions-not-in-writing': notInWriting,
};
