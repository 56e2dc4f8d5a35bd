import type { ReactNode } from 'react';
import { useKeptPlace } from '../hooks/use-kept-place.ts';
import { together } from './together.tsx';

/** Sentences under one another, each a line of the book. */
export function Sentences({ children, label }: { children: ReactNode; label?: string }) {
  return (
    <ul className="sentences" aria-label={label}>
      {children}
    </ul>
  );
}

/** Sentences whose deeds change the list they stand in: whoever goes through them by keys keeps the place. */
export function ChangingSentences({ children, label }: { children: ReactNode; label: string }) {
  return (
    <ul className="sentences" aria-label={label} {...useKeptPlace()}>
      {children}
    </ul>
  );
}

/**
 * One sentence with its deed beside it: the way this program says anything. `margin` is the word that hangs in
 * the margin ("Held", "Open", a date); `mind` sets the line off and must come with a margin word that says why,
 * because a colour says nothing by itself.
 */
export function Sentence({
  margin,
  children,
  small,
  deed,
  mind = false,
}: {
  margin?: string;
  children: ReactNode;
  /** A second, smaller line: where it comes from, since when. */
  small?: ReactNode;
  deed?: ReactNode;
  mind?: boolean;
}) {
  return (
    <li className={mind ? 'sentence sentence-mind' : 'sentence'}>
      <span className="margin">{margin}</span>
      <span className="said">
        <span className="said-line">{together(children)}</span>
        {small === undefined ? null : <small>{together(small)}</small>}
      </span>
      <span className="sentence-deed">{deed}</span>
    </li>
  );
}

/** Something that is not there yet, and what to do next. */
export function Empty({ children, deed }: { children: ReactNode; deed?: ReactNode }) {
  return (
    <div className="empty">
      <p>{children}</p>
      {deed === undefined ? null : <p className="deeds">{deed}</p>}
    </div>
  );
}
