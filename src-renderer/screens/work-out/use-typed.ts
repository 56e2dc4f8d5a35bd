import { useMemo } from 'react';
import { keepHere, useKeptHere } from '../../hooks/kept-here.ts';
import type { Typed } from './sentence.ts';

/** What was kept, as texts by name; nothing where it is no such thing. */
export function restoreTyped(kept: string): Typed {
  if (kept === '') return {};
  let read: unknown;
  try {
    read = JSON.parse(kept);
  } catch (thrown) {
    // Somebody changed by hand what the browser keeps: begin afresh.
    if (thrown instanceof SyntaxError) return {};
    throw thrown;
  }
  if (typeof read !== 'object' || read === null) return {};
  const texts = Object.entries(read).filter(
    (entry): entry is [string, string] => typeof entry[1] === 'string',
  );
  return Object.fromEntries(texts);
}

/**
 * What was typed into a sentence. It is kept on this computer and not with the book, because none is needed here;
 * so it is still there for whoever goes away and comes back.
 */
export function useTyped(topic: string): { typed: Typed; set(change: Typed): void; clear(): void } {
  const name = `work-out-${topic}`;
  const kept = useKeptHere(name);
  const typed = useMemo(() => restoreTyped(kept), [kept]);
  return {
    typed,
    set: (change) => keepHere(name, JSON.stringify({ ...typed, ...change })),
    clear: () => keepHere(name, ''),
  };
}
