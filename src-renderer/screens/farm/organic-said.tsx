import { useCall } from '../../hooks/use-call.ts';
import { DeedLink } from '../../parts/deed.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';

/** On the page of a treatment: whether it counts as an organic course, where its animal is certified or it was left out. */
export function OrganicOfTreatment({ administration }: { administration: string }) {
  const call = useCall('organic-courses', { administration });
  if (call.state !== 'ready') return null;
  const { of, courses } = call.value;
  const [row] = courses;
  if (row === undefined || (of === undefined && row.excepted === undefined)) return null;
  const { excepted } = row;
  return (
    <Section title="Organic">
      <Sentences>
        <Sentence
          margin={excepted !== undefined ? 'Left out' : row.counts ? 'Counts' : 'Not counted'}
          small={excepted === undefined ? of?.text : `${excepted.by}, ${excepted.on}`}
          deed={
            <DeedLink to="farm/organic" query={{ administration }}>
              {row.counts && of?.rules === 'eu-organic'
                ? 'Leave it out of the courses'
                : 'See the organic courses'}
            </DeedLink>
          }
        >
          {excepted !== undefined
            ? `It does not count among the organic courses: ${excepted.why}`
            : row.counts
              ? 'It counts as an organic course.'
              : `It does not count as an organic course: ${row.why}.`}
        </Sentence>
      </Sentences>
    </Section>
  );
}

/** On the page of an animal or lot: how it stands as organic, where a certificate covers it. */
export function OrganicOfSubject({ subject }: { subject: string }) {
  const call = useCall('organic-standing', { subjects: [subject] });
  if (call.state !== 'ready') return null;
  const [row] = call.value.rows;
  if (row === undefined) return null;
  return (
    <Section title="Organic">
      <Sentences>
        <Sentence
          margin={row.isLost ? 'Lost' : row.isLast ? 'Last one' : 'Stands'}
          mind={row.isLost}
          deed={
            <DeedLink to="farm/organic" query={{ subject }}>
              See what counts, or leave one out
            </DeedLink>
          }
        >
          {row.text}
        </Sentence>
      </Sentences>
    </Section>
  );
}
