import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { backupShelf } from '../../src-main/answers/backup.ts';
import { packShelf } from '../../src-main/answers/book/make-pack.ts';
import type { Context } from '../../src-main/answers/context.ts';
import { flockAnswers } from '../../src-main/answers/flock/answers.ts';
import { storeParts } from '../../src-main/answers/store-parts.ts';
import { openStore, type Store } from '../../src-main/store/store.ts';
import { workBoard } from '../../src-main/work/board.ts';
import { type Ask, CALLS, type Reply } from '../../src-shared/calls/all.ts';
import type { flockCalls } from '../../src-shared/calls/flock.ts';
import { type DataOf, draft, type KindName } from '../../src-shared/entries/all.ts';
import { type Fault, faultOf } from '../../src-shared/refusal.ts';
import { instantOf } from '../../src-shared/time/zone.ts';

export type FlockCall = keyof typeof flockCalls;
type Written<N extends FlockCall> = Omit<Ask<N>, 'request' | 'by'>;
const ZONE = 'Europe/London';

/** A book with one holding, and the flock's answers over it with the schemas of the calls on both sides. */
export function flockBook(now = '2026-04-12T10:00:00.000Z') {
  const folder = mkdtempSync(join(tmpdir(), 'foldbook-flock-'));
  let clock = now;
  const open = (version: number): Store =>
    openStore(
      join(folder, 'test.foldbook'),
      { ...storeParts, projectionVersion: version },
      { now: () => clock },
      { create: true },
    );
  const store = open(storeParts.projectionVersion);
  const files = new Map<string, { name: string; bytes: Uint8Array }>();
  const context: Context = {
    store,
    now: () => clock,
    file: (token) => files.get(token),
    render: () => Promise.reject(new Error('the flock prints no papers')),
    work: () => Promise.reject(new Error('the flock has no long work')),
    board: workBoard(new AbortController().signal),
    backups: backupShelf(store, () => clock),
    packs: packShelf(store, () => clock),
  };
  let made = 0;
  const requestId = () => `01890000-0000-7000-8000-${String(++made).padStart(12, '0')}`;

  /** Writes an entry as another area would. */
  function enter<K extends KindName>(kind: K, data: DataOf<K>, local = '2026-01-01'): void {
    const happened = { local, zone: ZONE, at: instantOf(local, ZONE, 'start') };
    store.write(requestId(), { kind, data: JSON.stringify(data) }, () => ({
      entries: [draft(kind, 'p1', happened, data)],
      reply: null,
    }));
  }

  /** A call as a screen makes it. Throws the refusal. */
  function call<N extends FlockCall>(name: N, asked: Written<N>, request = requestId()): Reply<N> {
    const spec = CALLS[name];
    const parsed = spec.request.parse(spec.writes ? { request, by: 'p1', ...asked } : asked);
    const answer = flockAnswers[name] as (context: Context, asked: unknown) => unknown;
    return spec.reply.parse(answer(context, parsed)) as Reply<N>;
  }

  /** The refusal of a call that must be refused. */
  function refused<N extends FlockCall>(name: N, asked: Written<N>): Fault {
    try {
      call(name, asked);
    } catch (thrown) {
      return faultOf(thrown);
    }
    throw new Error(`${name} was not refused`);
  }

  enter('person-set', { person: 'p1', name: 'Invented Shepherd', roles: ['shepherd'], active: true });
  enter('holding-set', {
    holding: 'h1',
    name: 'Upper Test Farm',
    number: '99/001/0001',
    address: 'Test Lane',
    zone: ZONE,
    law: 'gb',
    weightUnit: 'kg',
    milk: false,
    counting: 'later',
    marginDays: 0,
    certificates: [],
    places: [],
    paper: 'a4',
  });

  return {
    store,
    call,
    refused,
    enter,
    requestId,
    /** Moves the clock. */
    at: (instant: string) => {
      clock = instant;
    },
    file(bytes: Uint8Array | string) {
      const token = `t${files.size}`;
      files.set(token, { name: 'file.csv', bytes: Buffer.from(bytes) });
      return { token };
    },
    count: (table: string) => store.read.get<{ n: number }>(`SELECT count(*) AS n FROM ${table}`)?.n,
    /** All projections as they stand, and as they come out when the whole journal is folded anew. Closes the book. */
    foldedTwice() {
      const standing = dump(store);
      store.close();
      const again = open(storeParts.projectionVersion + 1);
      const anew = dump(again);
      again.close();
      return { standing, anew };
    },
    close() {
      store.close();
      rmSync(folder, { recursive: true });
    },
  };
}

/** Every row of every projection. */
function dump(store: Store): Record<string, unknown[]> {
  return Object.fromEntries(
    storeParts.projections.map(({ table }) => [
      table,
      store.read
        .all<Record<string, unknown>>(`SELECT * FROM ${table}`)
        .map((row) => JSON.stringify(row))
        .toSorted(),
    ]),
  );
}
export type FlockBook = ReturnType<typeof flockBook>;
