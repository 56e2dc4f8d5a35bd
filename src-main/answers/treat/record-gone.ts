import type { Happened } from '../../../src-shared/entries/kind.ts';
import type { Act } from '../context.ts';
import { possibleOf } from '../reading/possible-hold.ts';
import type { Administered } from './core.ts';
import { isSince, linesOfHold, notRecorded } from './possible.ts';
import { sessionOf } from './session.ts';

type Row = { source: string; possible: string | null; request: string; n: number };

/**
 * A record that is struck out, or turns out to be of another animal or of an earlier time, ended no hold: where one held
 * as possibly treated was let go because all that was planned for it is in the book, and without this record it is not,
 * that end is struck out as well.
 * @param now where the record stands from here on; absent: nowhere
 */
export function holdWithoutRecord(
  act: Act,
  { administration, subject }: Pick<Administered, 'administration' | 'subject'>,
  reason: string,
  now?: { subject: string; happened: Pick<Happened, 'local' | 'at'> },
): void {
  const { tx } = act;
  const ended = tx.all<Row>(
    `SELECT DISTINCT hold.source, hold.possible, j.request, j.n
     FROM hold JOIN subject_entry AS e ON e.subject = hold.subject AND e.correction = 0
     JOIN journal AS j ON j.seq = e.seq
     WHERE hold.subject = ? AND hold.cause = 'possibly-treated' AND hold.state = 'none'
       AND j.line ->> '$.kind' = 'hold-ended' AND j.line ->> '$.data.how' = 'recorded-late'
       AND 'hold:' || (j.line ->> '$.data.hold') = hold.source
       AND (SELECT what FROM correction WHERE target = e.seq ORDER BY correction.seq DESC LIMIT 1) IS NOT 'voided'`,
    subject,
  );
  for (const row of ended) {
    const { session: id } = possibleOf(row);
    if (id === undefined) continue;
    const session = sessionOf(tx, id);
    if (now?.subject === subject && isSince(session, now.happened)) continue;
    const lines = linesOfHold(tx, session, subject, row);
    if (notRecorded(tx, session, subject, lines, administration).length === 0) continue;
    act.add('voided', { target: { request: row.request, n: row.n }, reason });
  }
}
