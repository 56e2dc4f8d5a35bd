import fc from 'fast-check';
import { expect, test } from 'vitest';
import { storeParts } from '../../src-main/answers/store-parts.ts';
import { rebuildBook } from '../../src-main/store/rebuild.ts';
import { openStore, type Reader } from '../../src-main/store/store.ts';
import { verifyBook } from '../../src-main/store/verify.ts';
import { afterwards, bounded, withHistory } from '../model/book-place.ts';
import { answersOf, difference, linesOf } from '../model/compare-book.ts';
import { secondModel } from '../model/model.ts';
import { scripts } from '../model/script.ts';
import { seeded } from './seed.ts';

const runs = Number(process.env.FOLDBOOK_RUNS ?? 60);

/** Every projection table, the store's own included. */
function dump(read: Reader): Record<string, string[]> {
  const tables = ['subject_entry', 'correction', ...storeParts.projections.map((each) => each.table)];
  return Object.fromEntries(
    tables.map((table) => [
      table,
      read
        .all<Record<string, unknown>>(`SELECT * FROM ${table}`)
        .map((row) => JSON.stringify(row))
        .sort(),
    ]),
  );
}

test('one by one, folded again and replayed are the same, and the second model comes to the same', () => {
  fc.assert(
    fc.property(scripts, (script) => {
      withHistory(script, (store, path) => {
        const book = answersOf(store.read);
        expect(difference(book, secondModel(linesOf(store)))).toBeUndefined();
        for (const [container, left] of book.balances) expect(book.sums.get(container)).toBe(left);
        const incremental = dump(store.read);
        const { checkCode } = store.head();
        store.close();

        const later = { ...storeParts, projectionVersion: storeParts.projectionVersion + 1 };
        const refolded = openStore(path, later, afterwards());
        expect(dump(refolded.read)).toEqual(incremental);
        refolded.close();

        expect(rebuildBook(path, storeParts).checkCode).toBe(checkCode);
        expect(verifyBook(path, storeParts, { head: checkCode })).toMatchObject({ ok: true, problems: [] });
      });
    }),
    bounded(seeded('histories written entry by entry', runs)),
  );
}, 600_000);
