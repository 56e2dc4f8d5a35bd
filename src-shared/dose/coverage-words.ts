import { stop } from '../label/say-text.ts';
import type { DoseLine } from '../label/terms.ts';
import { printDay } from '../time/day.ts';
import type { Cover, CoverNote, NextDose, PlannedDose } from './coverage.ts';

const ASK = 'ask the vet';

/** "Booster before lambing", or "dose line b". */
function named(line: Pick<DoseLine, 'id' | 'title'>): string {
  return line.title === undefined ? `dose line ${line.id}` : `“${line.title}”`;
}

/** "due 31 Mar 2026, not before 24 Mar 2026 and not after 14 Apr 2026". */
export function sayWindow({ earliest, due, latest }: NextDose): string {
  const bounds = [
    ...(earliest === undefined ? [] : [`not before ${printDay(earliest)}`]),
    ...(latest === undefined ? [] : [`not after ${printDay(latest)}`]),
  ];
  return `due ${printDay(due)}${bounds.length === 0 ? '' : `, ${bounds.join(' and ')}`}`;
}

function sayGiven({ part }: Cover): string {
  if (part === undefined) return '';
  return `dose ${part.n} of ${part.of} was given ${printDay(part.last)}`;
}

/** What the label says when a dose is late, or that it says nothing: never advice of our own. */
export function sayWhenLate(whenLate: string | undefined): string {
  return whenLate === undefined
    ? `The label does not say what to do when a dose is late: ${ASK}.`
    : `When a dose is late, the label says: ${stop(whenLate)}`;
}

/** How an animal stands, in a sentence for the list and for its page. */
export function sayCover(cover: Cover): string {
  const { next, part, follows } = cover;
  switch (cover.state) {
    case 'not-started':
      return 'No dose is on record.';
    case 'part':
      return part && next
        ? `Part of the course: ${sayGiven(cover)}; dose ${next.n} is ${sayWindow(next)}.`
        : '';
    case 'late':
      return part && next && cover.since
        ? `Late: ${sayGiven(cover)}, and dose ${next.n} has been late since ${printDay(cover.since)}. ${sayWhenLate(cover.whenLate)}`
        : '';
    case 'covered': {
      const to = cover.until ? `Covered to ${printDay(cover.until)}.` : '';
      const after =
        part && next
          ? `A course is under way: ${sayGiven(cover)}; dose ${next.n} is ${sayWindow(next)}.`
          : follows
            ? `Then ${named(follows)}.`
            : '';
      return [to, after, ...cover.notes.map(sayNote)].filter((text) => text !== '').join(' ');
    }
    case 'lapsed':
      return cover.until && cover.since
        ? `Lapsed since ${printDay(cover.since)}: it was covered to ${printDay(cover.until)}.${follows ? ` The label goes on with ${named(follows)}; whether that is enough now, ${ASK}.` : ''}`
        : '';
    case 'unknown':
      return `Not known. ${cover.notes.map(sayNote).join(' ')}`;
  }
}

/** Why it is not known, in one sentence. */
export function sayNote(note: CoverNote): string {
  const on = printDay(note.on);
  switch (note.code) {
    case 'not-stated':
      return `${named(note.line)} was complete on ${on}; the label does not say how long that protects.`;
    case 'no-first-course':
      return `The booster of ${on}${note.until ? ` protects to ${printDay(note.until)} where a first course came before it, but` : ':'} the book has no complete first course.`;
    case 'after-the-end':
      return `The booster of ${on} came after the protection had ended on ${printDay(note.ended)}: whether it is enough, ${ASK}.`;
    case 'otherwise':
      return `The dose of ${on} was not given as the label says (${note.text}): whether it counts, ${ASK}.`;
    case 'too-early':
      return `The dose of ${on} came before ${printDay(note.earliest)}, the first day the label allows: whether it counts, ${ASK}.`;
    case 'too-late':
      return `The dose of ${on} came after ${printDay(note.latest)}, the last day by the label. ${sayWhenLate(note.whenLate)} Whether it counts, ${ASK}.`;
  }
}

/** Why a planned dose is left out; nothing when it does not come too early. */
export function sayTooEarly({ n, of, mayFrom, before }: PlannedDose): string | undefined {
  if (mayFrom === undefined) return undefined;
  const since = before === undefined ? '' : `: the one before was on ${printDay(before)}`;
  return `dose ${n} of ${of} may be given from ${printDay(mayFrom)}${since}`;
}

/** Which dose a planned one is, and what to mind. */
export function sayPlanned(planned: PlannedDose): { text: string; mind?: string } {
  const { n, of, booster, before, latest, whenLate } = planned;
  if (booster !== undefined) {
    const text =
      booster.coveredTo === undefined ? 'Booster' : `Booster, covered to ${printDay(booster.coveredTo)}`;
    if (booster.firstCourse === 'part') return { text, mind: `its first course is not complete: ${ASK}` };
    if (booster.firstCourse === 'none') return { text, mind: `the book has no complete first course for it` };
    return { text };
  }
  const text =
    of === 1
      ? 'The only dose'
      : `Dose ${n} of ${of}${before === undefined ? '' : `, after ${printDay(before)}`}`;
  if (latest === undefined) return { text };
  return { text, mind: `late, the last day was ${printDay(latest)}. ${sayWhenLate(whenLate)}` };
}
