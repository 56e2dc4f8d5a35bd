import { randomUUID } from 'node:crypto';
import { closeSync, fsyncSync, mkdtempSync, openSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { storeParts } from '../../src-main/answers/store-parts.ts';
import { FIRST_PREVIOUS } from '../../src-main/store/check-code.ts';
import { chainHash, withGenericKinds } from '../../src-main/store/journal.ts';
import { journalRows, replay } from '../../src-main/store/replay.ts';
import { openNew, openReading } from '../../src-main/store/sqlite.ts';
import { openStore } from '../../src-main/store/store.ts';
import { draft } from '../../src-shared/entries/all.ts';
import type { Farms } from './farms.ts';
import { byTurns, type Line, timed } from './measure.ts';

/** One record appended with everything flushed to the disk, beside one flush of the same disk. */
export async function journalAppend(): Promise<Line[]> {
  const folder = mkdtempSync(path.join(tmpdir(), 'foldbook-bench-'));
  const clock = { now: () => new Date().toISOString() };
  const store = openStore(path.join(folder, 'farm.foldbook'), storeParts, clock, { create: true });
  const file = openSync(path.join(folder, 'bare'), 'w');
  try {
    const page = Buffer.alloc(4096, 1);
    const happened = { local: '2026-05-01', zone: 'Europe/London', at: '2026-04-30T23:00:00.000Z' };
    const append = (n: number) =>
      store.write(randomUUID(), { n }, () => ({
        entries: [
          draft('weighed', 'p1', happened, {
            subject: `animal:a${n}`,
            weight: { value: `${50 + (n % 20)}.5`, unit: 'kg' },
            how: 'scale',
          }),
        ],
        reply: null,
      }));
    const bare = () => {
      writeSync(file, page, 0, page.length, 0);
      fsyncSync(file);
    };
    // The first of each prepares statements and grows files.
    append(-1);
    bare();
    const [was, beside] = await byTurns(300, append, bare);
    if (was === undefined || beside === undefined) throw new Error('nothing was measured');
    return [
      {
        what: 'One record appended to the journal, on the disk when it returns (synchronous FULL)',
        was,
        beside: { what: 'writing 4 kB and flushing it by hand on the same disk', was: beside },
      },
    ];
  } finally {
    closeSync(file);
    store.close();
    rmSync(folder, { recursive: true });
  }
}

/** The whole journal of the large book folded anew, beside reading its lines and checking their chain. */
export async function journalReplay(farms: Farms): Promise<Line[]> {
  const { book, ask } = await farms.large();
  const { head } = await ask('farm', {});
  const parts = { ...storeParts, kinds: withGenericKinds(storeParts.kinds) };
  const perSecond = (ms: number) => (head.seq / ms) * 1000;
  const from = openReading(book);
  const folded: number[] = [];
  const read: number[] = [];
  try {
    for (let run = 0; run < 3; run += 1) {
      const folder = mkdtempSync(path.join(tmpdir(), 'foldbook-bench-'));
      const to = openNew(path.join(folder, 'anew'));
      const ms = await timed(() => {
        to.exec('BEGIN');
        const { seq } = replay(from, to, parts);
        to.exec('COMMIT');
        if (seq !== head.seq) throw new Error(`only ${seq} of ${head.seq} entries were folded`);
      });
      folded.push(perSecond(ms));
      to.close();
      rmSync(folder, { recursive: true });
      const chain = await timed(() => {
        let hash = FIRST_PREVIOUS;
        for (const row of journalRows(from)) {
          hash = chainHash(hash, row.line);
          if (hash !== row.hash) throw new Error(`the chain breaks at ${row.seq}`);
        }
      });
      read.push(perSecond(chain));
    }
  } finally {
    from.close();
  }
  return [
    {
      what: `Replay of ${head.seq.toLocaleString('en-GB')} entries (animals, weights, treatments), checked and folded`,
      was: { values: folded, unit: 'entries a second' },
      beside: {
        what: 'reading the lines and checking their chain alone',
        was: { values: read, unit: 'entries a second' },
      },
    },
  ];
}
