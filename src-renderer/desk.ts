import type { Ask, CallName, Reply, WritingCall } from '../src-shared/calls/all.ts';
import type { Outcome } from '../src-shared/refusal.ts';
import type { Bridge, PlainDoor } from './desk-door.ts';
import { bridgeDoor, loopbackDoor } from './desk-door.ts';

export type { Opening, ShownPaper } from './desk-door.ts';
export { newRequestId } from './desk-door.ts';

/** The one door from a screen to the desk. No method throws; trouble comes back in the envelope. */
export type DeskDoor = Omit<PlainDoor, 'call' | 'write'> & {
  /** Asks the desk something. For a call that writes, use `write`. */
  call<N extends CallName>(name: N, request: Ask<N>): Promise<Outcome<Reply<N>>>;
  /**
   * Asks the desk to write. `id` is the id of the request, a new one when left out. A form makes its id once
   * (`newRequestId`), and sends the same one again when the answer was `desk-not-reached`: it is written once.
   */
  write<N extends WritingCall>(
    name: N,
    request: Omit<Ask<N>, 'request'>,
    id?: string,
  ): Promise<Outcome<Reply<N>>>;
};

declare global {
  interface Window {
    /** Only in the Electron window, put there by its preload. */
    readonly foldbook?: Bridge;
  }
}

const plain: PlainDoor =
  window.foldbook === undefined
    ? loopbackDoor({
        fetch: (address, init) => window.fetch(address, init),
        storage: window.sessionStorage,
        fragment: window.location.hash,
        clearFragment: () => window.history.replaceState(null, '', window.location.pathname),
      })
    : bridgeDoor(window.foldbook);

/** The desk, as every screen knows it. Its replies were checked against their schemas before they were sent. */
export const desk = plain as DeskDoor;
