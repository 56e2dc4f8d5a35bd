import type { DoseDifference } from '../../../src-shared/label/samples.ts';
import { Section } from '../../parts/screen.tsx';

/** What another reading of a label changes: in words, and in what it gives to three sheep. */
export function Changes({
  title,
  differences,
  doses,
  none,
}: {
  title: string;
  /** In words, a sentence each. */
  differences: readonly string[];
  doses: readonly DoseDifference[];
  /** What is said where both readings say the same. */
  none: string;
}) {
  const lines = [...new Set(doses.map((one) => one.line))];
  return (
    <Section title={title}>
      {differences.length === 0 ? <p className="label-none">{none}</p> : <Differences texts={differences} />}
      {lines.map((line) => (
        <div key={line} className="label-samples">
          <p className="field-label">{line}</p>
          <dl>
            {doses
              .filter((one) => one.line === line)
              .map((one) => (
                <div key={one.weight}>
                  <dt>{one.weight}</dt>
                  <dd>
                    was {one.before}, now <strong className="label-dose">{one.after}</strong>
                  </dd>
                </div>
              ))}
          </dl>
        </div>
      ))}
    </Section>
  );
}

/** What it was and what it is now stand beneath one another, so that the eye can go from one to the other. */
function Differences({ texts }: { texts: readonly string[] }) {
  return (
    <ul className="label-says">
      {texts.map((text) => (
        <li key={text}>
          {text.split(/ (?=Now: )/).map((part) => (
            <p key={part}>{part}</p>
          ))}
        </li>
      ))}
    </ul>
  );
}

/** A label in full words, a line each. */
export function LabelSays({ says }: { says: readonly string[] }) {
  return (
    <ul className="label-says">
      {says.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}
