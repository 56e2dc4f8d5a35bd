import { randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { openDesk } from '../../src-main/answers/desk.ts';
import { type Ask, CALLS, type CallName, type Reply } from '../../src-shared/calls/all.ts';
import { addDays } from '../../src-shared/time/day.ts';
import { DRENCH, FARM } from '../answers/farm-desk.ts';

type Bare<N extends CallName> = Omit<Ask<N>, 'request' | 'by'>;

/** The number on the tag of animal `n`, from 1. */
export const tagOf = (n: number): string => `UK 0 123456 ${String(n).padStart(5, '0')}`;

/** The day by this computer's clock, in UTC. */
export const today = (): Day => new Date().toISOString().slice(0, 10) as Day;
type Day = Parameters<typeof addDays>[0];

/** A flock list of so many ewes, each weighed a week ago, ten fields of them. */
export function flockFile(heads: number): string {
  const weighed = addDays(today(), -7);
  const rows = Array.from({ length: heads }, (_, i) => {
    const number = String(i + 1).padStart(5, '0');
    return `${tagOf(i + 1)},8260123456${number},ewe,F,2022-03-01,Field ${i % 10},${55 + (i % 20)}.5,${weighed}`;
  });
  return ['Tag,EID,Class,Sex,Born,Group,Weight kg,Weighed on', ...rows].join('\n');
}

/** A book in a folder of its own, with one holding, under this computer's own clock. */
export async function benchFarm() {
  const folder = mkdtempSync(path.join(tmpdir(), 'foldbook-bench-'));
  const book = path.join(folder, 'farm.foldbook');
  const desk = openDesk({ book, clock: () => new Date().toISOString() });
  let by = 'nobody';

  const ask = async <N extends CallName>(name: N, request: Bare<N>): Promise<Reply<N>> => {
    const asked = CALLS[name].writes ? { request: randomUUID(), by, ...request } : request;
    const outcome = await desk.call(name, asked);
    if (!outcome.ok) throw new Error(`${name}: ${outcome.error.code}: ${outcome.error.message}`);
    // The desk checked its reply against the schema of this call.
    return outcome.value as Reply<N>;
  };
  const started = await ask('start-book', structuredClone(FARM) as Bare<'start-book'>);
  by = started.person;
  const { holding } = started;

  return {
    book,
    desk,
    ask,
    holding,
    person: by,
    /** Takes a flock list in, and says no unless every row was taken. */
    async take(heads: number): Promise<void> {
      const file = desk.file('flock.csv', Buffer.from(flockFile(heads)));
      const made = await ask('import-animals', { holding, standing: 'none-running', file });
      if (made.totals.taken !== heads)
        throw new Error(`only ${made.totals.taken} of ${heads} rows were taken`);
    },
    /** A drench on the shelf: enough for everybody, more than once. */
    /** A drench and enough of it for everybody. */
    async stock(name: string = DRENCH.name): Promise<string> {
      const terms = { ...structuredClone(DRENCH), name };
      const { medicine } = await ask('set-label', { act: 'first', terms });
      await ask('receive-batch', {
        medicine,
        number: 'CD-12',
        expiry: `${new Date().getUTCFullYear() + 2}-03`,
        packs: [{ count: 8, size: '50 L' }],
      });
      return medicine;
    },
    async close(): Promise<void> {
      await desk.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
export type BenchFarm = Awaited<ReturnType<typeof benchFarm>>;
