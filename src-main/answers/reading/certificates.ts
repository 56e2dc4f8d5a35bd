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

/** Whether the book has any: most farms have none, and then nothing is asked about organic rules. */
export function hasCertificates(tx: Reader): boolean {
  return tx.get("SELECT 1 FROM record WHERE what = 'certificate' LIMIT 1") !== undefined;
}

/**
 * The organic rules that each of these is certified by on a local day: by its own certificate, one of the lot it came
 * out of, or one of the holding. Of several the European, which are the only ones with a date. Who has none is not in
 * the answer: no rule set, no organic date.
 */
export function organicRulesOf(
  tx: Reader,
  rows: readonly { subject: string; holding: string }[],
  day: string,
): Map<string, OrganicRules> {
  const found = new Map<string, OrganicRules>();
  const valid = certificatesOf(tx).filter(
    ({ from, until }) => from <= day && (until === undefined || day <= until),
  );
  // Most farms have none, and then nobody is walked through its lots.
  if (valid.length === 0) return found;
  const isOfSome = valid.some(({ of }) => !of.startsWith('holding:'));
  for (const { subject, holding } of rows) {
    const kin = isOfSome ? kinOf(tx, subject).map(({ ancestor }) => ancestor) : [];
    const mine = valid.filter(({ of }) => of === `holding:${holding}` || kin.includes(of));
    const rules = ORGANIC_RULES.find((each) => mine.some((certificate) => certificate.rules === each));
    if (rules !== undefined) found.set(subject, rules);
  }
  return found;
}

/** The same of one subject. */
export function organicRulesOn(
  tx: Reader,
  subject: string,
  holding: string,
  day: string,
): OrganicRules | undefined {
  return organicRulesOf(tx, [{ subject, holding }], day).get(subject);
}
