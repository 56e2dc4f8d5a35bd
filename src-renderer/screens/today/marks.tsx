import { useCall } from '../../hooks/use-call.ts';
import { DeedLink } from '../../parts/deed.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';

/** Marks that fade within a week: who cannot be told from the others any more is held with them. */
export function Marks() {
  const call = useCall('marks-fading', {});
  if (call.state !== 'ready' || call.value.marks.length === 0) return null;
  return (
    <Section title="Marks">
      <Sentences label="Marks">
        {call.value.marks.map((mark) => (
          <Sentence
            key={`${mark.subject} ${mark.colour} ${mark.place}`}
            margin={mark.isPast ? 'Faded' : 'Fading'}
            mind={mark.isPast}
            deed={
              <DeedLink to="flock/subject/:subject" params={{ subject: mark.subject }}>
                Open {mark.shown}
              </DeedLink>
            }
          >
            {mark.text}
          </Sentence>
        ))}
      </Sentences>
    </Section>
  );
}
