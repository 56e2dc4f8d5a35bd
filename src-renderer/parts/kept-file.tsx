import { useEffect, useState } from 'react';
import type { Outcome } from '../../src-shared/refusal.ts';
import { desk, type ShownPaper } from '../desk.ts';
import { FaultNotice } from './notice.tsx';
import { Paper } from './paper.tsx';

/** A kept paper as it is: a picture here in the page, a PDF like every paper; what is neither is saved. */
export function KeptFile({ hash, name, mime }: { hash: string; name: string; mime: string }) {
  return mime === 'application/pdf' ? (
    <Paper hash={hash} title={name} saveAs={name} />
  ) : (
    <OtherFile hash={hash} name={name} isPicture={mime.startsWith('image/')} />
  );
}

function OtherFile({ hash, name, isPicture }: { hash: string; name: string; isPicture: boolean }) {
  const [file, setFile] = useState<Outcome<ShownPaper> | undefined>(undefined);
  useEffect(() => {
    let isGone = false;
    let release = () => {};
    void desk.paper(hash).then((outcome) => {
      if (outcome.ok) {
        if (isGone) return outcome.value.release();
        release = () => outcome.value.release();
      }
      if (!isGone) setFile(outcome);
    });
    return () => {
      isGone = true;
      release();
    };
  }, [hash]);
  if (file === undefined) {
    return (
      <p className="awaited" role="status">
        Fetching the file…
      </p>
    );
  }
  if (!file.ok) return <FaultNotice fault={file.error} />;
  const { url } = file.value;
  return (
    <figure className="paper">
      <figcaption>
        <strong>{name}</strong>{' '}
        <a className="deed deed-plain" href={url} download={name}>
          Save {name}
        </a>
      </figcaption>
      {isPicture ? <img src={url} alt={name} /> : null}
    </figure>
  );
}
