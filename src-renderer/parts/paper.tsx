import { useEffect, useState } from 'react';
import type { Outcome } from '../../src-shared/refusal.ts';
import { desk, type ShownPaper } from '../desk.ts';
import { FaultNotice, Notice } from './notice.tsx';

/**
 * A paper beside the screen that made it. Saving it, and opening it in a tab of its own where there are tabs, are
 * always offered: where the browser has no viewer for PDF they are all there is, and a browser may say that it has
 * one and still show nothing in a frame.
 */
export function Paper({
  hash,
  title,
  saveAs,
}: {
  hash: string;
  title: string;
  /** What the saved file is called, where the screen knows better than the desk. */
  saveAs?: string;
}) {
  const [paper, setPaper] = useState<Outcome<ShownPaper> | undefined>(undefined);
  const [turn, setTurn] = useState(0);
  useEffect(() => {
    let isGone = false;
    let release: (() => void) | undefined;
    // `turn` counts the askings: a paper that could not be fetched is fetched again by the same effect.
    if (turn >= 0) setPaper(undefined);
    void desk.paper(hash).then((outcome) => {
      if (isGone) {
        if (outcome.ok) outcome.value.release();
        return;
      }
      if (outcome.ok) release = () => outcome.value.release();
      setPaper(outcome);
    });
    return () => {
      isGone = true;
      release?.();
    };
  }, [hash, turn]);

  if (paper === undefined) {
    return (
      <p className="awaited" role="status">
        Fetching the paper…
      </p>
    );
  }
  if (!paper.ok) return <FaultNotice fault={paper.error} onAgain={() => setTurn(turn + 1)} />;
  const { url, mime } = paper.value;
  const name = saveAs ?? paper.value.name;
  const canShow = mime !== 'application/pdf' || navigator.pdfViewerEnabled;
  return (
    <figure className="paper">
      <figcaption>
        <strong>{title}</strong>{' '}
        <a className="deed deed-main" href={url} download={name}>
          Save {name}
        </a>{' '}
        {desk.hasTabs ? (
          <a className="deed deed-plain" href={url} target="_blank" rel="noopener">
            Open in a new tab
          </a>
        ) : null}
      </figcaption>
      {canShow ? (
        <>
          <iframe title={title} src={url} />
          <p>
            <small>Does the paper stay blank here? Save it and open it with a reader for PDF.</small>
          </p>
        </>
      ) : (
        <Notice>
          <p>
            This window cannot show papers.{' '}
            {desk.hasTabs
              ? 'Save it, or open it in a new tab.'
              : 'Save it and open it with a reader for PDF.'}
          </p>
        </Notice>
      )}
    </figure>
  );
}
