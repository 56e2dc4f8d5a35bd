import { searchKey } from '../search-key.ts';
import type { Entry, RowOp } from './kind.ts';

/**
 * Simple things that are only ever "the latest of what was said" share one table: business, holdings, people,
 * groups' dates, courses, instructions, prescriptions, marks.
 */
export function recordRow(what: string, id: string, name: string, entry: Entry<unknown>): RowOp {
  return {
    op: 'put',
    table: 'record',
    row: {
      what,
      id,
      name,
      name_key: searchKey(name),
      at: entry.happened.at,
      seq: entry.seq,
      data: JSON.stringify(entry.data),
    },
  };
}
