import { useCall } from '../../hooks/use-call.ts';
import { DeedLink } from '../../parts/deed.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { count, dayInWords } from '../../parts/words.ts';

/** Instructions that the vet only said, for Today. Shows nothing when there are none. */
export function NotInWriting() {
  const call = useCall('instructions-not-in-writing', {});
  if (call.state !== 'ready' || call.value.instructions.length === 0) return null;
  return (
    <Section title="Not yet in writing">
      <Sentences>
        {call.value.instructions.map((one) => (
          <Sentence
            key={one.instruction}
            margin={dayInWords(one.given)}
            small={
              one.treatments === 0
                ? 'No treatment follows it yet.'
                : `${count(one.treatments, 'treatment follows', 'treatments follow')} it.`
            }
            deed={
              <DeedLink to="treat/instruction/:instruction" params={{ instruction: one.instruction }}>
                Keep its paper
              </DeedLink>
            }
          >
            <strong>{one.vetName}</strong> said: {one.what}
          </Sentence>
        ))}
      </Sentences>
    </Section>
  );
}
