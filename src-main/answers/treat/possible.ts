import type { HoldDecision } from '../../../src-shared/entries/parts.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { instantOf } from '../../../src-shared/time/zone.ts';
import type { Reader } from '../../store/store.ts';
import { organicRulesOn } from '../reading/certificates.ts';
import { holdingOf } from '../reading/holding.ts';
import { instructionOf } from '../reading/instructions.ts';
import { possibleOf } from '../reading/possible-hold.ts';
import { type SubjectRow, subjectsOf } from '../reading/subjects.ts';
import { linesPlannedFor } from './done.ts';
import { decisionsOf, holdsOfAll } from './holds.ts';
import { instructionDeviations, statedBy } from './instructed.ts';
import { type Session, sessionOf } from './session.ts';

type Line = Session['plan']['lines'][number];

/**
 * What holds an animal of which some medicines of a session are not recorded: it counts as treated with those that
 * were planned for it (`lines`), at the very end of the session, out of the boxes that were at the race, and with the
 * vet's word that the session followed.
 */
export function possiblyHolds(
  tx: Reader,
  session: Session,
  row: SubjectRow,
  lines: readonly Line[],
  closed: string,
  termsOf: (revision: string) => LabelTerms,
): HoldDecision[] {
  const holding = holdingOf(tx, session.plan.holding);
  const { zone } = holding;
  const organic = organicRulesOn(tx, row.subject, holding.holding, closed.slice(0, 10));
  const happened = { local: closed, zone };
  return holdsOfAll(
    lines.map((line) => {
      const terms = termsOf(line.revision);
      const doseLine = terms.doseLines.find((each) => each.id === line.doseLine);
      const route = doseLine?.route ?? terms.doseLines[0]?.route ?? ('other' as const);
      const instruction = line.instruction === undefined ? undefined : instructionOf(tx, line.instruction);
      const at = instantOf(closed, zone, 'end', 'closed');
      const followed = { medicine: line.medicine, subjects: [row.subject], ...happened, at };
      const stated = statedBy(
        instruction,
        instruction === undefined ? [] : instructionDeviations(tx, instruction, followed),
      );
      return decisionsOf(
        { holding, subject: row, happened, stated, organic },
        revisionsOfLine(tx, session, line).map((revision) => ({ terms: termsOf(revision) })),
        // A line the label lost is bounded by the label's other rows.
        { id: line.doseLine, route },
        [],
      );
    }),
  );
}

/** The labels in the boxes of a line: the one it was planned by, those taken to the race, and those drawn from. */
function revisionsOfLine(tx: Reader, session: Session, line: Line): string[] {
  const boxes = tx.all<{ revision: string }>(
    `SELECT revision FROM container WHERE id IN (SELECT value FROM json_each(?))
     UNION
     SELECT drawn.value ->> '$.revision' FROM session_done AS done
     JOIN administration AS a ON a.id = done.administration
     JOIN json_each(a.data, '$.source.draws') AS drawn
     WHERE done.subject = ? AND done.line = ?`,
    JSON.stringify(line.containers),
    `session:${session.id}`,
    line.line,
  );
  return [...new Set([line.revision, ...boxes.map(({ revision }) => revision)])];
}

export type Possible = {
  source: string;
  subject: string;
  shown: string;
  session: Session;
  /** The lines it may have had. */
  lines: Line[];
  at: string;
  standing: HoldDecision[];
};

/** Everybody still held as possibly treated with a medicine out of a box of this revision. */
export function possiblyUnder(tx: Reader, revision: string): (Possible & { row: SubjectRow })[] {
  const rows = tx.all<{ subject: string; source: string; from_at: string; possible: string | null }>(
    `SELECT DISTINCT subject, source, from_at, possible FROM hold
     WHERE cause = 'possibly-treated' AND state <> 'none'`,
  );
  return rows.flatMap((hold) => {
    const { subject, source, from_at: at } = hold;
    const { session: id } = possibleOf(hold);
    const row = subjectsOf(tx, [subject])[0];
    if (id === undefined || !row) return [];
    const session = sessionOf(tx, id);
    const lines = linesOfHold(tx, session, subject, hold);
    if (!lines.some((line) => revisionsOfLine(tx, session, line).includes(revision))) return [];
    const standing = tx
      .all<{ data: string }>('SELECT data FROM hold WHERE subject = ? AND source = ?', subject, source)
      .map(({ data }) => JSON.parse(data) as HoldDecision);
    return [{ source, subject, shown: row.shown, session, lines, at, standing, row }];
  });
}

/** The lines a hold stands for: those it names, or in an older book all that were planned. */
export function linesOfHold(
  tx: Reader,
  session: Session,
  subject: string,
  hold: { possible: string | null },
): Line[] {
  const { lines } = possibleOf(hold);
  if (lines === undefined) return linesPlannedFor(tx, session, subject);
  return session.plan.lines.filter(({ line }) => lines.includes(line));
}

/** Whether something happened since a session began: what was given before answers nothing about it. */
export function isSince(session: Session, { local, at }: { local: string; at: string }): boolean {
  return at >= session.at || (local.length === 10 && local >= session.opened.slice(0, 10));
}

/** Medicines of these lines of which no treatment of the subject since the session began is in the book. */
export function notRecorded(
  tx: Reader,
  session: Session,
  subject: string,
  lines: readonly Line[],
  /** An administration that is about to go. */
  except = '',
): string[] {
  return lines.flatMap((line) => {
    const known = tx.get(
      `SELECT 1 FROM administration
       WHERE subject = ? AND medicine = ? AND id <> ? AND (at >= ? OR (length(local) = 10 AND local >= ?)) LIMIT 1`,
      subject,
      line.medicine,
      except,
      session.at,
      session.opened.slice(0, 10),
    );
    return known === undefined ? [line.medicine] : [];
  });
}
