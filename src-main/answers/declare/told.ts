import { Refusal } from '../../../src-shared/refusal.ts';
import { dayOf, type Instant, instantOf } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import { optional } from '../optional.ts';
import { type Holding, holdingOf } from '../reading/holding.ts';
import { kinOf } from '../reading/holds.ts';
import { type SubjectRow, shownOf, subjectOfName } from '../reading/subjects.ts';
import { type AccompaniedAsk, accompaniedBy, sayAccompanied } from './accompanied.ts';
import {
  barring,
  begunBy,
  type DeclarationLine,
  declarationLines,
  heldRow,
  holdsBySubject,
  printAt,
} from './lines.ts';

type Ask = {
  holding: string;
  to: string;
  departs: string;
  subjects: readonly { subject: string; heads?: number | undefined }[];
  accompanied: readonly AccompaniedAsk[];
};

/** What a declaration would say, and everything that stands against saying it. */
export type Told = {
  holding: Holding;
  departsAt: Instant;
  lines: DeclarationLine[];
  refused: ReturnType<typeof heldRow>[];
  openSessions: string[];
  sentences: string[];
  question: string;
};

/** What the signer answers with yes; the paper prints it. */
export const QUESTION =
  'Is every treatment of these animals in this book, and will every withdrawal period for meat have ended when they leave?';

const MOST_NAMED = 5;

/** "A, B and 3 more", so that a sentence stays one. */
export function namesOf(names: readonly string[]): string {
  const shown = names.slice(0, MOST_NAMED);
  const more = names.length - shown.length;
  if (more > 0) return `${shown.join(', ')} and ${more} more`;
  return shown.length < 2 ? shown.join('') : `${shown.slice(0, -1).join(', ')} and ${shown.at(-1)}`;
}

/**
 * Works out a declaration from the book as it stands. A day alone means its start: who is not clear then is not
 * clear on that day.
 * @throws Refusal `no-such-holding`, `no-such-animal`, `listed-twice`, `too-many-heads`, `departs-in-the-past`
 */
export function tellDeclaration(tx: Reader, asked: Ask, now: string): Told {
  const holding = holdingOf(tx, asked.holding);
  const { zone } = holding;
  const departsAt = instantOf(asked.departs, zone, 'start', 'departs');
  if (asked.departs.slice(0, 10) < dayOf(now as Instant, zone)) {
    throw new Refusal('departs-in-the-past', 'A declaration cannot be made for a day that is over.', {
      field: 'departs',
      next: 'Give the day on which they leave.',
    });
  }
  const listed = listedSubjects(tx, asked);
  const refused: Told['refused'] = [];
  const going: { row: SubjectRow; heads: number }[] = [];
  const accompanied = new Map<string, NonNullable<DeclarationLine['accompanied']>>();
  const holds = holdsBySubject(
    tx,
    listed.map(({ row }) => row.subject),
  );
  for (const each of listed) {
    const bad = barring(holds.get(each.row.subject) ?? [], 'meat', departsAt, begunBy(asked.departs, zone));
    if (each.row.present !== 1 || each.row.holding !== holding.holding) {
      const why = each.row.present === 1 ? 'is on another holding' : 'is not there any more';
      refused.push({ ...shownOf(each.row), why, holds: [] });
      continue;
    }
    const ask = asked.accompanied.find(({ subject }) => subject === each.row.subject);
    const withNeedle = ask && accompaniedBy(tx, each.row, bad, ask);
    if (withNeedle !== undefined) accompanied.set(each.row.subject, withNeedle);
    if (bad.length > 0 && withNeedle === undefined) refused.push(heldRow(each.row, bad, zone));
    else going.push(each);
  }
  const lines = declarationLines(tx, going, departsAt, zone).map((line) => ({
    ...line,
    ...optional('accompanied', accompanied.get(line.subject)),
  }));
  return {
    holding,
    departsAt,
    lines,
    refused,
    openSessions: openWork(tx, listed),
    sentences: sentencesOf(lines, zone, now),
    question: QUESTION,
  };
}

function listedSubjects(tx: Reader, asked: Ask): { row: SubjectRow; heads: number }[] {
  const seen = new Set<string>();
  return asked.subjects.map(({ subject, heads }) => {
    const row = subjectOfName(tx, subject, 'subjects');
    if (seen.has(subject)) {
      throw new Refusal('listed-twice', `${row.shown} is on the list twice.`, { field: 'subjects' });
    }
    seen.add(subject);
    if (heads !== undefined && row.present === 1 && heads > row.heads) {
      throw new Refusal('too-many-heads', `${row.shown} has ${row.heads} heads, not ${heads}.`, {
        field: 'subjects',
        next: 'Give the number that leaves, or recount the lot under Flock.',
      });
    }
    return { row, heads: heads ?? Math.max(1, row.heads) };
  });
}

