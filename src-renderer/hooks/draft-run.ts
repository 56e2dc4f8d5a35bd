/** What was kept of a form, as values it can take, and whether they differ from what it starts with. */
export type Restored<T> = { readonly values: T; readonly isRestored: boolean };

/** How far an unfinished form has come. `value` is what stands in it, also while it is still looked up. */
export type DraftState<T> = {
  readonly value: T;
  /** False until it is known whether something was kept. */
  readonly isReady: boolean;
  readonly isRestored: boolean;
};

/** Where drafts are kept. `read` answers what was kept under the name, or null. */
export type DraftPlace = {
  read(): Promise<unknown>;
  keep(value: unknown): Promise<void>;
};

/** What goes to the desk about one form, by its name: each waits for the one before. */
const queues = new Map<string, Promise<unknown>>();

/**
 * Does `work` when all earlier work on this form is done. A save that overtakes the forgetting of what was written
 * would bring it back, to be written a second time; a reading that overtakes a save would lose its last keys.
 */
export function inTurn<R>(form: string, work: () => Promise<R>): Promise<R> {
  const before = queues.get(form) ?? Promise.resolve();
  const mine = before.then(work);
  const settled = mine.then(
    () => {},
    // Who asked for the work hears of it; the next only waits.
    () => {},
  );
  queues.set(form, settled);
  void settled.then(() => {
    if (queues.get(form) === settled) queues.delete(form);
  });
  return mine;
}

/**
 * One unfinished form from when it is opened to when it is left, apart from React so that it can be tested. A change
 * is a step on what stands there now: two that come together both count, and what is typed while it is still looked
 * up whether something was kept goes over what was kept, field by field.
 */
export class DraftRun<T> {
  readonly form: string;
  readonly #initial: T;
  readonly #restore: (kept: unknown) => Restored<T>;
  readonly #place: DraftPlace;
  readonly #settleMs: number;
  readonly #listeners = new Set<() => void>();
  #state: DraftState<T>;
  /** Steps made before it was known what was kept. */
  #early: ((before: T) => T)[] = [];
  #timer: ReturnType<typeof setTimeout> | undefined;
  #isUnsaved = false;

  constructor(
    form: string,
    initial: T,
    restore: (kept: unknown) => Restored<T>,
    place: DraftPlace,
    settleMs: number,
  ) {
    this.form = form;
    this.#initial = initial;
    this.#restore = restore;
    this.#place = place;
    this.#settleMs = settleMs;
    this.#state = { value: initial, isReady: false, isRestored: false };
  }

  get state(): DraftState<T> {
    return this.#state;
  }

  /** Tells `listener` of every change; returns how to stop. */
  readonly follow = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => {
      this.#listeners.delete(listener);
    };
  };

  /** Looks up what was kept. Steps that were made meanwhile are made again on it. */
  async open(): Promise<void> {
    const kept = await inTurn(this.form, () => this.#place.read());
    if (this.#state.isReady) return;
    const { values, isRestored } = this.#restore(kept);
    const early = this.#early;
    this.#early = [];
    const value = early.reduce((before, step) => step(before), values);
    this.#become({ value, isReady: true, isRestored });
    if (early.length > 0) this.#saveSoon();
  }

  /** Makes one step. It is kept when no other has followed for a moment. */
  readonly change = (step: (before: T) => T): void => {
    this.#become({ ...this.#state, value: step(this.#state.value) });
    if (this.#state.isReady) this.#saveSoon();
    else this.#early.push(step);
  };

  /** Keeps now what is not kept yet. `isLast`: the page goes, so that nothing can be waited for. */
  async save(isLast = false): Promise<void> {
    clearTimeout(this.#timer);
    if (!this.#isUnsaved) return;
    this.#isUnsaved = false;
    const { value } = this.#state;
    const keep = () => this.#place.keep(value);
    await (isLast ? keep() : inTurn(this.form, keep));
  }

  /** Empties the form and forgets what was kept: it was written, or given up. */
  readonly drop = async (): Promise<void> => {
    clearTimeout(this.#timer);
    this.#isUnsaved = false;
    this.#early = [];
    this.#become({ value: this.#initial, isReady: true, isRestored: false });
    await inTurn(this.form, () => this.#place.keep(null));
  };

  #saveSoon(): void {
    clearTimeout(this.#timer);
    this.#isUnsaved = true;
    this.#timer = setTimeout(() => void this.save(), this.#settleMs);
  }

  #become(state: DraftState<T>): void {
    this.#state = state;
    for (const listener of this.#listeners) listener();
  }
}
