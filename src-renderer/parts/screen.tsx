import { type ReactNode, useEffect, useRef } from 'react';
import { useArrival } from '../shell/arrival.ts';
import { together } from './together.tsx';

/**
 * The frame of one screen: its heading, a sentence under it, its deeds. When somebody comes here from another
 * screen the cursor goes to the heading, so that a screen reader says where they are.
 */
export function Screen({
  title,
  lead,
  deeds,
  children,
}: {
  title: string;
  lead?: ReactNode;
  deeds?: ReactNode;
  children: ReactNode;
}) {
  const heading = useRef<HTMLHeadingElement>(null);
  const isFirst = useArrival();
  useEffect(() => {
    document.title = `${title} · Foldbook`;
  }, [title]);
  useEffect(() => {
    if (!isFirst) heading.current?.focus();
  }, [isFirst]);
  return (
    <article className="screen">
      <header className="screen-head">
        <h1 ref={heading} tabIndex={-1}>
          {together(title)}
        </h1>
        {lead === undefined ? null : <p className="lead">{together(lead)}</p>}
        {deeds === undefined ? null : <p className="deeds">{deeds}</p>}
      </header>
      {children}
    </article>
  );
}

/** A part of a screen under a heading of its own; the heading hangs in the margin where there is room. */
export function Section({
  title,
  deeds,
  children,
}: {
  title: string;
  deeds?: ReactNode;
  children: ReactNode;
}) {
  return (
    <section className="section">
      <h2>{title}</h2>
      <div className="section-body">
        {children}
        {deeds === undefined ? null : <p className="deeds">{deeds}</p>}
      </div>
    </section>
  );
}
