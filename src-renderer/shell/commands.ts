import { useEffect, useRef, useSyncExternalStore } from 'react';
import { COMMANDS, type Command, type CommandId, commandOf } from '../../src-shared/commands.ts';
import { desk } from '../desk.ts';
import { keptHere } from '../hooks/kept-here.ts';
import { isMac } from '../parts/keys.tsx';
import { go, targetOf } from '../router.tsx';
import { hear, runMs } from './key-runs.ts';

/** Deeds done where they stand, by whoever took them on; the last one to do so is on top. */
const takenOn: { id: CommandId; run: { current: () => void } }[] = [];

/** Does a deed: on its screen, or by the part of the screen that has taken it on. True when it could be done. */
export function doCommand(id: CommandId): boolean {
  const taken = takenOn.findLast((one) => one.id === id);
  if (taken !== undefined) {
    taken.run.current();
    return true;
  }
  const target = targetOf(commandOf(id));
  if (target !== undefined) go(target);
  return target !== undefined;
}

/** Deeds that can be done here and now: those with a screen, and those somebody has taken on. */
export function possibleCommands(): readonly Command[] {
  return COMMANDS.filter((command) => 'at' in command || takenOn.some((one) => one.id === command.id));
}

/**
 * Takes on a deed for as long as this part is shown: `useCommand('find-here', () => box.current?.focus())`. A part
 * that leaves the deed to another one beside it says false.
 */
export function useCommand(id: CommandId, run: () => void, isTaken = true): void {
  const held = useRef(run);
  useEffect(() => {
    held.current = run;
  });
  useEffect(() => {
    if (!isTaken) return;
    const one = { id, run: held };
    takenOn.push(one);
    return () => {
      takenOn.splice(takenOn.indexOf(one), 1);
    };
  }, [id, isTaken]);
}

/** While a question is open nothing behind it may be done. */
function isAsked(): boolean {
  return document.querySelector('dialog[open]') !== null;
}

/**
 * Hears the deeds that are chosen in the menu of the window, and does each as the palette would. `then` is told of
 * one that nothing on this screen can do, and of nothing when one was done.
 */
export function useMenu(then: (impossible: Command | undefined) => void): void {
  const held = useRef(then);
  useEffect(() => {
    held.current = then;
  });
  useEffect(
    () =>
      desk.onCommand((id) => {
        const command = COMMANDS.find((one) => one.id === id);
        if (command === undefined || isAsked()) return;
        held.current(doCommand(command.id) ? undefined : command);
      }),
    [],
  );
}

let started = '';
let timer = 0;
const listeners = new Set<() => void>();

function start(run: string): void {
  window.clearTimeout(timer);
  started = run;
  if (run !== '') timer = window.setTimeout(() => start(''), runMs);
  for (const listener of listeners) listener();
}

/** The first key of a run that was just pressed, for showing what may follow. */
export function useStartedRun(): string {
  return useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => started,
  );
}

function isField(target: EventTarget | null): boolean {
  return (
    target instanceof HTMLElement &&
    (target.isContentEditable || /^(?:input|textarea|select)$/i.test(target.tagName))
  );
}

/** True for boxes in which no letter is text: a plain key may be heard there. */
function isTickOrRadio(target: EventTarget | null): boolean {
  return target instanceof HTMLInputElement && (target.type === 'checkbox' || target.type === 'radio');
}

/** Hears the keys of all deeds, for as long as the shell is shown. */
export function useKeys(): void {
  useEffect(() => {
    const press = (event: KeyboardEvent) => {
      if (event.defaultPrevented || event.isComposing || event.repeat) return;
      if (isAsked()) return;
      const mod = isMac ? event.metaKey : event.ctrlKey;
      const inField = isField(event.target) && !isTickOrRadio(event.target);
      if (!mod && (event.ctrlKey || event.metaKey)) return;
      if (!mod && keptHere('plain-keys') === 'off') return;
      const heard = hear(COMMANDS, { key: event.key, mod, alt: event.altKey, inField }, started);
      start(heard.kind === 'started' ? heard.run : '');
      if (heard.kind === 'started') event.preventDefault();
      // The id came out of the list of deeds.
      if (heard.kind === 'deed' && doCommand(heard.id as CommandId)) event.preventDefault();
    };
    document.addEventListener('keydown', press);
    return () => document.removeEventListener('keydown', press);
  }, []);
}
