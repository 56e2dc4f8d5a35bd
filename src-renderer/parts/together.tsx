import type { ReactNode } from 'react';
import { lineParts } from './words.ts';

/** What is shown, with numbers, days and tags each on one line when it is a text; anything else as it is. */
export function together(shown: ReactNode): ReactNode {
  if (typeof shown !== 'string') return shown;
  const parts = lineParts(shown);
  if (parts.length === 1) return shown;
  return parts.map((part, n) =>
    n % 2 === 0 ? (
      part
    ) : (
      // biome-ignore lint/suspicious/noArrayIndexKey: the parts of one text have no other name, and keep their order
      <span key={n} className="together">
        {part}
      </span>
    ),
  );
}
