import { useEffect } from 'react';
import { DeedLink } from '../../parts/deed.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';

/** Declarations that what was written has touched: who was told what, and what is so now. */
export function Told({ notices }: { notices: readonly string[] }) {
  if (notices.length === 0) return null;
  return (
    <Sentences label="To be told">
      {notices.map((text) => (
        <Sentence
          key={text}
          mind
          margin="Tell them"
          deed={<DeedLink to="declare">See declarations</DeedLink>}
        >
          {text}
        </Sentence>
      ))}
    </Sentences>
  );
}

/** When a form gives way to what came of it, the cursor goes to the heading: the box it was in is gone. */
export function useHeadingAgain(): void {
  useEffect(() => {
    document.querySelector<HTMLElement>('main h1')?.focus();
  }, []);
}
