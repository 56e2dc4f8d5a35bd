import type { Reader } from '../../store/store.ts';
import { kinOf } from '../reading/holds.ts';
import type { SubjectRow } from '../reading/subjects.ts';

type OpenSession = { id: string; name: string; subjects: string; lines: string };
type Planned = { subject: string; doses: readonly unknown[] };

/**
 * Who stands on an open work sheet and is not recorded there yet: it may have been treated this minute. A lot that
 * an animal was in when it was planned counts for the animal too.
 */
export function openWork(tx: Reader, listed: readonly { row: SubjectRow }[]): string[] {
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
