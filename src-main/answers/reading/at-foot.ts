import type { HoldDecision } from '../../../src-shared/entries/parts.ts';
import type { Reader } from '../../store/store.ts';
import { type HoldRow, KIN, PRESENT } from './kin.ts';

export type FootRow = {
  subject: string;
  id: string;
  dam: string;
  from_at: string;
  from_local: string;
  until_at: string;
  until_local: string | null;
};

/** Who is or was at foot of whom, of these lambs and of the lots they came out of as they are now. */
export function atFootOf(tx: Reader, subjects: readonly string[] | 'present'): FootRow[] {
  const columns = 'subject, id, dam, from_at, from_local, until_at, until_local';
  if (subjects === 'present')
    return tx.all(`SELECT ${columns} FROM at_foot WHERE subject IN (${PRESENT}) ORDER BY from_at, seq`);
  return tx.all(
    `SELECT ${columns} FROM at_foot WHERE subject IN (SELECT value FROM json_each(?)) ORDER BY from_at, seq`,
    JSON.stringify(subjects),
  );
}

/**
 * What holds a lamb because its dam was treated while it sucked her: her meat withdrawal, for as long as hers where the
 * label is silent on suckling young. Where it has a period for them, that was decided with the treatment: it counts in
 * her place by the rule of the farm, else the later of the two does. Words that name no period stand beside the hold.
 * Holds put on her before the lamb came, or after it was weaned, are not the lamb's.
 */
export function heldAtFoot(
  tx: Reader,
  subjects: readonly string[] | 'present',
  produce: string | undefined,
  /** Reads what bears on the dams: they may be inherited from a lot, or settled, themselves. */
  read: (tx: Reader, subjects: readonly string[], produce?: string) => HoldRow[],
): HoldRow[] {
  if (produce !== undefined && produce !== 'meat') return [];
  const feet = footOf(tx, subjects);
  if (feet.length === 0) return [];
  const ofDam = new Map<string, HoldRow[]>();
  for (const row of read(tx, [...new Set(feet.map((foot) => foot.dam))], 'meat')) {
    ofDam.set(row.subject, [...(ofDam.get(row.subject) ?? []), row]);
  }
  return feet.flatMap((foot) =>
    (ofDam.get(foot.dam) ?? [])
      .filter((row) => row.from_at >= foot.from_at && row.from_at <= foot.until_at && isOfTreatment(row))
      .map((row) => asOfYoung({ ...row, subject: foot.subject, cause: 'at-foot' })),
  );
}

/** Code of the rule by which a hold of lambs at foot ends as the label says of them, and not as their dam's. */
export const BY_SUCKLING_WORD = 'suckling-word';

/** The dam's hold as it bears on her lambs: by the label's word on them in its place, or where that is later. */
export function asOfYoung(row: HoldRow): HoldRow {
  const decision = JSON.parse(row.data) as HoldDecision;
  const { young } = decision;
  if (young === undefined || row.state === 'none') return row;
  const isLater = row.state === 'until' && row.until !== null && young.until > row.until;
  if (!young.instead && !isLater) return row;
  const { until, period, working } = young;
  const { event: _event, ...rest } = decision;
  const said = { ...rest, state: 'until', until, period, working, rule: BY_SUCKLING_WORD };
  return { ...row, state: 'until', until, event: null, period, data: JSON.stringify(said) };
}

/** A needle in the ewe, or a ewe bought in, says nothing of her lamb. */
function isOfTreatment({ cause }: HoldRow): boolean {
  return cause === 'treatment' || cause === 'possibly-treated';
}

/** Links of the subjects, and of the lots they came out of up to the moment they did. */
function footOf(tx: Reader, subjects: readonly string[] | 'present'): FootRow[] {
  // Most farms link no lambs to their dams, and then there is nothing to walk.
  if (!tx.get('SELECT 1 FROM at_foot LIMIT 1')) return [];
  const wanted = subjects === 'present' ? PRESENT : 'SELECT DISTINCT value AS s FROM json_each(?)';
  return tx.all<FootRow>(
    `WITH RECURSIVE wanted(s) AS (${wanted}), ${KIN}
     SELECT kin.subject, f.id, f.dam, f.from_at, f.from_local, min(f.until_at, kin.cut) AS until_at, f.until_local
     FROM kin_once AS kin JOIN at_foot AS f ON f.subject = kin.ancestor AND f.from_at <= kin.cut`,
    ...(subjects === 'present' ? [] : [JSON.stringify(subjects)]),
  );
}
