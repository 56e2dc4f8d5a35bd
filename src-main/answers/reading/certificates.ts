import type { DataOf } from '../../../src-shared/entries/all.ts';
import { ORGANIC_RULES, type OrganicRules } from '../../../src-shared/withdrawal/organic.ts';
import type { Reader } from '../../store/store.ts';
import { kinOf } from './holds.ts';

export type Certificate = DataOf<'certificate-set'>;

/** Every certificate in the book, or those of some things ("holding:ID", "animal:ID", "lot:ID"), the oldest first. */
export function certificatesOf(tx: Reader, of?: readonly string[]): Certificate[] {
  const rows = tx.all<{ data: string }>(
    `SELECT data FROM record WHERE what = 'certificate' ${of === undefined ? '' : 'AND name IN (SELECT value FROM json_each(?))'}
     ORDER BY data ->> '$.from', id`,
    ...(of === undefined ? [] : [JSON.stringify(of)]),
  );
  return rows.map(({ data }) => JSON.parse(data) as Certificate);
}

/**
 * The organic rules that a subject is certified by on a local day: by its own certificate, one of the lot it came out
 * of, or one of the holding. Of several the European, which are the only ones with a date. Nothing: no rule set, no
 * organic date.
 */
export function organicRulesOn(
  tx: Reader,
  subject: string,
  holding: string,
  day: string,
): OrganicRules | undefined {
  // Most farms have none, and then nobody is walked through its lots.
  if (!tx.get("SELECT 1 FROM record WHERE what = 'certificate' LIMIT 1")) return undefined;
  const of = [`holding:${holding}`, ...kinOf(tx, subject).map(({ ancestor }) => ancestor)];
  const valid = certificatesOf(tx, of).filter(
    ({ from, until }) => from <= day && (until === undefined || day <= until),
  );
  return ORGANIC_RULES.find((rules) => valid.some((certificate) => certificate.rules === rules));
}
