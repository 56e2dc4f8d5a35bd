import { useCallback, useEffect, useRef, useState } from 'react';
import { desk } from '../desk.ts';

/** A form waits this long after a key before it is kept. */
const settleMs = 500;

/** What a form may hold: texts, ticks and lists of texts, by the name of the field. */
export type Values = Readonly<Record<string, string | boolean | readonly string[]>>;

/**
 * What was kept, put over what a form starts with. Only fields that the form still has, and only values of the
 * kind they have: an older form must not put something odd into a new one.
 */
export function restoreValues<V extends Values>(
  initial: V,
  kept: unknown,
): { values: V; isRestored: boolean } {
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

export type Draft<T> = {
  /** Undefined until it is known whether something was kept: show the form only then. */
  readonly value: T | undefined;
  /** True when the form goes on from where it was left. */
  readonly isRestored: boolean;
  set(value: T): void;
  /** Forgets what was kept: it was written, or given up. */
  drop(): Promise<void>;
};

/**
 * An unfinished form, kept by the desk while it is being filled in, so that a crash, a flat battery or going
 * elsewhere loses nothing. `form` names it, with the id of what it is about; `restore` says what to make of
 * what was kept, or undefined for nothing.
 */
export function useDraft<T>(
  form: string,
  initial: T,
  restore: (kept: unknown) => { values: T; isRestored: boolean },
): Draft<T> {
  const [held, setHeld] = useState<{ value: T; isRestored: boolean } | undefined>(undefined);
  const waiting = useRef<{ timer: number; value: T | null } | undefined>(undefined);
  const first = useRef({ initial, restore });

  const flush = useCallback(async () => {
    const due = waiting.current;
    if (due === undefined) return;
    window.clearTimeout(due.timer);
    waiting.current = undefined;
    // Not kept means only that a crash would lose it; the form itself goes on, so nothing is said.
    await desk.call('keep-draft', { form, value: due.value });
  }, [form]);

  useEffect(() => {
    let isGone = false;
    void desk.call('draft', { form }).then((outcome) => {
      if (isGone) return;
      const kept: unknown = outcome.ok ? outcome.value.value : null;
      const { values, isRestored } = first.current.restore(kept);
      setHeld({ value: values, isRestored });
    });
    const leave = () => void flush();
    window.addEventListener('pagehide', leave);
    return () => {
      isGone = true;
      window.removeEventListener('pagehide', leave);
      leave();
    };
  }, [form, flush]);

  const set = useCallback(
    (value: T) => {
      setHeld((before) => ({ value, isRestored: before?.isRestored ?? false }));
      if (waiting.current !== undefined) window.clearTimeout(waiting.current.timer);
      waiting.current = { timer: window.setTimeout(() => void flush(), settleMs), value };
    },
    [flush],
  );

  const drop = useCallback(async () => {
    if (waiting.current !== undefined) window.clearTimeout(waiting.current.timer);
    waiting.current = undefined;
    setHeld({ value: first.current.initial, isRestored: false });
    await desk.call('keep-draft', { form, value: null });
  }, [form]);

  return { value: held?.value, isRestored: held?.isRestored ?? false, set, drop };
}
