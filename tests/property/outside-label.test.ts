import fc from 'fast-check';
import { expect, test } from 'vitest';
import { storeParts } from '../../src-main/answers/store-parts.ts';
import { openStore } from '../../src-main/store/store.ts';
import { afterwards, bookPlace } from '../model/book-place.ts';
import { linesOf } from '../model/compare-book.ts';
import type { Line } from '../model/facts.ts';
import { OUTSIDE_RULES, outsideModel } from '../model/outside.ts';
import { OUTSIDE_FAULTS } from '../model/outside-faults.ts';
import { type OutsideScript, outsideScripts, playOutside } from '../model/outside-play.ts';
import { historyDesk, type Tally } from '../model/play-desk.ts';
import { seeded } from './seed.ts';

const runs = Number(process.env.FOLDBOOK_RUNS ?? 10);
const never = (at: number) => (Number.isFinite(at) ? new Date(at).toISOString() : 'never');

type Row = { source: string; produce: string; state: string; until: string | null };

/** Plays one history through the desk: the lines of its journal, and what the book holds by each treatment. */
async function played(
  script: OutsideScript,
  tally: Tally,
): Promise<{ lines: Line[]; book: Map<string, string> }> {
  const place = bookPlace();
  try {
    const desk = historyDesk(place.path, tally);
    await playOutside(desk, script);
    await desk.close();
    const store = openStore(place.path, storeParts, afterwards(), { readonly: true });
    try {
      const rows = store.read.all<Row>(
        `SELECT source, produce, state, until FROM hold
         WHERE cause = 'treatment' AND clock = 'food' AND market = 'domestic' AND produce IN ('meat', 'milk')`,
      );
      const book = new Map(
        rows.map(({ source, produce, state, until }) => {
          const byTime = (state === 'until' || state === 'dormant') && until !== null;
          return [`${source.slice('administration:'.length)} ${produce}`, byTime ? until : 'never'] as const;
        }),
      );
      return { lines: linesOf(store), book };
    } finally {
      store.close();
    }
  } finally {
    place.clear();
  }
}

function difference(
  book: ReadonlyMap<string, string>,
  model: ReadonlyMap<string, number>,
): string | undefined {
  for (const key of new Set([...book.keys(), ...model.keys()])) {
    const at = model.get(key);
    const said = at === undefined ? 'nothing' : never(at);
    if (book.get(key) !== said) return `${key}: the book says ${book.get(key)}, the model ${said}`;
  }
  return undefined;
}

test('book and second model agree on treatments outside their label, and each deliberate fault is caught', async () => {
  const { seed } = seeded('outside the label');
  const tally: Tally = { taken: new Map(), refused: new Map() };
  const waiting = new Map(OUTSIDE_FAULTS.map((fault) => [fault.name, fault]));
  const caught: string[] = [];
  let treatments = 0;
  // A fault that needs a rare case gets more histories, up to a bound.
  for (let n = 0; n < runs || (waiting.size > 0 && n < runs * 8); n += 1) {
    for (const script of fc.sample(outsideScripts, { seed: seed + n, numRuns: 1 })) {
      const { lines, book } = await played(script, tally);
      treatments += book.size / 2;
      expect(difference(book, outsideModel(lines)), JSON.stringify(script)).toBeUndefined();
      for (const fault of waiting.values()) {
        const found = difference(book, outsideModel(lines, { ...OUTSIDE_RULES, ...fault.rules }));
        if (found === undefined) continue;
        caught.push(`${fault.name}: history ${n + 1}; ${found}`);
        waiting.delete(fault.name);
      }
    }
  }
  console.log(
    `${treatments} treatments; ${caught.length} of ${OUTSIDE_FAULTS.length} faults caught\n${caught.join('\n')}`,
  );
  for (const call of ['treat', 'record-instruction', 'set-label', 'correct-treatment', 'void'])
    expect(
      tally.taken.get(call) ?? 0,
      `${call} was taken; refused: ${JSON.stringify([...tally.refused])}`,
    ).toBeGreaterThan(0);
  expect([...waiting.keys()]).toEqual([]);
}, 60_000);
