import { type FocusEvent, useLayoutEffect, useRef } from 'react';

/**
 * Keeps the cursor in a list when the deed it stood on goes away by being done: it then stands on the row in its place.
 * On the row and not on its deed, so that Enter pressed twice does nothing to the next one.
 * @returns what the list element takes
 */
export function useKeptPlace() {
  const list = useRef<HTMLUListElement>(null);
  const place = useRef(-1);
  useLayoutEffect(() => {
    const rows = list.current?.children;
    if (rows === undefined || place.current < 0 || document.activeElement !== document.body) return;
    const row = rows[Math.min(place.current, rows.length - 1)];
    if (!(row instanceof HTMLElement)) return;
    row.tabIndex = -1;
    row.focus();
  });
  return {
    ref: list,
    onFocus: ({ target }: FocusEvent) => {
      place.current = [...(list.current?.children ?? [])].findIndex((row) => row.contains(target));
    },
    onBlur: () => {
      place.current = -1;
    },
  };
}
