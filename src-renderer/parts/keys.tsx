import { printShortcut } from '../../src-shared/commands.ts';

/** True on a Mac, where the key beside the space bar is used for what others do with Ctrl. */
export const isMac = /Mac|iP(?:hone|ad)/.test(navigator.userAgent);

/** The keys of a deed, as small print beside it. */
export function Keys({ shortcut }: { shortcut: string }) {
  return <kbd className="keys">{printShortcut(shortcut, isMac)}</kbd>;
}
