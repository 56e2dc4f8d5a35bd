import './treat.css';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { Deed } from '../../parts/deed.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';

/**
 * For a person who was injected or splashed: what to do first, then what it was. It names every medicine of the
 * open sessions with what its label says about people; it prints from the screen.
 */
export default function EmergencyScreen() {
  const farm = useCall('farm', {});
  const vets =
    farm.state === 'ready' ? farm.value.people.filter((one) => one.active && one.roles.includes('vet')) : [];
  return (
    <Screen
      title="A person was injected"
      lead="Common practice for a first step. The doctor, the poison line of your country and the label come first."
      deeds={<Deed onDo={() => window.print()}>Print this sheet</Deed>}
    >
      <Section title="Now">
        <Sentences label="What to do now">
          <Sentence margin="First">
            <strong>Stop the work.</strong> Let the animal go and put the syringe down. Nobody who was
            injected drives.
          </Sentence>
          <Sentence margin="Then">
            <strong>Call the emergency number or a doctor at once</strong>, even when it does not hurt yet:
            say that a person was injected with an animal medicine, and read out its name from the bottle.
          </Sentence>
          <Sentence margin="Meanwhile">
            Lay the person down and keep that arm or leg still. Wash the place with soap and water. Do not
            squeeze, cut or bandage it tight.
          </Sentence>
          <Sentence margin="Eyes, mouth">
            Splashed: rinse with clean running water for a quarter of an hour, and call as above.
          </Sentence>
          <Sentence margin="Take along">
            The bottle, its insert and this sheet. Oil in a vaccine or an injection can cost a finger within
            hours, and some medicines stop the breath: say it when the doctor asks what it was.
          </Sentence>
        </Sentences>
      </Section>
      <Section title="What it was">
        <Medicines />
      </Section>
      {vets.length === 0 ? null : (
        <Section title="The vet knows the medicine">
          <Sentences label="Vets">
            {vets.map((vet) => (
              <Sentence key={vet.person} margin="Vet">
                <strong>{vet.name}</strong>
                {vet.phone === undefined ? ', no telephone number in the book' : `, ${vet.phone}`}
              </Sentence>
            ))}
          </Sentences>
        </Section>
      )}
    </Screen>
  );
}

/** Every medicine in the book: in an emergency nobody should have to look for the right session first. */
function Medicines() {
  const call = useCall('medicines', {});
  return (
    <Await call={call} what="Reading the medicines">
      {({ medicines }) => (
        <Sentences label="Medicines">
          {medicines.map((one) => (
            <OneMedicine key={one.medicine} medicine={one.medicine} name={one.name} />
          ))}
        </Sentences>
      )}
    </Await>
  );
}

function OneMedicine({ medicine, name }: { medicine: string; name: string }) {
  const call = useCall('medicine', { medicine });
  if (call.state !== 'ready') return <Sentence margin="Medicine">{name}</Sentence>;
  const terms = call.value.revisions.at(-1)?.terms;
  const { people, pregnantWomen } = terms?.hazards ?? {};
  const inside = (terms?.actives ?? [])
    .map((one) => `${one.substance} ${one.strength ?? ''}`.trim())
    .join(', ');
  return (
    <Sentence
      margin={terms?.flowClass === 'oily' ? 'Oily' : 'Medicine'}
      mind={terms?.flowClass === 'oily'}
      small={
        people === undefined && pregnantWomen === undefined
          ? 'Nothing about people was typed from its label: read the insert.'
          : [people, pregnantWomen === undefined ? undefined : `Pregnant women: ${pregnantWomen}`]
              .filter((text) => text !== undefined)
              .join('. ')
      }
    >
      <strong>{name}</strong>
      {inside === '' ? '' : `: ${inside}`}
    </Sentence>
  );
}
