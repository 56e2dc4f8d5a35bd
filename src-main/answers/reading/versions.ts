import type { Entry, EntryKind } from '../../../src-shared/entries/kind.ts';
import type { Replaced } from '../../../src-shared/entries/replaced.ts';
import { upgradedData } from '../../store/journal.ts';
import type { Reader } from '../../store/store.ts';
import { personName } from './holding.ts';

/** What an entry said at one time: first written, or by a correction. */
export type Version<D> = {
  data: D;
  local: string;
  zone: string;
  /** The instant it sorts by. */
  at: string;
  /** Number of the entry of the journal that wrote this version, when that was and by whom. */
  no: number;
  written: string;
  writtenBy: string;
  state: 'stands' | 'voided' | 'replaced';
  /** Why it does not stand any more. */
  correction: { reason: string; by: string; recorded: string } | undefined;
};

/** Everything an entry of this kind said, in the order in which it was written; the last one may stand. */
export function versionsOf<D>(tx: Reader, kind: EntryKind<D>, first: Entry): Version<D>[] {
  const corrections = tx.all<{ what: 'voided' | 'replaced'; line: string }>(
    `SELECT correction.what, journal.line FROM correction JOIN journal ON journal.seq = correction.seq
     WHERE correction.target = ? ORDER BY correction.seq`,
    first.seq,
  );
  const read = (v: number, data: unknown) => kind.schema.parse(upgradedData(kind as EntryKind, v, data));
  const found: Version<D>[] = [];
  let now: Version<D> | undefined = {
    data: read(first.v, first.data),
    ...first.happened,
    no: first.seq,
    written: first.recorded,
    writtenBy: first.by,
    state: 'stands',
    correction: undefined,
  };
  for (const { what, line } of corrections) {
    const by = JSON.parse(line) as Entry<Replaced>;
    if (now) {
      found.push({
        ...now,
        state: what,
        correction: { reason: by.data.reason, by: personName(tx, by.by), recorded: by.recorded },
      });
    }
    now =
      what === 'voided'
        ? undefined
        : {
            data: read(by.data.v, by.data.data),
            ...by.data.happened,
            no: by.seq,
            written: by.recorded,
            writtenBy: by.by,
            state: 'stands',
            correction: undefined,
          };
  }
  return now ? [...found, now] : found;
}
