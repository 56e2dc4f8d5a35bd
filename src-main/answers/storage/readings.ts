import type { DataOf } from '../../../src-shared/entries/all.ts';
import { quoted } from '../../../src-shared/quantity/field.ts';
import { Refusal } from '../../../src-shared/refusal.ts';
import { searchKey } from '../../../src-shared/search-key.ts';
import type { Reader } from '../../store/store.ts';

/** A reading by hand, or the whole of a logger's file as one: `log` is there for the latter. */
export type StoredReading = DataOf<'storage-read'> & {
  at: string;
  local: string;
  log?: Pick<DataOf<'storage-logged'>, 'since' | 'readings' | 'gaps' | 'file'>;
};
export type Limits = { leastC?: number | undefined; mostC?: number | undefined };

/** Colder or warmer is no place where medicines stand, and more likely a slip or another unit (practice). */
const MOST_DEGREES = 60;

/**
 * Reads "2.5", "2.5 °C", "-1 C". Refuses (`bad-degrees`) another unit, more than one decimal, and what no shed reaches.
 * @returns a plain decimal in degrees Celsius
 */
export function parseDegrees(text: string, field: 'least' | 'most'): string {
  const says = field === 'least' ? 'Least' : 'Most';
  const match = /^([-−]?)(\d{1,3}(?:\.\d)?)\s*(?:°?\s*C)?$/i.exec(text.trim());
  const value = match === null ? Number.NaN : Number(match[2]);
  if (match === null || value > MOST_DEGREES) {
    throw new Refusal('bad-degrees', `${says}: ${quoted(text)} is no temperature of a store in °C.`, {
      field,
      next: 'Write it in degrees Celsius, as in 2.5 or -1.',
    });
  }
  return `${match[1] === '' || value === 0 ? '' : '-'}${value}`;
}

/** Whether a reading is within what a label allows. A label that states no limit cannot be kept to or broken. */
export function isWithin({ leastC, mostC }: { leastC: string; mostC: string }, limits: Limits): boolean {
  if (limits.leastC !== undefined && Number(leastC) < limits.leastC) return false;
  return limits.mostC === undefined || Number(mostC) <= limits.mostC;
}

/** The readings of a store, or of all, the latest first. */
export function readingsOf(tx: Reader, store?: string): StoredReading[] {
  const one = store === undefined ? '' : 'AND name_key = ?';
  return tx
    .all<{ at: string; local: string; data: string }>(
      `SELECT r.at, coalesce(j.line ->> '$.happened.local', r.at) AS local, r.data
       FROM record AS r LEFT JOIN journal AS j ON j.seq = r.seq WHERE what = 'storage-read' ${one} ORDER BY r.at DESC, r.seq DESC`,
      ...(store === undefined ? [] : [searchKey(store)]),
    )
    .map(({ at, local, data }) => {
      const read = JSON.parse(data) as DataOf<'storage-read'> | DataOf<'storage-logged'>;
      const { reading, store: name, leastC, mostC, outside } = read;
      const own = { reading, store: name, leastC, mostC, outside, at, local };
      if (!('file' in read)) return own;
      const { since, readings, gaps, file } = read;
      return { ...own, log: { since, readings, gaps, file } };
    });
}
