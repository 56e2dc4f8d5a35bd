import { randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openDesk } from '../../src-main/answers/desk.ts';
import { storeParts } from '../../src-main/answers/store-parts.ts';
import { openStore } from '../../src-main/store/store.ts';
import { type Ask, CALLS, type CallName, type Reply, type WritingCall } from '../../src-shared/calls/all.ts';
import type { Fault } from '../../src-shared/refusal.ts';

export const FARM = {
  business: { name: 'Thistle Bank Farm', address: '1 Thistle Bank' },
  holding: {
    name: 'Thistle Bank',
    number: 'TB 0001',
    address: '1 Thistle Bank',
    zone: 'Europe/London',
    law: 'gb',
    counting: '24-hour',
  },
  keeper: { name: 'Isla Thorn' },
} as const;

/** A drench of an invented substance: 1 mL for each 10 kg, meat 28 d, once opened 28 d. */
export const DRENCH = {
  name: 'Calverol drench',
  form: 'drench',
  kind: 'volume',
  purpose: 'parasites',
  actives: [{ substance: 'calverol', strength: '10 mg/mL' }],
  doseLines: [
    {
      id: 'd1',
      title: 'All sheep',
      route: 'oral',
      rate: { style: 'rate', text: '1 mg/kg', perVolume: '1 mL per 10 kg' },
    },
  ],
  periods: [
    { produce: 'meat', says: 'value', value: '28 d' },
    { produce: 'milk', says: 'not-for-this-produce' },
  ],
  inUse: '28 d',
} satisfies Ask<'check-label'>['terms'];

type Bare<N extends CallName> = N extends WritingCall
  ? Omit<Ask<N>, 'request' | 'by'> & { request?: string; by?: string }
  : Ask<N>;

/** A desk on a real book in a temporary folder, its clock in the test's hands. */
export function farmDesk(start = '2026-05-01T09:00:00.000Z') {
  const folder = mkdtempSync(join(tmpdir(), 'foldbook-farm-'));
  const book = join(folder, 'farm.foldbook');
  let now = start;
  const desk = openDesk({ book, clock: () => now });
  let me = 'nobody';

  async function outcome<N extends CallName>(name: N, request: Bare<N>) {
    const writing = { request: randomUUID(), by: me, ...request };
    return desk.call(name, CALLS[name].writes ? writing : request);
  }

  return {
    book,
    at: (instant: string) => {
      now = instant;
    },
    /** Starts the book and writes as its keeper from here on. */
    async started() {
      const reply = await this.ask('start-book', structuredClone(FARM) as Bare<'start-book'>);
      me = reply.person;
      return reply;
    },
    async ask<N extends CallName>(name: N, request: Bare<N>): Promise<Reply<N>> {
      const answer = await outcome(name, request);
      if (!answer.ok)
        throw new Error(`${name}: ${answer.error.code}: ${answer.error.message} (${answer.error.field})`);
      return answer.value as Reply<N>;
    },
    async refused<N extends CallName>(name: N, request: Bare<N>): Promise<Fault> {
      const answer = await outcome(name, request);
      if (answer.ok) throw new Error(`${name} was not refused: ${JSON.stringify(answer.value)}`);
      return answer.error;
    },
    /** Anything at all, as a broken program or a hostile one would send it. */
    raw: (name: string, request: unknown) => desk.call(name, request),
    /** What is fetched by its hash: a paper, or once a backup or a pack. */
    paper: async (hash: string) => desk.paper(hash),
    head: async () => {
      const answer = await desk.call('farm', {});
      if (!answer.ok) throw new Error(answer.error.message);
      return (answer.value as Reply<'farm'>).head.seq;
    },
    /** Closes the desk, folds every entry anew as a newer program would, and looks at what came of it. */
    async refold(look: (store: ReturnType<typeof openStore>) => void): Promise<void> {
      await desk.close();
      const newer = { ...storeParts, projectionVersion: storeParts.projectionVersion + 1 };
      const store = openStore(book, newer, { now: () => now });
      try {
        look(store);
      } finally {
        store.close();
      }
    },
    async close() {
      await desk.close();
      rmSync(folder, { recursive: true, force: true });
    },
    /** Reads the book itself, beside the desk. */
    async peek<T>(look: (store: ReturnType<typeof openStore>) => T): Promise<T> {
      const store = openStore(book, storeParts, { now: () => now }, { readonly: true });
      try {
        return look(store);
      } finally {
        store.close();
      }
    },
  };
}
export type FarmDesk = ReturnType<typeof farmDesk>;

/** The nth row; without it a test would compare nothing. */
export function one<T>(rows: readonly T[], n = 0): T {
  const row = rows[n];
  if (row === undefined) throw new Error(`there is no row ${n}`);
  return row;
}
