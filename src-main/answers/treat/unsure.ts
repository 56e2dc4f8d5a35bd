import type { Asked } from '../../../src-shared/calls/all.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import type { Reader } from '../../store/store.ts';
import { type SubjectRow, subjectsOf } from '../reading/subjects.ts';
import { doneIn, exceptedIn, linesPlannedFor, plannedIn, plannedLines } from './done.ts';
import type { Session } from './session.ts';

type Line = Session['plan']['lines'][number];

/** One of whom something that was planned is not recorded and may have been given. */
export type Unsure = {
  row: SubjectRow;
  lines: Line[];
  /** Another medicine is recorded, so that it surely went through. */
  isPartly: boolean;
};

/** What the person who closes says of those without a record. */
export type Said = {
  /** How many more heads went through than are recorded; below zero, fewer. */
  missing: number;
  /** Surely not through. */
  notThrough: readonly string[];
  /** Surely none of these lines. */
  gotNone: Asked<'close-session'>['gotNone'];
};

/**
 * Who may have been given what, line by line. One that has a record of another medicine went through, and may have had
 * all that was planned for it, whatever the count of heads says. One without any record may have, as soon as more heads
 * went through than are recorded. Of a lot, heads that are not recorded count like that too. Left out by name is of whom
 * whoever closes says that it did not come through, or got none; and who was excepted from a run, but only while the
 * others account for the heads: where more went through than all of those, somebody who was excepted is among them.
 */
export function unsureIn(tx: Reader, session: Session, said: Said): Unsure[] {
  const done = doneIn(tx, session.id);
  const excepted = exceptedIn(tx, session.id);
  const absent = new Set(said.notThrough);
  const none = new Map(said.gotNone.map(({ subject, lines }) => [subject, new Set(lines)]));
  const items = plannedIn(tx, session);
  const rows = new Map(
    subjectsOf(
      tx,
      items.map(({ subject }) => subject),
    ).map((row) => [row.subject, row]),
  );
  /** Heads of which nothing is recorded and nobody said that they were left out. */
  const others = items.reduce((sum, { subject, heads }) => {
    if (absent.has(subject) || excepted.has(subject)) return sum;
    const there = Math.min(heads, rows.get(subject)?.heads ?? 0);
    return sum + Math.max(0, there - (done.get(subject)?.heads ?? 0));
  }, 0);
  return items.flatMap((item): Unsure[] => {
    const row = rows.get(item.subject);
    if (row === undefined) return [];
    const own = done.get(item.subject);
    const through = own?.heads ?? 0;
    // Without any record it may be gone into another lot since, which then carries the hold.
    const isLacking = through === 0 || through < Math.min(item.heads, row.heads);
    const mayBeMore = said.missing > 0 && !absent.has(item.subject) && isLacking;
    const lines = plannedLines(item).flatMap((i) => {
      const line = session.plan.lines[i];
      if (line === undefined) return [];
      if (none.get(item.subject)?.has(line.line)) return [];
      // One that is recorded with another medicine is one of the heads that were counted already.
      const isBelieved = said.missing <= others || through > 0;
      if (isBelieved && excepted.get(item.subject)?.has(line.line)) return [];
      return mayBeMore || (own?.lines.get(line.line) ?? 0) < through ? [line] : [];
    });
    return lines.length === 0 ? [] : [{ row, lines, isPartly: through > 0 }];
  });
}

/** Heads that were planned and are not recorded, of those who may have come through. */
export function headsWithout(tx: Reader, session: Session, notThrough: readonly string[]): number {
  const done = doneIn(tx, session.id);
  const items = plannedIn(tx, session).filter(({ subject }) => !notThrough.includes(subject));
  // As many as there are now: those moved out of a lot with a mark are recorded.
  const now = new Map(
    subjectsOf(
      tx,
      items.map(({ subject }) => subject),
    ).map((row) => [row.subject, row.heads]),
  );
  return items.reduce((sum, { subject, heads }) => {
    const there = Math.min(heads, now.get(subject) ?? heads);
    return sum + Math.max(0, there - (done.get(subject)?.heads ?? 0));
  }, 0);
}

/**
 * Refuses `not-planned-for-it` and `recorded-already`: that one got none of a medicine can only be said of what was
 * planned for it and is not in the book.
 */
export function checkGotNone(tx: Reader, session: Session, gotNone: Said['gotNone']): void {
  if (gotNone.length === 0) return;
  const done = doneIn(tx, session.id);
  const rows = new Map(
    subjectsOf(
      tx,
      gotNone.map(({ subject }) => subject),
    ).map((row) => [row.subject, row]),
  );
  for (const { subject, lines } of gotNone) {
    const shown = rows.get(subject)?.shown ?? 'This animal';
    const planned = new Set(linesPlannedFor(tx, session, subject).map(({ line }) => line));
    if (lines.some((line) => !planned.has(line))) {
      throw new Refusal('not-planned-for-it', `${shown} was not planned for this medicine.`, {
        field: 'gotNone',
        next: 'Leave it out: what was not planned for it is not held against it.',
      });
    }
    const own = done.get(subject);
    if (own !== undefined && lines.some((line) => (own.lines.get(line) ?? 0) >= own.heads)) {
      throw new Refusal('recorded-already', `${shown} has a record of this medicine in this session.`, {
        field: 'gotNone',
        next: 'If it got none, strike its record out in the book first.',
      });
    }
  }
}