type OpenSession = { id: string; name: string; subjects: string; lines: string };
type Planned = { subject: string; doses: readonly unknown[] };

/**
 * Who stands on an open work sheet and is not recorded there yet: it may have been treated this minute. A lot that
 * an animal was in when it was planned counts for the animal too.
 */
function openWork(tx: Reader, listed: readonly { row: SubjectRow }[]): string[] {
  const sessions = tx.all<OpenSession>(
    "SELECT id, name, data ->> '$.subjects' AS subjects, data ->> '$.lines' AS lines FROM session WHERE state = 'open' ORDER BY seq",
  );
  if (sessions.length === 0) return [];
  const kin = new Map(
    listed.map(({ row }) => [row.subject, kinOf(tx, row.subject).map(({ ancestor }) => ancestor)]),
  );
  return sessions.flatMap(({ id, name, subjects, lines }) => {
    const planned = new Map((JSON.parse(subjects) as Planned[]).map((each) => [each.subject, each.doses]));
    const sessionLines = (JSON.parse(lines) as { line: string }[]).map(({ line }) => line);
    const done = new Set(
      tx
        .all<{ treated: string; line: string }>(
          'SELECT treated, line FROM session_done WHERE subject = ?',
          `session:${id}`,
        )
        .map(({ treated, line }) => `${treated} ${line}`),
    );
    const waits = (subject: string): boolean =>
      (planned.get(subject) ?? []).some(
        (dose, i) => dose !== null && !done.has(`${subject} ${sessionLines[i] ?? ''}`),
      );
    return listed
      .filter(({ row }) => (kin.get(row.subject) ?? [row.subject]).some(waits))
      .map(({ row }) => `${row.shown} is on the open work sheet “${name}” and not recorded there yet`);
  });
}

/** The declaration in sentences, each of them derived from the lines. */
export function sentencesOf(lines: readonly DeclarationLine[], zone: string, now: string): string[] {
  const heads = lines.reduce((sum, each) => sum + each.heads, 0);
  if (heads === 0) return [];
  const classes = new Map<string, number>();
  for (const each of lines) classes.set(each.class, (classes.get(each.class) ?? 0) + each.heads);
  const counts = [...classes].map(([cls, n]) => `${n} ${plural(cls.replace('-', ' '), n)}`);
  const free = lines
    .filter((each) => each.treatments.length === 0)
    .reduce((sum, each) => sum + each.heads, 0);
  const said = [`${heads} head ${heads === 1 ? 'is' : 'are'} declared: ${counts.join(', ')}.`];
  const last = lines.reduce<string | undefined>(
    (latest, each) =>
      each.clearSince !== undefined && (latest === undefined || each.clearSince > latest)
        ? each.clearSince
        : latest,
    undefined,
  );
  if (free > 0) {
    said.push(
      `For ${free === heads ? (heads === 1 ? 'it' : 'all of them') : `${free} head`} the book has no treatment with a withdrawal period for meat.`,
    );
  }
  if (free < heads) {
    const treated = heads - free;
    const when = last === undefined ? '' : `, the last on ${printAt(last, zone)}`;
    said.push(
      `For ${treated} head it has such treatments, listed below; every period for meat ${
        last !== undefined && last > now ? 'ends before they leave' : 'has ended'
      }${when}.`,
    );
  }
  said.push(...sayAccompanied(lines));
  return said;
}

function plural(word: string, n: number): string {
  return n === 1 ? word : `${word}s`;
}

/**
 * Refuses by name whoever may not be declared.
 * @throws Refusal `held`, `session-open`
 */
export function checkTold(told: Told): void {
  if (told.refused.length > 0) {
    const named = told.refused.slice(0, MOST_NAMED).map((row) => `${row.shown}: ${row.why}`);
    const more = told.refused.length - named.length;
    throw new Refusal('held', `${named.join('. ')}${more > 0 ? `. And ${more} more` : ''}.`, {
      field: 'subjects',
      next: 'Take them off the list, or choose a later departure.',
    });
  }
  if (told.openSessions.length > 0) {
    const named = told.openSessions.slice(0, MOST_NAMED);
    const more = told.openSessions.length - named.length;
    throw new Refusal('session-open', `${named.join('. ')}${more > 0 ? `. And ${more} more` : ''}.`, {
      field: 'subjects',
      next: 'Record or close the session first, so that nothing given today is left out.',
    });
  }
}
