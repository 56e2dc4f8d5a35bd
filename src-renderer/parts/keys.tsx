import { printShortcut } from '../../src-shared/commands.ts';

/** True on a Mac, where the key beside the space bar is used for what others do with Ctrl. */
export const isMac = /Mac|iP(?:hone|ad)/.test(navigator.userAgent);

/**
 * The keys of a deed as its tooltip, and for screen readers where they are one key: a run of two has no way to be
 * told to them but the sheet of keys.
 */
export function keyHints(shortcut: string | undefined): { title?: string; 'aria-keyshortcuts'?: string } {
  if (shortcut === undefined) return {};
  const held = shortcut.startsWith('Mod+');
  const key = held ? `${isMac ? 'Meta' : 'Control'}+${shortcut.slice('Mod+'.length)}` : shortcut;
  return {
    title: `Keys: ${printShortcut(shortcut, isMac)}`,
    // A space would part two keys of which either does it.
    ...(key.includes(' ') ? {} : { 'aria-keyshortcuts': key }),
  };
}

/** The keys of a deed, as small print beside it. */
export function Keys({ shortcut }: { shortcut: string }) {
  return <kbd className="keys">{printShortcut(shortcut, isMac)}</kbd>;
}
