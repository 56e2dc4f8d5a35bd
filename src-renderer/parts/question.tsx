import { type ReactNode, useEffect, useId, useRef } from 'react';

/**
 * A question that must be answered before anything else, with its deeds. The browser's own dialog: it keeps the
 * cursor inside, gives it back afterwards, and Esc means no. The first deed has the cursor, so put the harmless
 * one first.
 */
export function Question({
  title,
  children,
  deeds,
  onNo,
}: {
  title: string;
  children?: ReactNode;
  deeds: ReactNode;
  onNo: () => void;
}) {
  const dialog = useRef<HTMLDialogElement>(null);
  const heading = useId();
  useEffect(() => {
    const shown = dialog.current;
    const before = document.activeElement;
    shown?.showModal();
    return () => {
      shown?.close();
      // A dialog that React takes out of the page does not give the cursor back by itself.
      if (before instanceof HTMLElement) before.focus();
    };
  }, []);
  return (
    <dialog
      ref={dialog}
      className="question"
      aria-labelledby={heading}
      onCancel={(event) => {
        event.preventDefault();
        onNo();
      }}
    >
      <h2 id={heading}>{title}</h2>
      {children}
      <p className="deeds">{deeds}</p>
    </dialog>
  );
}
