import { sitesInText } from '../../../src-shared/needle/site-words.ts';
import type { LastGiven } from '../../../src-shared/needle/sites.ts';
import type { Day } from '../../../src-shared/time/day.ts';
import type { Reader } from '../../store/store.ts';
import { KIN } from './holds.ts';

/** As many as tell where the next one goes: older ones have healed. */
const LOOKED_BACK = 40;

type Row = { local: string; site: string; side: 'left' | 'right' | 'both' | null };

/**
 * Where a subject was injected before, and the lots it came out of while it was in them, newest first. What was
 * written in words that name no place of the drawing is left out.
 */
export function sitesBefore(tx: Reader, subject: string): LastGiven[] {
  const rows = tx.all<Row>(
    `WITH RECURSIVE wanted(s) AS (VALUES (?)), ${KIN}
     SELECT a.local, a.data ->> '$.site' AS site, a.data ->> '$.side' AS side
     FROM kin_once AS kin JOIN administration AS a ON a.subject = kin.ancestor AND a.at <= kin.cut
     WHERE a.data ->> '$.site' IS NOT NULL ORDER BY a.at DESC, a.seq DESC LIMIT ?`,
    subject,
    LOOKED_BACK,
  );
  return rows.flatMap(({ local, site, side }) =>
    sitesInText(site).map((one) => ({ site: one, side: side ?? undefined, on: local.slice(0, 10) as Day })),
  );
}
