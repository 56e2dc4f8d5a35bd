import type { Reply } from '../../../src-shared/calls/all.ts';
import type { DoseLine } from '../../../src-shared/label/terms.ts';
import { organicRulesOn } from '../reading/certificates.ts';
import { instructionOf } from '../reading/instructions.ts';
import { printLocal } from '../reading/labels.ts';
import { revisionOf } from '../reading/revision.ts';
import { NO_WITHDRAWAL, sayHold } from '../reading/say-hold.ts';
import type { SubjectRow } from '../reading/subjects.ts';
import { goingOn, openCourses } from './courses.ts';
import type { AtTheRace, LineDose } from './dose-for.ts';
import { asHoldRow } from './give.ts';
import { decided } from './holds.ts';
import { instructionDeviations, statedBy } from './instructed.ts';
import { labelDeviations } from './outside-label.ts';
import type { SessionLine } from './plan-line.ts';
import type { Draw } from './shelf.ts';

type Foreseen = NonNullable<Reply<'dose-for'>['doses'][number]['foreseen']>;
type ShownHold = ReturnType<typeof sayHold>;

/**
 * What recording this dose now would start: its holds, as they are decided when it is written, and which dose of a
 * course it is. Nothing is written, and what is written is decided anew.
 */
export function foreseenOf(
  { tx, holding, when }: AtTheRace,
  line: SessionLine,
  row: SubjectRow,
  of: LineDose['of'],
  draws: readonly Draw[],
  /** How it departs from the label by what it had today. */
  ofDay: readonly { code: string; text: string }[],
): Foreseen | undefined {
  const { terms } = of.revision;
  const doseLine = terms.doseLines.find(({ id }) => id === line.doseLine);
  if (doseLine === undefined) return undefined;
  const revisions =
    draws.length === 0
      ? [of.revision]
      : [...new Set(draws.map((draw) => draw.revision))].map((id) => revisionOf(tx, id));
  const going = goingOn(tx)(row.subject, line, when.local);
  const course = going && openCourses(tx, row.subject).find((one) => one.course === going.course);
  const { medicine } = line;
  const { subject, heads } = row;
  const what = { subject, administration: 'foreseen', product: terms.name };
  const departs = { ...what, subjects: [subject], medicine, route: doseLine.route, heads, happened: when };
  const instruction = line.instruction === undefined ? undefined : instructionOf(tx, line.instruction);
  const followed = { medicine, subjects: [subject], local: when.local, zone: when.zone, at: when.at };
  const deviations = [
    ...labelDeviations(tx, terms, doseLine, departs),
    ...ofDay,
    ...(instruction === undefined ? [] : instructionDeviations(tx, instruction, followed)),
  ];
  const asked = {
    holding,
    subject: row,
    happened: when,
    stated: statedBy(instruction, deviations),
    organic: organicRulesOn(tx, row.subject, holding.holding, when.local.slice(0, 10)),
    ...(going === undefined ? {} : { course: going }),
  };
  const holds = decided(asked, revisions, doseLine, deviations).map((hold) =>
    sayHold(asHoldRow(hold, what, when.at), when.zone),
  );
  const says = course === undefined ? sayRepeats(doseLine) : sayCourse(course);
  return {
    meat: sayMeat(holds),
    holds,
    ...(says === undefined
      ? {}
      : { course: { ...(course === undefined ? {} : { course: course.course }), says } }),
  };
}

/** What it does to the meat, in one line: the largest words beside the dose. */
function sayMeat(holds: readonly ShownHold[]): string {
  const meat = holds.find((hold) => hold.produce === 'meat' && hold.market === 'domestic');
  if (meat === undefined) return 'The label says nothing of meat';
  if (meat.state === 'none') return 'No meat withdrawal';
  if (meat.state === 'life') return 'Meat: never for people';
  if (meat.text.includes(NO_WITHDRAWAL)) return 'No meat withdrawal (0 days)';
  if (meat.state === 'until') return `Meat withdrawal until ${meat.untilText}`;
  if (meat.state === 'event') return `Meat withdrawal ${meat.untilText}`;
  return 'Meat withdrawal: no period is stated, so time never clears it';
}

function sayCourse({ given, planned }: ReturnType<typeof openCourses>[number]): string {
  const n = given.length + 1;
  const due = planned[given.length];
  const next = planned[n];
  const said = due === undefined ? '' : `, planned for ${printLocal(due)}`;
  return `Dose ${n} of ${Math.max(planned.length, n)} of its course${said}.${next === undefined ? '' : ` The next is planned for ${printLocal(next)}.`}`;
}

function sayRepeats({ repeats }: DoseLine): string | undefined {
  if (repeats === undefined) return undefined;
  return `By the label ${repeats.doses} doses, each ${repeats.due} after the one before. No course is open for it: this dose counts by itself, and each that follows starts its withdrawal anew.`;
}
