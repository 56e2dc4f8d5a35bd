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
  isSheet = false,
}: {
  title: string;
  children?: ReactNode;
  deeds: ReactNode;
  onNo: () => void;
  /** Something to read rather than to answer: wider, and the cursor begins at its heading. */
  isSheet?: boolean;
}) {
  const dialog = useRef<HTMLDialogElement>(null);
  const heading = useId();
  useEffect(() => {
    const shown = dialog.current;
    const before = document.activeElement;
    shown?.showModal();
    if (isSheet) shown?.querySelector('h2')?.focus();
    return () => {
      shown?.close();
      // A dialog that React takes out of the page does not give the cursor back by itself.
      if (before instanceof HTMLElement) before.focus();
    };
  }, [isSheet]);
  return (
    <dialog
      ref={dialog}
      className={isSheet ? 'question sheet' : 'question'}
      aria-labelledby={heading}
      onCancel={(event) => {
        event.preventDefault();
        onNo();
      }}
    >
      <h2 id={heading} tabIndex={isSheet ? -1 : undefined}>
        {title}
      </h2>
      {children}
      <p className="deeds">{deeds}</p>
    </dialog>
  );
}
