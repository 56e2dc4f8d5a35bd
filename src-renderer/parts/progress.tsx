import { useEffect, useState } from 'react';
import { Deed } from './deed.tsx';
import { count } from './words.ts';

/**
 * Long work: how far it is, in words, how long it has taken so far, and a way to end it. Without `share` it says that
 * it goes on, and of a step that it cannot be known how far it is.
 */
export function Progress({
  what,
  step,
  share,
  onCancel,
}: {
  /** "Reading every entry". */
  what: string;
  /** What of it is being done just now; the share is then of this alone. */
  step?: string | undefined;
  /** From 0 to 1. */
  share?: number | undefined;
  onCancel?: () => void;
}) {
  const seconds = useSeconds();
  const isUnknown = step !== undefined && share === undefined;
  return (
    <div className="progress">
      <label>
        <span role="status">
          {what}
          {step === undefined ? null : `. ${step}`}
        </span>
        {share === undefined ? null : ` ${Math.floor(share * 100)} %`}
        {seconds < 2 ? null : (
          <small>
            {isUnknown ? 'How far this step is cannot be known. ' : null}
            {count(seconds, 'second', 'seconds')} so far.
          </small>
        )}
        <progress max={1} value={share} />
      </label>
      {onCancel === undefined ? null : <Deed onDo={onCancel}>Stop this</Deed>}
    </div>
  );
}

/** Whole seconds since it was first shown. */
function useSeconds(): number {
  const [seconds, setSeconds] = useState(0);
  useEffect(() => {
    const begun = performance.now();
    const timer = setInterval(() => setSeconds(Math.floor((performance.now() - begun) / 1000)), 1000);
    return () => clearInterval(timer);
  }, []);
  return seconds;
}
