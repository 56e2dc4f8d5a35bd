import type { ReactNode } from 'react';
import { Warnings } from './notice.tsx';

/** A line of working as the desk sends it. */
type WorkingLine = { code: string; text: string; source?: string | undefined };

/** The answer large, what it means beneath it, how it was reached for whoever wants to check it. */
export function Result({
  label,
  big,
  children,
  working = [],
  warnings = [],
  drawing,
  isOpen = false,
}: {
  /** What it is: "Draw up". */
  label: string;
  /** The answer with its unit: "1.24 mL". */
  big: ReactNode;
  /** The sentence that fills itself in, or anything that says what the answer is for. */
  children?: ReactNode;
  working?: readonly WorkingLine[];
  warnings?: readonly { code: string; text: string }[];
  drawing?: ReactNode;
  isOpen?: boolean;
}) {
  return (
    <div className="result">
      <div className="result-words">
        <p className="result-label">{label}</p>
        <output className="result-big">{big}</output>
        {children === undefined ? null : <div className="result-says">{children}</div>}
        <Warnings warnings={warnings} />
        <Working lines={working} isOpen={isOpen} />
      </div>
      {drawing === undefined ? null : <div className="result-drawing">{drawing}</div>}
    </div>
  );
}

/** The lines a person would write to check an answer, each with where its rule comes from. */
export function Working({ lines, isOpen = false }: { lines: readonly WorkingLine[]; isOpen?: boolean }) {
  if (lines.length === 0) return null;
  return (
    <details className="working" open={isOpen}>
      <summary>How this was worked out</summary>
      <ol>
        {lines.map((line) => (
          <li key={`${line.code} ${line.text}`}>
            {line.text}
            {line.source === undefined ? null : <small>{line.source}</small>}
          </li>
        ))}
      </ol>
    </details>
  );
}
