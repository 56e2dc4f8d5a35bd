import type { Ask } from '../../../src-shared/calls/all.ts';
import { parseAmount } from '../../../src-shared/quantity/amount.ts';
import { attempt } from '../../../src-shared/refusal.ts';
import type { Problem } from '../../hooks/use-form.ts';
import { groupingOf, groupingProblems } from './grouping-values.ts';
import { OTHER_SYRINGE, ownOf, sourceOf, syringeOf } from './words.ts';

type LineAsk = Ask<'plan-session'>['lines'][number];

/** One medicine of a plan as it is being chosen. */
export type PlanLine = {
  medicine: string;
  doseLine: string;
  source: string;
  reason: string;
  syringe: string;
  holds: string;
  marks: string;
  batch: string;
  /** Id of the vet's instruction it is given by, and of the prescription; empty for none. */
  instruction: string;
  prescription: string;
  /** How the animals are dosed together: empty for each by its own weight. */
  grouping: string;
  parts: string;
  cap: string;
  gate: string;
  /** How those that were weighed were picked, and weights that stand under no name. */
  picked: string;
  sample: string;
};

export type PlanValues = {
  name: string;
  mode: string;
  groups: readonly string[];
  lots: readonly string[];
  /** Each "subject, TAB, as shown". */
  animals: readonly string[];
  /** Each a PlanLine as JSON: a form holds only texts and lists of texts. */
  lines: readonly string[];
  marked: boolean;
  colour: string;
  place: string;
  lastsDays: string;
  sharpsOut: string;
};

export const emptyLine: PlanLine = {
  medicine: '',
  doseLine: '',
  source: 'ours',
  reason: '',
  syringe: '',
  holds: '',
  marks: '',
  batch: '',
  instruction: '',
  prescription: '',
  grouping: '',
  parts: '3',
  cap: '100',
  gate: '',
  picked: '',
  sample: '',
};

/** The plan of a form with nothing chosen yet. */
export const emptyPlan: PlanValues = {
  name: '',
  mode: 'each',
  groups: [],
  lots: [],
  animals: [],
  lines: [JSON.stringify(emptyLine)],
  marked: false,
  colour: 'blue',
  place: 'shoulder',
  lastsDays: '28',
  sharpsOut: '',
};

/** The lines that a form kept; what an older form kept otherwise is left out. */
export function linesOf(kept: readonly string[]): PlanLine[] {
  return kept.map((text) => {
    const read: unknown = JSON.parse(text);
    const held = typeof read === 'object' && read !== null ? Object.entries(read) : [];
    const fits = held.filter(([name, value]) => Object.hasOwn(emptyLine, name) && typeof value === 'string');
    return { ...emptyLine, ...Object.fromEntries(fits) };
  });
}

/** An animal as a form keeps it. */
export function printAnimal(subject: string, shown: string): string {
  return `${subject}\t${shown}`;
}

/** The animals that a form kept. */
export function animalsOf(kept: readonly string[]): { subject: string; shown: string }[] {
  return kept.flatMap((text) => {
    const [subject, shown] = text.split('\t');
    return subject === undefined || shown === undefined ? [] : [{ subject, shown }];
  });
}

function isVolume(text: string): boolean {
  const read = attempt(() => parseAmount(text, 'syringe'));
  return read.ok && read.value.kind === 'volume';
}

/** The syringe of a line, when one is said and can be read. */
export function syringeSaid(line: PlanLine): { capacity: string; graduation: string } | undefined {
  if (line.syringe !== OTHER_SYRINGE) return syringeOf(line.syringe);
  return isVolume(line.holds) && isVolume(line.marks)
    ? { capacity: line.holds, graduation: line.marks }
    : undefined;
}

