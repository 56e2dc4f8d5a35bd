import { useSyncExternalStore } from 'react';

/**
 * Small choices of this computer: how it looks, who usually writes. Never evidence. Where the browser keeps
 * nothing they last as long as the window.
 */
const memory = new Map<string, string>();
const listeners = new Set<() => void>();

function read(name: string): string {
  const held = memory.get(name);
  if (held !== undefined) return held;
  try {
    return window.localStorage.getItem(`foldbook-${name}`) ?? '';
  } catch {
    // A browser told to keep nothing throws here; the choice then holds until the window closes.
    return '';
  }
}

/** Keeps a choice; an empty text forgets it. */
export function keepHere(name: string, value: string): void {
  memory.set(name, value);
  try {
    window.localStorage.setItem(`foldbook-${name}`, value);
  } catch {
    // As above: held in memory.
  }
  for (const listener of listeners) listener();
}

/** A kept choice, followed. Empty when nothing was chosen. */
export function useKeptHere(name: string): string {
  return useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => read(name),
  );
}

/** A kept choice as it is now. */
export function keptHere(name: string): string {
  return read(name);
}
