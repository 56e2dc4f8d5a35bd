import fc from 'fast-check';
import { expect, test } from 'vitest';
import { rebuildBook } from '../../src-main/store/rebuild.ts';
import { openStore, type Store } from '../../src-main/store/store.ts';
import { verifyBook } from '../../src-main/store/verify.ts';
import type { EntryDraft } from '../../src-shared/entries/kind.ts';
import {
  addedDraft,
  countedDraft,
  dump,
  folder,
  namedDraft,
  replaceDraft,
  steppingClock,
  toyParts,
  voidDraft,
} from './toys.ts';

const seed = Number(process.env.FOLDBOOK_SEED ?? Date.now() % 2 ** 31);
console.log(`seed ${seed} (FOLDBOOK_SEED=${seed} runs the same again)`);

const subject = fc.constantFrom('a', 'b', 'c', 'd');
const at = fc.integer({ min: 0, max: 12 });
const content = fc.oneof(
  fc.record({
    what: fc.constant('added' as const),
    to: fc.uniqueArray(subject, { minLength: 1, maxLength: 3 }),
    by: fc.integer({ min: -9, max: 9 }),
    at,
  }),
  fc.record({ what: fc.constant('named' as const), of: subject, name: fc.string({ maxLength: 4 }), at }),
  fc.record({
    what: fc.constant('counted' as const),
    of: subject,
    found: fc.integer({ min: -9, max: 9 }),
    at,
  }),
);
type Content = typeof content extends fc.Arbitrary<infer T> ? T : never;
const step = fc.oneof(
  { weight: 5, arbitrary: fc.record({ do: fc.constant('write' as const), content }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('void' as const), pick: fc.nat(), at }) },
  { weight: 3, arbitrary: fc.record({ do: fc.constant('replace' as const), pick: fc.nat(), content, at }) },
);
const calls = fc.array(fc.array(step, { minLength: 1, maxLength: 4 }), { minLength: 1, maxLength: 10 });

function draftOf(made: Content): EntryDraft {
  if (made.what === 'added') return addedDraft(made.to, made.by, made.at);
  if (made.what === 'named') return namedDraft(made.of, made.name, made.at);
  return countedDraft(made.of, made.found, made.at);
}

/** What was said about the farm, kept as a plain list: no journal, no folds. */
type Said = { seq: number; request: string; n: number; content: Content; struck: boolean };

/** A different content of the same kind, since a replacement never changes the kind. */
function sameKind(content: Content, kind: Content['what']): Content {
  if (content.what === kind) return content;
  const of: 'a' | 'b' | 'c' | 'd' = content.what === 'added' ? (content.to[0] ?? 'a') : content.of;
  if (kind === 'added')
    return {
      what: 'added',
      to: of === 'd' ? [of] : [of, 'd'],
      by: 4,
      at: content.at,
    };
  if (kind === 'named') return { what: 'named', of, name: 'again', at: content.at };
  return { what: 'counted', of, found: 2, at: content.at };
}

function play(store: Store, script: typeof calls extends fc.Arbitrary<infer T> ? T : never): Said[] {
  const said: Said[] = [];
  let seq = 0;
  for (const [i, steps] of script.entries()) {
    const request = `call-${i}`;
    const drafts: EntryDraft[] = [];
    for (const one of steps) {
      const standing = said.filter((each) => !each.struck);
      if (one.do === 'write') {
        seq += 1;
        drafts.push(draftOf(one.content));
        said.push({ seq, request, n: drafts.length, content: one.content, struck: false });
        continue;
      }
      const target = standing[one.pick % standing.length];
      if (!target) continue;
      seq += 1;
      if (one.do === 'void') {
        drafts.push(voidDraft(target.request, target.n, one.at));
        target.struck = true;
      } else {
        const fresh = sameKind(one.content, target.content.what);
        drafts.push(
          replaceDraft(target.request, target.n, draftOf(fresh), fresh.what === 'named' ? 2 : 1, one.at),
        );
        target.content = fresh;
      }
    }
    store.write(request, i, () => ({ entries: drafts, reply: null }));
  }
  return said;
}

/** Totals, names and logs worked out again from the plain list. */
function recomputed(said: readonly Said[]) {
  const counts: Record<string, number> = {};
  const names: Record<string, string> = {};
  const logs: Record<string, number[]> = {};
  const order = said
    .filter((each) => !each.struck)
    .sort((x, y) => x.content.at - y.content.at || x.seq - y.seq);
  for (const { content: made, seq } of order) {
    if (made.what === 'added') {
      for (const of of made.to) {
        counts[of] = (counts[of] ?? 0) + made.by;
        logs[of] = [...(logs[of] ?? []), seq];
      }
    } else if (made.what === 'named') names[made.of] = made.name;
    else {
      counts[made.of] = made.found;
      logs[made.of] = [];
    }
  }
  return { counts, names, logs };
}

function read(store: Store) {
  const { read } = store;
  const counts: Record<string, number> = {};
  const names: Record<string, string> = {};
  const logs: Record<string, number[]> = {};
  for (const row of read.all<{ subject: string; total: number }>('SELECT subject, total FROM toy_count')) {
    counts[row.subject] = row.total;
  }
  for (const row of read.all<{ subject: string; name: string }>(
    'SELECT subject, name FROM toy_name WHERE until IS NULL',
  )) {
    expect(names[row.subject]).toBeUndefined();
    names[row.subject] = row.name;
  }
  for (const row of read.all<{ subject: string; seq: number }>(
    'SELECT log.subject, log.seq FROM toy_log AS log JOIN subject_entry USING (subject, seq) ORDER BY at, seq',
  )) {
    logs[row.subject] = [...(logs[row.subject] ?? []), row.seq];
  }
  return { counts, names, logs };
}

const withoutEmpty = (logs: Record<string, number[]>) =>
  Object.fromEntries(Object.entries(logs).filter(([, seqs]) => seqs.length > 0));

test('one by one, folded again, replayed and plainly recomputed are the same', () => {
  fc.assert(
    fc.property(calls, (script) => {
      const place = folder();
      try {
        const path = place.path('p.foldbook');
        const store = openStore(path, toyParts, steppingClock(), { create: true });
        const said = play(store, script);
        const plain = recomputed(said);
        const found = read(store);
        expect(found.counts).toEqual(plain.counts);
        expect(found.names).toEqual(plain.names);
        expect(withoutEmpty(found.logs)).toEqual(withoutEmpty(plain.logs));
        const incremental = dump(store.read);
        const { checkCode } = store.head();
        store.close();

        // Another version makes opening fold everything again.
        const refolded = openStore(path, { ...toyParts, projectionVersion: 2 }, steppingClock());
        expect(dump(refolded.read)).toEqual(incremental);
        refolded.close();

        const rebuilt = rebuildBook(path, toyParts);
        expect(rebuilt.checkCode).toBe(checkCode);
        const anew = openStore(path, toyParts, steppingClock());
        expect(dump(anew.read)).toEqual(incremental);
        anew.close();
        expect(verifyBook(path, toyParts, { head: checkCode })).toMatchObject({ ok: true, problems: [] });
      } finally {
        place.clear();
      }
    }),
    { seed, numRuns: Number(process.env.FOLDBOOK_RUNS ?? 30) },
  );
}, 120_000);
