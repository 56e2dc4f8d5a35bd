import type { Fault, Outcome } from '../../src-shared/refusal.ts';

/** A question of the desk that wants a yes before it writes. */
export type WriteQuestion = { readonly code: string; readonly message: string; readonly field?: string };

/** How far one writing call has come. */
export type WriteState<T> =
  | { readonly state: 'idle' }
  | { readonly state: 'busy' }
  | { readonly state: 'asked'; readonly question: WriteQuestion }
  | { readonly state: 'failed'; readonly fault: Fault }
  | { readonly state: 'done'; readonly value: T };

/** `confirmed` are the codes answered yes so far; `id` the id of the request. */
type Send<T> = (ask: object, confirmed: readonly string[], id: string) => Promise<Outcome<T>>;

/**
 * One act of writing, from the first Enter to the answer, apart from React so that it can be tested. The id is
 * made once for what was filled in: sending it twice is written once. After it was written, the same content
 * keeps its id and other content gets a new one; `next` gives a new one in any case.
 */
export class WriteRun<T> {
  #id: string | undefined;
  #written: string | undefined;
  #ask: object | undefined;
  #confirmed: readonly string[] = [];
  #state: WriteState<T> = { state: 'idle' };
  readonly #send: Send<T>;
  readonly #newId: () => string;
  readonly #told: () => void;

  constructor(send: Send<T>, newId: () => string, told: () => void) {
    this.#send = send;
    this.#newId = newId;
    this.#told = told;
  }

  get state(): WriteState<T> {
    return this.#state;
  }

  /** Sends what was filled in. While an answer is awaited a second sending does nothing. */
  async send(ask: object): Promise<T | undefined> {
    if (this.#state.state === 'busy') return undefined;
    const text = JSON.stringify(ask);
    if (this.#written !== undefined && this.#written !== text) this.#forget();
    this.#ask = ask;
    this.#confirmed = [];
    return this.#run();
  }

  /** Says yes to the question that was asked, and sends again. */
  async yes(): Promise<T | undefined> {
    if (this.#state.state !== 'asked') return undefined;
    this.#confirmed = [...this.#confirmed, this.#state.question.code];
    return this.#run();
  }

  /** Leaves the question unanswered: nothing was written. */
  no(): void {
    if (this.#state.state === 'asked') this.#become({ state: 'idle' });
  }

  /** The next sending is a new act, even with the same content. */
  next(): void {
    if (this.#state.state === 'busy') return;
    this.#forget();
    this.#become({ state: 'idle' });
  }

  async #run(): Promise<T | undefined> {
    const ask = this.#ask;
    if (ask === undefined) return undefined;
    this.#id ??= this.#newId();
    this.#become({ state: 'busy' });
    const outcome = await this.#send(ask, this.#confirmed, this.#id);
    if (outcome.ok) {
      this.#written = JSON.stringify(ask);
      this.#become({ state: 'done', value: outcome.value });
      return outcome.value;
    }
    const { error } = outcome;
    if (error.code.startsWith('ask:')) {
      const code = error.code.slice('ask:'.length);
      const field = error.field === undefined ? {} : { field: error.field };
      this.#become({ state: 'asked', question: { code, message: error.message, ...field } });
    } else this.#become({ state: 'failed', fault: error });
    return undefined;
  }

  #forget(): void {
    this.#id = undefined;
    this.#written = undefined;
  }

  #become(state: WriteState<T>): void {
    this.#state = state;
    this.#told();
  }
}
