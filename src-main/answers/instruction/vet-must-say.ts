import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import { periodInWords } from '../../../src-shared/quantity/period.ts';
import { parseWeight } from '../../../src-shared/quantity/weight.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { dayOf, parseInstant } from '../../../src-shared/time/zone.ts';
import type { OffLabelAnswer } from '../../../src-shared/withdrawal/off-label.ts';
import {
  isOffLabel,
  isOffLabelCode,
  sayOffLabel,
} from '../../../src-shared/withdrawal/off-label-deviations.ts';
import { leastByLaw } from '../../../src-shared/withdrawal/off-label-holds.ts';
import { printClearanceWorking } from '../../../src-shared/withdrawal/working.ts';
import type { Reader } from '../../store/store.ts';
import type { Context } from '../context.ts';
import { optional } from '../optional.ts';
import { type Holding, holdingOf, personName, recordOf } from '../reading/holding.ts';
import { type Instruction, instructionsOf } from '../reading/instructions.ts';
import { revisionOf } from '../reading/revision.ts';
import { sayHold } from '../reading/say-hold.ts';
import { type SubjectRow, subjectOfName, weightOf } from '../reading/subjects.ts';
import { type Decided, decideAdministration, type Treatment } from '../treat/core.ts';
import { goingOn, nextOf } from '../treat/courses.ts';
import { revisionsOf } from '../treat/decide-anew.ts';
import { asHoldRow, sessionLines } from '../treat/give.ts';
import { groupInSession } from '../treat/in-group.ts';
import { type Followed, instructionDeviations, NOT_FOLLOWED } from '../treat/instructed.ts';
import { inHandOf, openSessionOf, type Session } from '../treat/session.ts';
import { shelfOf } from '../treat/shelf.ts';
import { whenIn } from '../treat/when.ts';

type Ask = Asked<'vet-must-say'>;
type Answer = Reply<'vet-must-say'>;

/** Answers `vet-must-say`: decides the treatment as it would be written, and writes nothing. */
export function vetMustSay(context: Context, asked: Ask): Answer {
  const tx = context.store.read;
  const session = asked.session === undefined ? undefined : openSessionOf(tx, asked.session);
  const row = subjectOfName(tx, asked.subject);
  const holding = holdingOf(tx, session?.plan.holding ?? row.holding);
  const happened = whenIn(context, holding, asked.happened);
  const treatment = treatmentOf(tx, asked, { session, row, holding, happened });
  const shelf = shelfOf(tx, undefined, session && inHandOf(session));
  const decided = decideAdministration(tx, shelf, 'foreseen', treatment);
  const { data } = decided;
  const deviations = data.deviations.map((each) => ({ ...each, outside: isOffLabelCode(each.code) }));
  const followed: Followed = {
    medicine: data.medicine,
    subjects: [row.subject],
    local: happened.local,
    zone: happened.zone,
    at: happened.at,
  };
  return {
    ...optional('outside', sayOffLabel(data.deviations)),
    deviations,
    least: isOffLabel(data.deviations) ? leastOf(tx, decided, holding, happened.local) : [],
    instructions: choicesFor(tx, followed),
    holds: data.holds.map((hold) => sayHold(asHoldRow(hold, data, happened.at), happened.zone).text),
  };
}

