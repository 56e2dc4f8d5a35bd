import type { Fault, Outcome } from '../../src-shared/refusal.ts';

/** How far one piece of long work has come, as a screen shows it. */
export type LongState<T> =
  | { readonly state: 'idle' }
  | {
      readonly state: 'busy';
      /** True once it has lasted long enough to be worth a line of its own. */
      readonly isLong: boolean;
      /** From 0 to 1; absent when it is not known how much there is. */
      readonly share?: number;
      /** What is being done just now, in words; the share is then of this alone. */
      readonly step?: string;
      readonly isEnding: boolean;
    }
  | { readonly state: 'done'; readonly value: T }
  | { readonly state: 'stopped' }
  | { readonly state: 'failed'; readonly fault: Fault };

/** What the desk is asked; `work` is the id of the work. */
export type LongDesk<Q, T> = {
  begin(request: Q, work: string): Promise<Outcome<T>>;
  progress(
    work: string,
  ): Promise<Outcome<{ isRunning: boolean; done: number; total: number; step?: string | undefined }>>;
  end(work: string): Promise<unknown>;
};

/** How often it is asked how far the work is: four times a second. */
export const askMs = 250;

/**
 * One piece of long work after another, apart from React so that it can be tested: begun, asked about while it goes
 * on, ended when somebody wants so or leaves the screen.
 */
export class LongRun<Q, T> {
  readonly #desk: LongDesk<Q, T>;
  readonly #newId: () => string;
  readonly #listeners = new Set<() => void>();
  #state: LongState<T> = { state: 'idle' };
  #work: string | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor(desk: LongDesk<Q, T>, newId: () => string) {
    this.#desk = desk;
    this.#newId = newId;
  }

  get state(): LongState<T> {
    return this.#state;
  }

  /** Tells `listener` of every change; returns how to stop. */
  readonly follow = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => {
      this.#listeners.delete(listener);
    };
  };

  /** Begins, unless it is under way. Answers what came of it, or nothing when it was ended or refused. */
  readonly start = async (request: Q): Promise<T | undefined> => {
    if (this.#work !== undefined) return undefined;
    const work = this.#newId();
    this.#work = work;
    this.#become({ state: 'busy', isLong: false, isEnding: false });
    this.#askLater(work);
    const outcome = await this.#desk.begin(request, work);
    clearTimeout(this.#timer);
    this.#work = undefined;
    if (outcome.ok) {
      this.#become({ state: 'done', value: outcome.value });
      return outcome.value;
    }
    const { error } = outcome;
    this.#become(error.code === 'cancelled' ? { state: 'stopped' } : { state: 'failed', fault: error });
    return undefined;
  };

  /** Ends what is under way; that it has ended is known when `start` answers. */
  readonly cancel = (): void => {
    if (this.#work === undefined) return;
    if (this.#state.state === 'busy') this.#become({ ...this.#state, isEnding: true });
    void this.#desk.end(this.#work);
  };

  #askLater(work: string): void {
    this.#timer = setTimeout(() => void this.#ask(work), askMs);
  }

  async #ask(work: string): Promise<void> {
    const outcome = await this.#desk.progress(work);
    if (this.#work !== work || this.#state.state !== 'busy') return;
    const { isEnding } = this.#state;
    const far = outcome.ok && outcome.value.total > 0 ? outcome.value : undefined;
    const share = far === undefined ? {} : { share: Math.min(1, far.done / far.total) };
    const { step } = outcome.ok ? outcome.value : {};
    this.#become({
      state: 'busy',
      isLong: true,
      isEnding,
      ...share,
      ...(step === undefined ? {} : { step }),
    });
    this.#askLater(work);
  }

  #become(state: LongState<T>): void {
    this.#state = state;
    for (const listener of this.#listeners) listener();
  }
}
