import type { ReactNode } from 'react';
import { Notice } from './notice.tsx';

/** A file that was made and saved: what is in it, what to see to, and how to save it again. */
export function MadeFile({ name, url, children }: { name: string; url: string; children: ReactNode }) {
  return (
    <Notice
      kind="done"
      word="Made"
      deed={
        <a className="deed deed-plain" href={url} download={name}>
          Save it again
        </a>
      }
    >
      {children}
    </Notice>
  );
}
