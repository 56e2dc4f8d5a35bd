/** A key as it was pressed, apart from the browser so that it can be tested. */
export type Press = {
  readonly key: string;
  /** Ctrl, or Cmd on a Mac. */
  readonly mod: boolean;
  readonly alt: boolean;
  /** True while the cursor stands where keys are text. */
  readonly inField: boolean;
};

/** What came of a key: a deed, the start of a run, or nothing of ours. */
export type Heard =
  | { readonly kind: 'deed'; readonly id: string }
  | { readonly kind: 'started'; readonly run: string }
  | { readonly kind: 'none' };

/** The next key of a run must come within this time. */
export const runMs = 2500;

/**
 * Finds the deed behind a key. `run` is what was pressed before within the time. In a field only keys held with
 * Ctrl or Cmd are heard; typing is never taken away.
 */
export function hear(
  commands: readonly { readonly id: string; readonly shortcut?: string }[],
  press: Press,
  run: string,
): Heard {
  const none: Heard = { kind: 'none' };
  if (press.alt) return none;
  if (press.mod) {
    const wanted = `Mod+${press.key}`.toLowerCase();
    const held = commands.find((command) => command.shortcut?.toLowerCase() === wanted);
    return held === undefined ? none : { kind: 'deed', id: held.id };
  }
  if (press.inField || press.key.length !== 1) return none;
  // A wrong second key starts anew: "g" and then "n p" is "n p".
  for (const pressed of run === '' ? [press.key] : [`${run} ${press.key}`, press.key]) {
    const exact = commands.find((command) => command.shortcut === pressed);
    if (exact !== undefined) return { kind: 'deed', id: exact.id };
    if (commands.some((command) => command.shortcut?.startsWith(`${pressed} `) === true)) {
      return { kind: 'started', run: pressed };
    }
  }
  return none;
}
