import { readFileSync } from 'node:fs';
import path from 'node:path';
import type { Desk } from '../src-main/desk-type.ts';
import type { Ask, CallName, Reply, WritingCall } from '../src-shared/calls/all.ts';
import type { Fault } from '../src-shared/refusal.ts';
import { dayOf, type Instant, instantOf } from '../src-shared/time/zone.ts';
import { ZONE } from './farm.ts';

/** What a person at the desk says in a writing call; who says it and under which id is the player's business. */
export type Said<N extends WritingCall> = Omit<Ask<N>, 'request' | 'by'>;

/** A call that the scenario meant to be answered was refused: the scenario or the program is wrong. */
export class DemoStopped extends Error {
  constructor(call: string, now: string, error: Fault) {
    const field = error.field === undefined ? '' : ` [${error.field}]`;
    super(`${call} at ${now}: ${error.code}${field}: ${error.message} ${error.next ?? ''}`);
    this.name = 'DemoStopped';
  }
}

/** Between two writing calls the clock of the demo goes on so far: the pace of a person at a desk. */
const STEP_MS = 10_000;
const FILES = path.join(import.meta.dirname, 'files');

/**
 * Plays a scenario on a desk: its clock goes only forward and only as told, its request ids follow from clock and
 * count, so that the same scenario makes the same book each time.
 */
export function playerOf(openDesk: (clock: () => string) => Desk) {
  let nowMs = Date.parse('2024-01-01T00:00:00.000Z');
  let made = 0;
  let writer = 'nobody';
  const clock = () => new Date(nowMs).toISOString();
  const desk = openDesk(clock);

  /** A UUIDv7 of the demo's clock and a running number. */
  function requestId(): string {
    made += 1;
    const time = nowMs.toString(16).padStart(12, '0');
    const low = (made % 4096).toString(16).padStart(3, '0');
    return `${time.slice(0, 8)}-${time.slice(8)}-7${low}-8000-${made.toString(16).padStart(12, '0')}`;
  }

  async function send<N extends CallName>(name: N, request: unknown): Promise<Reply<N>> {
    const answer = await desk.call(name, request);
    if (!answer.ok) throw new DemoStopped(name, clock(), answer.error);
    return answer.value as Reply<N>;
  }

  const player = {
    /** Who writes from here on. */
    as(person: string): void {
      writer = person;
    },
    /**
     * Sets the clock to a local time of the farm ("2025-03-05T09:00"). After a pause in which the book stops
     * believing the clock, the person confirms the day, as on any farm.
     */
    async at(local: string): Promise<void> {
      const then = Date.parse(instantOf(local, ZONE, 'start'));
      if (then < nowMs) throw new Error(`The scenario goes back from ${clock()} to ${local}.`);
      nowMs = then;
      const { clock: belief, head } = await send('farm', {});
      if (belief.state === 'doubted' && head.seq > 0)
        await player.write('confirm-date', { day: belief.today });
    },
    /** The local day of the farm. */
    today: () => dayOf(clock() as Instant, ZONE),
    ask: <N extends CallName>(name: N, request: Ask<N>): Promise<Reply<N>> => send(name, request),
    /** A writing call, by whoever writes. */
    write<N extends WritingCall>(name: N, said: Said<N>): Promise<Reply<N>> {
      nowMs += STEP_MS;
      return send(name, { request: requestId(), by: writer, ...said });
    },
    /** A file of the demo. By its bytes: a token of the desk is another each time, and the request is hashed. */
    file(name: string): { name: string; base64: string } {
      return { name, base64: readFileSync(path.join(FILES, name)).toString('base64') };
    },
    paper: (hash: string) => desk.paper(hash),
    close: () => desk.close(),
  };
  return player;
}
export type Player = ReturnType<typeof playerOf>;
