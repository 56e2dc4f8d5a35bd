import { useState } from 'react';

/** A line to be typed elsewhere, with a deed that copies it. Where copying is not allowed it is said, and it is selected. */
export function CopyText({ text }: { text: string }) {
  const [said, setSaid] = useState('');
  const copy = async (code: HTMLElement | null) => {
    try {
      await navigator.clipboard.writeText(text);
      setSaid('Copied.');
    } catch {
      // A browser may forbid it; then the hand does it.
      if (code !== null) window.getSelection()?.selectAllChildren(code);
      setSaid('It could not be copied by itself. It is marked: press Ctrl C.');
    }
  };
  return (
    <span className="copy-text">
      <code className="code">{text}</code>{' '}
      <button
        type="button"
        className="deed deed-plain"
        onClick={(event) => void copy(event.currentTarget.parentElement?.querySelector('code') ?? null)}
      >
        Copy this line
      </button>{' '}
      <span role="status">{said}</span>
    </span>
  );
}
