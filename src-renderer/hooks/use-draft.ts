import { useEffect, useState, useSyncExternalStore } from 'react';
import { desk } from '../desk.ts';
import { DraftRun, type DraftState, type Restored } from './draft-run.ts';

/** A form waits this long after a key before it is kept. */
const settleMs = 500;

/** What a form may hold: texts, ticks and lists of texts, by the name of the field. */
export type Values = Readonly<Record<string, string | boolean | readonly string[]>>;

/**
 * What was kept, put over what a form starts with. Only fields that the form still has, and only values of the
 * kind they have: an older form must not put something odd into a new one.
 */
export function restoreValues<V extends Values>(initial: V, kept: unknown): Restored<V> {
  if (typeof kept !== 'object' || kept === null) return { values: initial, isRestored: false };
  const fits = Object.entries(kept).filter(([name, value]) => {
    const own = initial[name];
    if (own === undefined) return false;
    return Array.isArray(own)
      ? Array.isArray(value) && value.every((item) => typeof item === 'string')
      : typeof value === typeof own;
  });
  const values = { ...initial, ...Object.fromEntries(fits) };
  return { values, isRestored: JSON.stringify(values) !== JSON.stringify(initial) };
}

/**
 * `isReady` is false until it is known whether something was kept: show the form only then. `isRestored` is true
 * when the form goes on from where it was left.
 */
export type Draft<T> = DraftState<T> & {
  /** Makes one step on what stands there now. */
  change(step: (before: T) => T): void;
  /** Forgets what was kept: it was written, or given up. */
  drop(): Promise<void>;
};

function begin<T>(form: string, initial: T, restore: (kept: unknown) => Restored<T>): DraftRun<T> {
  const place = {
    read: async () => {
      const outcome = await desk.call('draft', { form });
      return outcome.ok ? outcome.value.value : null;
    },
    keep: async (value: unknown) => {
      // Not kept means only that a crash would lose it; the form itself goes on, so nothing is said.
      await desk.call('keep-draft', { form, value });
    },
  };
  return new DraftRun(form, initial, restore, place, settleMs);
}

/**
 * An unfinished form, kept by the desk while it is being filled in, so that a crash, a flat battery or going
 * elsewhere loses nothing. `form` names it, with the id of what it is about; `restore` says what to make of
 * what was kept, or undefined for nothing.
 */
export function useDraft<T>(form: string, initial: T, restore: (kept: unknown) => Restored<T>): Draft<T> {
  const [held, setHeld] = useState(() => begin(form, initial, restore));
  const isAnother = held.form !== form;
  const run = isAnother ? begin(form, initial, restore) : held;
  if (isAnother) setHeld(run);
  const state = useSyncExternalStore(run.follow, () => run.state);

  useEffect(() => {
    void run.open();
    const leave = () => void run.save(true);
    window.addEventListener('pagehide', leave);
    return () => {
      window.removeEventListener('pagehide', leave);
      void run.save();
    };
  }, [run]);

  return { ...state, change: run.change, drop: run.drop };
}
