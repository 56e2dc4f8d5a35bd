import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { Happened } from '../../../src-shared/entries/kind.ts';
import type { Reader } from '../../store/store.ts';
import type { Context } from '../context.ts';
import { optional } from '../optional.ts';
import { holdingOf } from '../reading/holding.ts';
import { type Instruction, instructionsOf } from '../reading/instructions.ts';
import { medicineName } from '../reading/labels.ts';
import { type SubjectRow, subjectsOf } from '../reading/subjects.ts';
import { openSessionOf } from '../treat/session.ts';
import { whenIn } from '../treat/when.ts';
import { notFollowed, shownChoice } from './vet-must-say.ts';

type Choice = Reply<'instructions-for-run'>['lines'][number]['instructions'][number];

/** Answers `instructions-for-run`: for whom of those treated together each instruction would hold. Writes nothing. */
export function instructionsForRun(
  context: Context,
  asked: Asked<'instructions-for-run'>,
): Reply<'instructions-for-run'> {
  const tx = context.store.read;
  const { plan } = openSessionOf(tx, asked.session);
  const when = whenIn(context, holdingOf(tx, plan.holding), undefined);
  const rows = subjectsOf(tx, asked.subjects);
  const heads = headsOf(rows);
  const all = instructionsOf(tx);
  return {
    heads,
    lines: plan.lines.map(({ line, medicine, instruction: planned }) => ({
      line,
      name: medicineName(tx, medicine),
      ...optional('planned', planned),
      instructions: all
        .map((one) => choiceFor(tx, one, { rows, medicine, when }))
        .filter((one) => one.notFor < heads || one.instruction === planned),
    })),
  };
}

const headsOf = (rows: readonly SubjectRow[]) => rows.reduce((sum, row) => sum + row.heads, 0);

function choiceFor(
  tx: Reader,
  one: Instruction,
  { rows, medicine, when }: { rows: readonly SubjectRow[]; medicine: string; when: Happened },
): Choice {
  const not = rows.flatMap((row) => {
    const why = notFollowed(tx, one, { medicine, subjects: [row.subject], ...when });
    return why === undefined ? [] : [{ row, why }];
  });
  return {
    ...shownChoice(tx, one, when.zone),
    notFor: headsOf(not.map(({ row }) => row)),
    ...optional('why', not[0]?.why),
  };
}
