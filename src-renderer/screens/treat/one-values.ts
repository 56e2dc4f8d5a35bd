import type { Ask } from '../../../src-shared/calls/all.ts';
import type { DoseLine, LabelTerms, SheepClass } from '../../../src-shared/label/terms.ts';
import { parsePeriod } from '../../../src-shared/quantity/period.ts';
import { attempt } from '../../../src-shared/refusal.ts';
import { addDays, type Day, parseDay } from '../../../src-shared/time/day.ts';
import type { Problem } from '../../hooks/use-form.ts';
import { weighedHowOf } from '../../parts/weight-values.ts';
import { leakedOf } from './leaked-values.ts';
import { lineAsk, linesOf } from './plan-values.ts';
import { routeOf, sideOf } from './words.ts';

export type OneValues = {
  /** The one animal or lot; empty until it is found. */
  subject: string;
  /** A PlanLine as JSON, in a list as a plan keeps them. */
  lines: readonly string[];
  heads: string;
  weight: string;
  weightHow: string;
  girth: string;
  length: string;
  leaked: string;
  given: string;
  /** The way it went in, where that is not the label's; empty for that. */
  route: string;
  bottle: string;
  site: string;
  side: string;
  needle: string;
  when: string;
  at: string;
  givenBy: string;
  course: string;
  days: readonly string[];
};

/** What the choice of a course may say beside the id of one that is open. */
export const NO_COURSE = '';
export const NEW_COURSE = 'new';

/** The dose line that is meant: the one chosen, or the only one that fits the class. */
export function doseLineOf(
  terms: LabelTerms,
  chosen: string,
  cls: SheepClass | string,
): DoseLine | undefined {
  if (chosen !== '') return terms.doseLines.find((line) => line.id === chosen);
  const fits = terms.doseLines.filter(
    (line) => line.classes.length === 0 || line.classes.some((one) => one === cls),
  );
  return fits.length === 1 ? fits[0] : undefined;
}

/** The days of all doses of a course that begins on `first`; undefined when they are not whole days apart. */
export function courseDays(
  repeats: NonNullable<DoseLine['repeats']>,
  first: string,
): readonly string[] | undefined {
  const due = attempt(() => parsePeriod(repeats.due, 'due'));
  const start = attempt<Day>(() => parseDay(first.slice(0, 10), 'first'));
  if (!due.ok || !start.ok) return undefined;
  const hours = due.value.unit === 'd' ? due.value.value * 24 : due.value.value;
  if (hours % 24 !== 0) return undefined;
  return Array.from({ length: repeats.doses }, (_, n) => addDays(start.value, (hours / 24) * n));
}

/** The days of every dose of the course that this dose begins, for a plan to cover; nothing while a day is not one. */
export function courseSaid(values: OneValues): Pick<Ask<'plan-session'>, 'courseDays'> {
  if (values.course !== NEW_COURSE) return {};
  const days = values.days.map((day) => day.trim()).filter((day) => day !== '');
  const isWhole = days.every((day) => attempt(() => parseDay(day.slice(0, 10), 'days')).ok);
  return days.length < 2 || !isWhole ? {} : { courseDays: days };
}

/** What is missing before it can be written. */
export function oneProblems(values: OneValues): Problem[] {
  const line = linesOf(values.lines)[0];
  const problems: Problem[] = [];
  if (values.subject === '') problems.push({ field: 'subject', message: 'Say which animal or lot it was.' });
  if (line === undefined || line.medicine === '') {
    problems.push({ field: 'line-medicine', message: 'Choose the medicine.' });
  } else if (line.reason.trim() === '') {
    problems.push({ field: 'line-reason', message: 'Write the reason.' });
  }
  if (values.when === 'earlier' && values.at === '') {
    problems.push({ field: 'at', message: 'Write the day it was given.' });
  }
  if (values.heads.trim() !== '' && !/^[1-9]\d{0,6}$/.test(values.heads.trim())) {
    problems.push({ field: 'heads', message: 'Write how many head, as a whole number.' });
  }
  if (values.course === NEW_COURSE && values.days.filter((day) => day.trim() !== '').length < 2) {
    problems.push({
      field: 'course',
      message: 'A course has at least two days. Write when the next dose is due.',
    });
  }
  return problems;
}

/** A field that was filled in, alone under its name; nothing when it was left empty. */
function said<N extends string>(name: N, text: string): { [K in N]?: string } {
  const trimmed = text.trim();
  // A name that is computed is typed as plain text; it is N.
  return trimmed === '' ? {} : ({ [name]: trimmed } as { [K in N]?: string });
}

/** The one writing call of a single treatment. To be asked only when `oneProblems` finds nothing. */
export function oneSend(values: OneValues): Omit<Ask<'treat'>, 'request' | 'by' | 'confirmed'> {
  const [line] = linesOf(values.lines);
  if (line === undefined) throw new Error('oneSend without a medicine');
  const side = sideOf(values.side);
  const route = routeOf(values.route);
  const weightHow = weighedHowOf(values.weightHow);
  const leaked = leakedOf(values.leaked);
  const days = values.days.map((day) => day.trim()).filter((day) => day !== '');
  return {
    single: lineAsk(line),
    subject: values.subject,
    ...said('weight', values.weight),
    ...said('given', values.given),
    ...said('site', values.site),
    ...said('needle', values.needle),
    ...said('givenBy', values.givenBy),
    ...(values.heads.trim() === '' ? {} : { heads: Number(values.heads) }),
    ...(values.weight.trim() === '' ? {} : { weightHow }),
    ...(route === undefined ? {} : { route }),
    ...(leaked === undefined ? {} : { leaked }),
    ...(values.bottle === '' ? {} : { containers: [values.bottle] }),
    ...(side === undefined ? {} : { side }),
    ...(values.when === 'earlier' ? { happened: values.at } : {}),
    ...(values.course === NO_COURSE
      ? {}
      : { course: values.course === NEW_COURSE ? { planned: days } : { course: values.course } }),
  };
}
