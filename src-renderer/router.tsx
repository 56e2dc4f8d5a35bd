import { type MouseEvent, type ReactNode, useSyncExternalStore } from 'react';
import type { Command } from '../src-shared/commands.ts';
import { addressOf, isRoutePath, type Location, type Params, type RoutePath, readAddress } from './routes.ts';

/** Where to go: a path, what its colons stand for, and what the screen should start with. */
export type Target = {
  [P in RoutePath]: { to: P; query?: Readonly<Record<string, string>> } & (keyof Params<P> extends never
    ? { params?: undefined }
    : { params: Params<P> });
}[RoutePath];

const listeners = new Set<() => void>();
let here: Location = readAddress(window.location.search);
let visits = 0;

function arrive(): void {
  here = readAddress(window.location.search);
  visits += 1;
  for (const listener of listeners) listener();
}
window.addEventListener('popstate', arrive);

/** Where a deed is done, if on a screen. */
export function targetOf(command: Command): Target | undefined {
  if (command.at === undefined || !isRoutePath(command.at)) return undefined;
  // Deeds with a screen have no colon in their path; a test holds that.
  return { to: command.at } as Target;
}

/** Goes to a screen. `replace` leaves no step back, for when the step before is done with. */
export function go(target: Target, how: { replace?: boolean } = {}): void {
  const address = addressOf(target.to, target.params ?? {}, target.query);
  const isHere = address === `${window.location.pathname}${window.location.search}`;
  if (how.replace === true || isHere) window.history.replaceState(null, '', address);
  else window.history.pushState(null, '', address);
  arrive();
}

/** Goes to where the screen was opened from. */
export function goBack(): void {
  window.history.back();
}

/** Where somebody is now. */
export function useLocation(): Location {
  return useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => here,
  );
}

/** How many times somebody has gone anywhere; another number is another visit, also of the same address. */
export function useVisit(): number {
  return useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => visits,
  );
}

/** What the colons of this screen's path stand for. */
export function useParams<P extends RoutePath>(_path: P): Params<P> {
  // The screen of a path is only shown when the path matched, so each name has its text.
  return useLocation().params as Params<P>;
}

/** A link to a screen: a real address, so that it opens in a new tab where there are tabs. */
export function Link(
  props: Target & {
    children: ReactNode;
    className?: string;
    current?: boolean;
    hints?: { title?: string; 'aria-keyshortcuts'?: string };
  },
) {
  const leave = (event: MouseEvent) => {
    if (event.defaultPrevented || event.button !== 0) return;
    if (event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
    event.preventDefault();
    go(props);
  };
  return (
    <a
      href={addressOf(props.to, props.params ?? {}, props.query)}
      className={props.className}
      aria-current={props.current === true ? 'page' : undefined}
      {...props.hints}
      onClick={leave}
    >
      {props.children}
    </a>
  );
}
