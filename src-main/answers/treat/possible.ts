import type { HoldDecision } from '../../../src-shared/entries/parts.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { decideHolds } from '../../../src-shared/withdrawal/holds.ts';
import { organicByLabel } from '../../../src-shared/withdrawal/organic.ts';
import type { Reader, Store } from '../../store/store.ts';
import { organicRulesOn } from '../reading/certificates.ts';
import { holdingOf } from '../reading/holding.ts';
import { type SubjectRow, subjectsOf } from '../reading/subjects.ts';
import { holdsByLabel } from './holds.ts';
import { type Session, sessionOf } from './session.ts';

/**
 * What holds an animal that went through a session without a record: it counts as treated with every medicine that
 * was planned for it, at the very end of the session.
 */
export function possiblyHolds(
  tx: Reader,
  session: Session,
  row: SubjectRow,
  closed: string,
  termsOf: (revision: string) => LabelTerms,
): HoldDecision[] {
  const holding = holdingOf(tx, session.plan.holding);
  const planned = session.plan.subjects.find((item) => item.subject === row.subject);
  const organic = organicRulesOn(tx, row.subject, holding.holding, closed.slice(0, 10));
  const lists = session.plan.lines.flatMap((line, i) => {
    const terms = termsOf(line.revision);
    const doseLine = terms.doseLines.find((each) => each.id === line.doseLine);
    // Not planned for this line, so not given by it. A line the label lost is bounded by the label's other rows.
    if (planned?.doses[i] == null && planned?.toWeigh?.includes(i) !== true) return [];
    const given = {
      class: row.class,
      route: doseLine?.route ?? terms.doseLines[0]?.route ?? ('other' as const),
      doseLine: line.doseLine,
      milking: row.milking === 1,
      happened: closed,
      zone: holding.zone,
      counting: holding.counting,
      marginDays: holding.marginDays,
    };
    const food = decideHolds(terms, given);
    return [{ food, organic: organic === undefined ? [] : organicByLabel(organic, terms, given) }];
  });
  return [
    ...holdsByLabel(lists.map(({ food }) => food)),
    ...holdsByLabel(lists.map((each) => each.organic)).map((hold) => ({
      ...hold,
      clock: 'organic' as const,
    })),
  ];
}

export type Possible = {
  source: string;
  subject: string;
  shown: string;
  session: Session;
  at: string;
  standing: HoldDecision[];
};

/** Everybody still held as possibly treated in a session that used this revision. */
export function possiblyUnder(
  store: Store,
  tx: Reader,
  revision: string,
): (Possible & { row: SubjectRow })[] {
  const rows = tx.all<{ subject: string; source: string; from_at: string }>(
    "SELECT DISTINCT subject, source, from_at FROM hold WHERE cause = 'possibly-treated' AND state <> 'none'",
  );
  return rows.flatMap(({ subject, source, from_at: at }) => {
    const entry = store
      .entriesOf(subject)
      .find((one) => one.kind === 'held' && `hold:${(one.data as { hold: string }).hold}` === source);
    const id = (entry?.data as { session?: string } | undefined)?.session;
    const row = subjectsOf(tx, [subject])[0];
    if (id === undefined || !row) return [];
    const session = sessionOf(tx, id);
    if (!session.plan.lines.some((line) => line.revision === revision)) return [];
    const standing = tx
      .all<{ data: string }>('SELECT data FROM hold WHERE subject = ? AND source = ?', subject, source)
      .map(({ data }) => JSON.parse(data) as HoldDecision);
    return [{ source, subject, shown: row.shown, session, at, standing, row }];
  });
}
