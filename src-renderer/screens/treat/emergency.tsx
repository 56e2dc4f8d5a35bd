import './treat.css';
import { useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import {
  emergencyTitle,
  FIRST_STEPS_SOURCE,
  firstSteps,
  TAKE_ALONG,
} from '../../../src-shared/safety/first-steps.ts';
import { desk } from '../../desk.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { DeedLink } from '../../parts/deed.tsx';
import { Ticks } from '../../parts/field.tsx';
import { MadePaper } from '../../parts/made-paper.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { useLocation } from '../../router.tsx';

type Emergency = Reply<'emergency'>;
type Hazard = Emergency['medicines'][number];

/**
 * For a person who came into contact with a medicine: what to do first, whom to ring, then what it was. What is in
 * work comes first, and of that what is worst. Nothing of needles where none is in use.
 */
export default function EmergencyScreen() {
  const { session } = useLocation().query;
  const call = useCall('emergency', session === undefined ? {} : { session });
  return (
    <Await call={call} what="Reading the medicines">
      {(found) => <Sheet found={found} session={session} />}
    </Await>
  );
}

function Sheet({ found, session }: { found: Emergency; session: string | undefined }) {
  const inWork = found.medicines.filter((one) => one.isInWork);
  const others = found.medicines.filter((one) => !one.isInWork);
  const first = inWork.length > 0 ? inWork : others;
  return (
    <Screen
      title={emergencyTitle(found.isInjected)}
      lead={FIRST_STEPS_SOURCE}
      deeds={
        <>
          <DeedLink to="treat/exposure" query={session === undefined ? {} : { session }} weight="main">
            Write down what happened
          </DeedLink>
          {session === undefined ? null : (
            <DeedLink to="treat/session/:session" params={{ session }}>
              Back to the session
            </DeedLink>
          )}
        </>
      }
    >
      <Section title="Now">
        <Sentences label="What to do now">
          {firstSteps(found.isInjected).map(({ word, says }, n) => (
            <Sentence key={word} margin={word} mind={n === 0}>
              {n < 2 ? <strong>{says}</strong> : says}
            </Sentence>
          ))}
          <Sentence margin="Take along">
            <strong>{TAKE_ALONG}</strong>
          </Sentence>
        </Sentences>
      </Section>
      <Section title="Whom to ring">
        <Numbers found={found} />
      </Section>
      <Section title={inWork.length > 0 ? 'What it was: in work now' : 'What it was'}>
        <Medicines medicines={first} />
        {inWork.length === 0 || others.length === 0 ? null : (
          <Others medicines={others} isHidden={!found.isInjected} />
        )}
      </Section>
      <Section title="A sheet to take along">
        <Print found={found} session={session} inWork={inWork} />
      </Section>
    </Screen>
  );
}

const numberWords = [
  ['call', 'Emergency'],
  ['doctor', 'Doctor'],
  ['hospital', 'Hospital'],
  ['poison', 'Poison line'],
] as const;

function Numbers({ found }: { found: Emergency }) {
  const { numbers, vets } = found;
  const missing = numberWords.filter(([name]) => numbers[name] === undefined).map(([, word]) => word);
  return (
    <Sentences label="Whom to ring">
      {numberWords.map(([name, word]) =>
        numbers[name] === undefined ? null : (
          <Sentence key={name} margin={word}>
            <strong className="race-until">{numbers[name]}</strong>
          </Sentence>
        ),
      )}
      {vets.map(({ name, phone }) => (
        <Sentence key={name} margin="Vet">
          <strong>{name}</strong>
          {phone === undefined ? ', no telephone number in the book' : `, ${phone}`}
        </Sentence>
      ))}
      {numbers.place === undefined ? null : <Sentence margin="Where we are">{numbers.place}</Sentence>}
      {missing.length === 0 ? null : (
        <Sentence
          margin="Missing"
          mind
          deed={<DeedLink to="farm/emergency">Write the numbers down</DeedLink>}
        >
          Not in the book: {missing.join(', ').toLowerCase()}.
        </Sentence>
      )}
    </Sentences>
  );
}

function Medicines({ medicines }: { medicines: readonly Hazard[] }) {
  return (
    <Sentences label="Medicines">
      {medicines.map((one) => (
        <Sentence
          key={one.medicine}
          margin={one.isOily ? 'Oil' : one.isVaccine ? 'Vaccine' : 'Medicine'}
          mind={one.isOily}
          small={peopleText(one)}
        >
          <strong>{one.name}</strong>
          {one.inside === '' ? '' : `: ${one.inside}`}
          {one.batches.length === 0 ? '' : `, batch ${one.batches.join(', ')}`}
        </Sentence>
      ))}
    </Sentences>
  );
}

function peopleText({ people, pregnantWomen }: Hazard): string {
  if (people === undefined && pregnantWomen === undefined) {
    return 'Nothing about people was typed from its label: read the leaflet.';
  }
  return [people, pregnantWomen === undefined ? undefined : `Pregnant women: ${pregnantWomen}`]
    .filter((text) => text !== undefined)
    .join(' ');
}

/** Every other medicine of the book, one key further away. In work without needles only those without one are named. */
function Others({ medicines, isHidden }: { medicines: readonly Hazard[]; isHidden: boolean }) {
  const shown = isHidden ? medicines.filter((one) => !one.isInjected) : medicines;
  return (
    <>
      {shown.length === 0 ? null : (
        <details className="where-more">
          <summary>It was another medicine</summary>
          <Medicines medicines={shown} />
        </details>
      )}
      {isHidden ? (
        <p className="deeds">
          <DeedLink to="treat/emergency">It was a medicine from other work</DeedLink>
        </p>
      ) : null}
    </>
  );
}

function Print({
  found,
  session,
  inWork,
}: {
  found: Emergency;
  session: string | undefined;
  inWork: readonly Hazard[];
}) {
  const [ticked, setTicked] = useState<readonly string[]>([]);
  const needsChoice = inWork.length === 0;
  return (
    <>
      <p className="hint">
        One page: the numbers, the first steps, what the label says, and room to write. Print it before the
        work, and hang it up at the race.
      </p>
      {needsChoice ? (
        <Ticks
          name="medicines"
          label="For which medicines"
          hint="No session is open, so say what is used today."
          value={ticked}
          onChange={setTicked}
          options={found.medicines.map((one) => ({ value: one.medicine, label: one.name }))}
        />
      ) : null}
      <MadePaper
        deed="Make the emergency sheet"
        title="Emergency sheet"
        saveAs="emergency-sheet.pdf"
        onMake={() =>
          desk.call('emergency-paper', {
            ...(session === undefined ? {} : { session }),
            ...(needsChoice ? { medicines: [...ticked] } : {}),
          })
        }
      />
    </>
  );
}
