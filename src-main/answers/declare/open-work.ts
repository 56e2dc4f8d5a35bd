import type { Reader } from '../../store/store.ts';
import { atFootOf } from '../reading/at-foot.ts';
import { kinOf } from '../reading/holds.ts';
import type { SubjectRow } from '../reading/subjects.ts';

type OpenSession = { id: string; name: string; subjects: string; lines: string };
type Planned = { subject: string; doses: readonly unknown[]; toWeigh?: readonly number[] };

/**
 * Who stands on an open work sheet and is not recorded there yet: it may have been treated this minute. A lot that
 * an animal was in when it was planned counts for the animal too, and a ewe for the lamb that sucks her.
 */
export function openWork(tx: Reader, listed: readonly { row: SubjectRow }[]): string[] {
  const sessions = tx.all<OpenSession>(
    "SELECT id, name, data ->> '$.subjects' AS subjects, data ->> '$.lines' AS lines FROM session WHERE state = 'open' ORDER BY seq",
  );
  if (sessions.length === 0) return [];
  const kin = new Map(
    listed.map(({ row }) => [row.subject, kinOf(tx, row.subject).map(({ ancestor }) => ancestor)]),
  );
  const dams = new Map<string, string[]>();
  for (const foot of atFootOf(
    tx,
    listed.map(({ row }) => row.subject),
  )) {
    if (foot.until_local === null) dams.set(foot.subject, [...(dams.get(foot.subject) ?? []), foot.dam]);
  }
  return sessions.flatMap(({ id, name, subjects, lines }) => {
    const planned = new Map((JSON.parse(subjects) as Planned[]).map((each) => [each.subject, each]));
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
      (planned.get(subject)?.doses ?? []).some((dose, i) => {
        // One whose dose waits for the weigher is planned like the others.
        const isPlanned = dose !== null || planned.get(subject)?.toWeigh?.includes(i) === true;
        return isPlanned && !done.has(`${subject} ${sessionLines[i] ?? ''}`);
      });
    return listed.flatMap(({ row }) => {
      const own = (kin.get(row.subject) ?? [row.subject]).some(waits);
      if (!own && !(dams.get(row.subject) ?? []).some(waits)) return [];
      const who = own ? `${row.shown} is` : `${row.shown} is at foot of one that is`;
      return [`${who} on the open work sheet “${name}” and not recorded there yet`];
    });
  });
}
