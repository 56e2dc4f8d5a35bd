import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { DeedLink } from '../../parts/deed.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { type Coverage, sayCounts, sayCovered } from './cover-words.ts';
import { sayLocal } from './words.ts';

type Vaccine = Coverage['vaccines'][number];

/** How many of a group are covered by each vaccine, now and when the group's days come. Nothing without a vaccine. */
export function GroupVaccines({ group }: { group: string }) {
  const call = useCall('coverage', { group, states: [] });
  if (call.state === 'ready' && call.value.vaccines.every((one) => headsOf(one) === 0)) return null;
  return (
    <Section title="Vaccines">
      <Await call={call} what="Counting who is covered">
        {({ vaccines }) => (
          <Sentences label="Vaccines">
            {vaccines
              .filter((one) => headsOf(one) > 0)
              .map((one) => (
                <Sentence
                  key={one.medicine}
                  margin="Now"
                  small={one.onDates.map(sayDate).join(' ') || undefined}
                  deed={
                    <DeedLink to="flock/vaccines" query={{ group, medicine: one.medicine }}>
                      See who
                    </DeedLink>
                  }
                >
                  <strong>{one.name}</strong>: {sayCounts(one.heads)}.
                </Sentence>
              ))}
          </Sentences>
        )}
      </Await>
    </Section>
  );
}

function headsOf({ heads }: Vaccine): number {
  return Object.values(heads).reduce((sum, n) => sum + n, 0);
}

/** "The day before lambing, 21 Mar 2027: 40 of 60 head covered, with no further dose." */
function sayDate({ what, on, covered, of }: Vaccine['onDates'][number]): string {
  const words = `${what.slice(0, 1).toUpperCase()}${what.slice(1)}`;
  return `${words}, ${sayLocal(on)}: ${sayCovered(covered, of)} with no further dose.`;
}