/** The line of the session, or the medicine by itself, as `treat` takes it. */
function treatmentOf(
  tx: Reader,
  asked: Ask,
  of: {
    session: Session | undefined;
    row: SubjectRow;
    holding: Holding;
    happened: Treatment['happened'];
  },
): Treatment {
  const { session, row, holding, happened } = of;
  const lines = session ? sessionLines(session, asked.line === undefined ? undefined : [asked.line]) : [];
  const line = lines[0] ?? alone(asked);
  const item = session?.plan.subjects.find((each) => each.subject === row.subject);
  const weight =
    asked.weight === undefined
      ? weightOf(row)
      : parseWeight(asked.weight, 'weight', { unit: holding.weightUnit });
  return {
    ...line,
    holding,
    subject: row,
    heads: Math.min(asked.heads ?? row.heads, row.heads),
    weight,
    given: asked.given,
    route: asked.route,
    givenBy: '',
    happened,
    session: session?.id,
    instruction: asked.instruction ?? line.instruction,
    course: courseOf(tx, asked, row, line, happened.local),
    together: (session?.plan.lines ?? [])
      .filter((other) => other.line !== line.line)
      .map((other) => other.medicine),
    group: session && groupInSession(session.plan, line.line, item, false),
  };
}

function alone({
  medicine,
  doseLine,
  source,
}: Ask): Pick<Treatment, 'medicine' | 'doseLine' | 'source' | 'reason' | 'line' | 'instruction'> {
  if (medicine === undefined) {
    throw new Refusal('what-was-given', 'Say which medicine was given.', {
      field: 'medicine',
      next: 'Choose the medicine first.',
    });
  }
  return { medicine, doseLine, source, reason: 'foreseen', line: undefined, instruction: undefined };
}

function courseOf(
  tx: Reader,
  asked: Ask,
  row: SubjectRow,
  line: { medicine: string; doseLine?: string | undefined },
  local: string,
): Treatment['course'] {
  if (asked.course === undefined) {
    return asked.session === undefined ? undefined : goingOn(tx)(row.subject, line, local);
  }
  const record = recordOf<Parameters<typeof nextOf>[1]>(tx, 'course', asked.course);
  return record && nextOf(tx, record, local);
}

function leastOf(tx: Reader, { data }: Decided, holding: Holding, happened: string): Answer['least'] {
  const labels = revisionsOf(data).map((revision) => revisionOf(tx, revision).terms);
  return (['meat', 'milk'] as const).flatMap((produce) => {
    const least = leastByLaw(labels, { produce, market: 'domestic' }, { happened }, holding.law);
    if (least === undefined) return [];
    return [
      {
        produce,
        text: sayLeast(least.answer),
        ...optional('period', least.period),
        working: printClearanceWorking(least.working),
        warnings: least.answer.warnings,
      },
    ];
  });
}

function sayLeast(answer: OffLabelAnswer): string {
  if ('minimum' in answer) {
    return answer.isBinding
      ? `no less than ${periodInWords(answer.minimum)}`
      : `${periodInWords(answer.minimum)} can be applied`;
  }
  return answer.floor === undefined
    ? 'the law has no number: the vet must state it'
    : `the law has no number: the vet must state it, not below ${periodInWords(answer.floor)}`;
}

function choicesFor(tx: Reader, followed: Followed): Answer['instructions'] {
  const choices = instructionsOf(tx).map((one) => choiceOf(tx, one, followed));
  return [
    ...choices.filter(({ why }) => why === undefined),
    ...choices.filter(({ why }) => why !== undefined),
  ];
}

function choiceOf(tx: Reader, one: Instruction, followed: Followed): Answer['instructions'][number] {
  return { ...shownChoice(tx, one, followed.zone), ...optional('why', notFollowed(tx, one, followed)) };
}

/** Why the periods of an instruction do not count for a treatment; nothing where they do. */
export function notFollowed(tx: Reader, one: Instruction, followed: Followed): string | undefined {
  return instructionDeviations(tx, one, followed).find(({ code }) => NOT_FOLLOWED.has(code))?.text;
}

/** An instruction as it is chosen by. */
export function shownChoice(
  tx: Reader,
  { data, at, inWriting }: Instruction,
  zone: string,
): Omit<Answer['instructions'][number], 'why'> {
  const { instruction, vet, what, form, periods } = data;
  return {
    instruction,
    vetName: personName(tx, vet),
    given: dayOf(parseInstant(at, 'given'), zone),
    what,
    form,
    inWriting,
    periods,
  };
}
