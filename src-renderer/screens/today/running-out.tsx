import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { DeedLink } from '../../parts/deed.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { LeadDeed } from '../order/lead-deed.tsx';
import { linesForToday } from '../order/outlook-lines.ts';

/** So many lines stand on Today; the rest is under Order. */
const most = 4;

/**
 * What runs out, with the last day to order it or to talk to the vet. To be shown once the rest of Today is there: of
 * all calls it takes the desk longest. Nothing where nothing runs out.
 */
export function RunningOut({ today }: { today: string }) {
  const outlook = useCall('order-outlook', {});
  if (outlook.state === 'ready' && linesForToday(outlook.value.medicines, today).length === 0) return null;
  return (
    <Section title="Running out">
      <Await call={outlook} what="Looking ahead">
        {({ medicines }) => {
          const lines = linesForToday(medicines, today);
          return (
            <Sentences label="Running out">
              {lines.slice(0, most).map((line) => (
                <Sentence
                  key={line.key}
                  mind={line.isUrgent === true}
                  {...(line.margin === undefined ? {} : { margin: line.margin })}
                  {...(line.kind === 'vet' || line.small === '' ? {} : { small: line.small })}
                  deed={
                    <>
                      {line.kind === 'vet' ? null : (
                        <DeedLink
                          to="order/write"
                          query={line.supplier === '' ? {} : { supplier: line.supplier }}
                        >
                          Write an order list
                        </DeedLink>
                      )}
                      <DeedLink to="order/outlook/:medicine" params={{ medicine: line.medicine }}>
                        See the outlook
                      </DeedLink>
                      {line.hasNoDay === true ? <LeadDeed medicine={line.medicine} /> : null}
                    </>
                  }
                >
                  {line.text}
                </Sentence>
              ))}
              {lines.length <= most ? null : (
                <Sentence margin="More" deed={<DeedLink to="order">See all on Order</DeedLink>}>
                  {lines.length - most} more have to be seen to within two weeks.
                </Sentence>
              )}
            </Sentences>
          );
        }}
      </Await>
    </Section>
  );
}