/** A line as the desk takes it. The reason does not change a plan, so a plan may be shown before it is written. */
export function lineAsk(line: PlanLine, reason = line.reason): LineAsk {
  const own = ownOf(line.syringe);
  const syringe = own === undefined ? syringeSaid(line) : undefined;
  const source = sourceOf(line.source);
  const grouping = groupingOf(line);
  return {
    medicine: line.medicine,
    source,
    reason,
    ...(line.doseLine === '' ? {} : { doseLine: line.doseLine }),
    ...(syringe === undefined ? {} : { syringe }),
    // The desk fills in what it holds and its marks.
    ...(own === undefined ? {} : { equipment: own.equipment }),
    ...(source === 'ours' || line.batch.trim() === '' ? {} : { batch: line.batch }),
    ...(line.instruction === '' ? {} : { instruction: line.instruction }),
    ...(line.prescription === '' ? {} : { prescription: line.prescription }),
    ...(grouping === undefined ? {} : { grouping }),
  };
}

/** What to ask for the live plan, or null while somebody or something is not chosen yet. */
export function planAsk(holding: string, values: PlanValues): Ask<'plan-session'> | null {
  const lines = linesOf(values.lines).filter((line) => line.medicine !== '');
  const subjects = [...values.lots, ...animalsOf(values.animals).map((one) => one.subject)];
  if (lines.length === 0 || subjects.length + values.groups.length === 0) return null;
  return {
    holding,
    mode: values.mode === 'mass' ? 'mass' : 'each',
    groups: [...values.groups],
    subjects,
    lines: lines.map((line) => lineAsk(line, 'Plan')),
  };
}

/** What is still missing before a session can be opened, each with its field. */
export function planProblems(values: PlanValues): Problem[] {
  const problems: Problem[] = [];
  const lines = linesOf(values.lines);
  if (values.groups.length + values.lots.length + values.animals.length === 0) {
    problems.push({ field: 'animals', message: 'Choose who is treated: a group, a lot or animals by tag.' });
  }
  lines.forEach((line, n) => {
    if (line.medicine === '') problems.push({ field: `line${n}-medicine`, message: 'Choose the medicine.' });
    if (line.reason.trim() === '') problems.push({ field: `line${n}-reason`, message: 'Write the reason.' });
    problems.push(...groupingProblems(line, `line${n}`));
    if (line.syringe === OTHER_SYRINGE && syringeSaid(line) === undefined) {
      problems.push({
        field: `line${n}-holds`,
        message: 'Write what the syringe holds and what one mark is, each in mL.',
      });
    }
  });
  if (values.name.trim() === '') problems.push({ field: 'name', message: 'Give the work a name.' });
  if (values.marked && (values.colour.trim() === '' || values.place.trim() === '')) {
    problems.push({ field: 'colour', message: 'Write the colour and the place of the mark.' });
  }
  if (values.marked && !(/^\d{1,3}$/.test(values.lastsDays) && Number(values.lastsDays) >= 1)) {
    problems.push({ field: 'lastsDays', message: 'Write for how many days the mark can be read.' });
  }
  if (values.sharpsOut.trim() !== '' && !/^\d{1,5}$/.test(values.sharpsOut.trim())) {
    problems.push({ field: 'sharpsOut', message: 'Write how many needles go out, as a whole number.' });
  }
  return problems;
}

/** The call that opens the session. To be asked only when `planProblems` finds nothing. */
export function openAsk(
  holding: string,
  values: PlanValues,
  isSharp: boolean,
): Omit<Ask<'open-session'>, 'request' | 'by' | 'confirmed'> {
  const { name, mode, marked, colour, place, lastsDays, sharpsOut } = values;
  return {
    holding,
    name,
    mode: mode === 'mass' ? 'mass' : 'each',
    groups: [...values.groups],
    subjects: [...values.lots, ...animalsOf(values.animals).map((one) => one.subject)],
    lines: linesOf(values.lines).map((line) => lineAsk(line)),
    ...(marked ? { mark: { colour, place, lastsDays: Number(lastsDays) } } : {}),
    ...(isSharp && sharpsOut.trim() !== '' ? { sharpsOut: Number(sharpsOut) } : {}),
  };
}
