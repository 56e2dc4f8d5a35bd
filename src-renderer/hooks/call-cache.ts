import type { Fault, Outcome } from '../../src-shared/refusal.ts';

/**
 * What a screen knows of one call. While it is asked again the last answer stays on the screen; when asking again
 * fails it stays too, with the trouble beside it, because taking a form away loses more than old figures do.
 */
export type Answer<T> =
  | { readonly state: 'loading' }
  | { readonly state: 'ready'; readonly value: T; readonly isRefreshing: boolean; readonly old?: Fault }
  | { readonly state: 'failed'; readonly fault: Fault };

type Kept = {
  answer: Answer<unknown>;
  readonly listeners: Set<() => void>;
  readonly ask: () => Promise<Outcome<unknown>>;
  /** Counts askings, so that a slow early answer never replaces a late one. */
  asked: number;
};

/** Answers of screens that are closed, kept so that going back shows something at once. */
const keptUnseen = 40;

/**
 * Answers of the desk by call and request, shared by all screens. Any writing call may change any answer, so
 * after one all that are on a screen are asked again and the others are dropped.
 */
export class CallCache {
  readonly #kept = new Map<string, Kept>();

  /** The answer so far. */
  answer(key: string): Answer<unknown> {
    return this.#kept.get(key)?.answer ?? loading;
  }

  /** Follows an answer and asks for it anew; returns how to stop. */
  follow(key: string, ask: () => Promise<Outcome<unknown>>, listener: () => void): () => void {
    const kept = this.#kept.get(key) ?? { answer: loading, listeners: new Set(), ask, asked: 0 };
    // Taken out and put back: the map's order is then how long ago each was last on a screen.
    this.#kept.delete(key);
    this.#kept.set(key, kept);
    kept.listeners.add(listener);
    // A second listener within the same screen gets the answer that is already under way.
    if (kept.listeners.size === 1) void this.#ask(kept);
    return () => {
      kept.listeners.delete(listener);
      this.#dropOldest();
    };
  }

  /** Asks for one answer again. */
  async refresh(key: string): Promise<void> {
    const kept = this.#kept.get(key);
    if (kept !== undefined) await this.#ask(kept);
  }

  /** Something was written: whatever is on a screen is asked again, the rest is forgotten. */
  async changed(): Promise<void> {
    const asked: Promise<void>[] = [];
    for (const [key, kept] of this.#kept) {
      if (kept.listeners.size === 0) this.#kept.delete(key);
      else asked.push(this.#ask(kept));
    }
    await Promise.all(asked);
  }

  async #ask(kept: Kept): Promise<void> {
    kept.asked += 1;
    const turn = kept.asked;
    if (kept.answer.state === 'ready') this.#put(kept, { ...kept.answer, isRefreshing: true });
    if (kept.answer.state === 'failed') this.#put(kept, loading);
    const outcome = await kept.ask();
    if (turn !== kept.asked) return;
    if (outcome.ok) this.#put(kept, { state: 'ready', value: outcome.value, isRefreshing: false });
    else if (kept.answer.state === 'ready') {
      this.#put(kept, { ...kept.answer, isRefreshing: false, old: outcome.error });
    } else this.#put(kept, { state: 'failed', fault: outcome.error });
  }

  #put(kept: Kept, answer: Answer<unknown>): void {
    kept.answer = answer;
    for (const listener of kept.listeners) listener();
  }

  #dropOldest(): void {
    const unseen = [...this.#kept].filter(([, kept]) => kept.listeners.size === 0);
    for (const [key] of unseen.slice(0, Math.max(0, unseen.length - keptUnseen))) this.#kept.delete(key);
  }
}

const loading: Answer<unknown> = { state: 'loading' };
