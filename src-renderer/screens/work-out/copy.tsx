import { useState } from 'react';
import { useCall } from '../../hooks/use-call.ts';
import { Deed } from '../../parts/deed.tsx';

/**
 * Copies a text by way of a box that is selected, because the window gives no page leave to use the clipboard by
 * itself. True when it was copied.
 */
function copy(text: string): boolean {
  const box = document.createElement('textarea');
  const before = document.activeElement;
  box.value = text;
  box.readOnly = true;
  box.className = 'copy-box';
  document.body.append(box);
  box.select();
  const isCopied = document.execCommand('copy');
  box.remove();
  if (before instanceof HTMLElement) before.focus();
  return isCopied;
}

/** Copies the working as text. On a demo book nothing can be copied, because nothing there may be used. */
export function CopyDeed({ text }: { text: string }) {
  const farm = useCall('farm', {});
  const [said, setSaid] = useState<{ text: string; words: string }>();
  if (farm.state !== 'ready' || farm.value.business?.demo === true) return null;
  const press = () =>
    setSaid({
      text,
      words: copy(text) ? 'Copied.' : 'It was not copied: select the lines above and copy them.',
    });
  return (
    <span>
      <Deed onDo={press}>Copy the working</Deed>{' '}
      <span role="status">{said?.text === text ? said.words : ''}</span>
    </span>
  );
}
