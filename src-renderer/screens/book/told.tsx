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
