import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, DeedLink } from '../../parts/deed.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { count, listed } from '../../parts/words.ts';
import { Backup } from './backup.tsx';
import { lawWords } from './holding-words.ts';

type Farm = Reply<'farm'>;

/** Whose book it is, where the animals are, who is in it, and how it is looked after. */
export default function FarmScreen() {
  const farm = useCall('farm', {});
  return (
    <Screen title="Farm">
      <Await call={farm} what="Reading the farm">
        {(value) => (
          <>
            <Business farm={value} />
            <Holdings farm={value} />
            <People farm={value} />
            <Section title="The book">
              <Sentences>
                <Sentence
                  margin="Written"
                  small="Papers carry the check code of the day they were made."
                  deed={<CommandDeed id="check-book" />}
                >
                  {count(value.head.seq, 'entry', 'entries')}, check code{' '}
                  <span className="code">{value.head.checkCode}</span>.
                </Sentence>
                <Sentence margin="Tools" deed={<CommandDeed id="farm-equipment" />}>
                  <Tools />
                </Sentence>
                <Sentence margin="Asked" deed={<CommandDeed id="record-rules" />}>
                  What the law of the holding and your own assurance list ask of the book is looked for in it.
                </Sentence>
                <Sentence margin="Needles" deed={<CommandDeed id="house-rules" />}>
                  Where the sources disagree about needles, the farm settles on its own rule.
                </Sentence>
                <Sentence margin="Training" deed={<CommandDeed id="training" />}>
                  <TrainingStanding />
                </Sentence>
                <Sentence margin="The vet" deed={<CommandDeed id="farm-papers" />}>
                  What the vet said and prescribed is kept beside the treatments.
                </Sentence>
                <Sentence margin="Certified" deed={<DeedLink to="farm/certificates">Certificates</DeedLink>}>
                  An organic certificate of the holding, an animal or a lot begins a second date.
                </Sentence>
                <Sentence margin="Here" deed={<DeedLink to="farm/look">Change how it looks</DeedLink>}>
                  Light or dark, larger letters and higher contrast are chosen for this computer alone.
                </Sentence>
              </Sentences>
            </Section>
            <Backup farm={value} />
          </>
        )}
      </Await>
    </Screen>
  );
}

/** What the farm gives medicine and weighs with, and whether any of it is to be checked. */
function Tools() {
  const call = useCall('equipment', {});
  if (call.state !== 'ready') return null;
  const used = call.value.equipment.filter((one) => one.active);
  const due = used.filter((one) => one.due !== undefined);
  if (used.length === 0) return 'No syringe, gun or weigher of the farm is written down yet.';
  return due.length === 0
    ? `${count(used.length, 'syringe, gun or weigher', 'syringes, guns and weighers')}; none needs a check.`
    : `To be checked before use: ${listed(due.map((one) => one.name))}.`;
}

/** Whether anybody's training is to be looked at again. */
function TrainingStanding() {
  const call = useCall('trainings', {});
  if (call.state !== 'ready') return null;
  const { trainings } = call.value;
  const due = trainings.filter(({ review }) => review === 'soon' || review === 'over');
  if (trainings.length === 0) return 'Who was taught to give medicines is not written down yet.';
  return due.length === 0
    ? `${count(trainings.length, 'note', 'notes')} of what people were taught or seen to do well; nothing to look at again.`
    : `To be looked at again: ${listed(due.map((one) => `${one.personName}, ${one.what}`))}.`;
}

/** The numbers in one line, or nothing while there are none. */
function sayNumbers({ emergency }: NonNullable<Farm['business']>): string | undefined {
  const { call, doctor, hospital, poison } = emergency ?? {};
  const said = [call, doctor, hospital, poison].filter((one) => one !== undefined);
  return said.length === 0 ? undefined : said.join(' · ');
}

function Business({ farm }: { farm: Farm }) {
  const { business } = farm;
  if (business === null) return null;
  const reached = [business.phone, business.email].filter((one) => one !== undefined && one !== '');
  return (
    <Section title="Business">
      <Sentences>
        <Sentence
          margin="Name"
          small={[business.address.replaceAll('\n', ', '), ...reached].join(' · ')}
          deed={<DeedLink to="farm/business">Change</DeedLink>}
        >
          <strong>{business.name}</strong>
        </Sentence>
        <Sentence
          margin="Emergency"
          mind={sayNumbers(business) === undefined}
          deed={
            <DeedLink to="farm/emergency">
              {sayNumbers(business) === undefined ? 'Write them down' : 'Change'}
            </DeedLink>
          }
        >
          {sayNumbers(business) ?? 'No doctor, hospital or poison line is in the book yet.'}
        </Sentence>
      </Sentences>
    </Section>
  );
}

function Holdings({ farm }: { farm: Farm }) {
  return (
    <Section
      title={farm.holdings.length === 1 ? 'Holding' : 'Holdings'}
      deeds={<DeedLink to="farm/holding">Add a holding</DeedLink>}
    >
      <Sentences>
        {farm.holdings.map((holding) => {
          const keeper = farm.people.find((person) => person.person === holding.keeper);
          const margin =
            holding.marginDays === 0 ? [] : [`every period ${holding.marginDays} d longer by choice`];
          const says = [
            `Law of ${lawWords[holding.law]}`,
            `clock of ${holding.zone}`,
            `weights in ${holding.weightUnit}`,
            holding.milk ? 'milk is taken for people' : 'no milk is taken for people',
            ...margin,
            ...(holding.atFoot === 'as-the-label' ? ['lambs at foot as the label says of them'] : []),
          ];
          return (
            <Sentence
              key={holding.holding}
              margin={holding.number}
              small={says.join('; ')}
              deed={
                <DeedLink to="farm/holding/:holding" params={{ holding: holding.holding }}>
                  Change
                </DeedLink>
              }
            >
              <strong>{holding.name}</strong>
              {keeper === undefined ? null : <>, kept by {keeper.name}</>}
            </Sentence>
          );
        })}
      </Sentences>
    </Section>
  );
}

function People({ farm }: { farm: Farm }) {
  const people = farm.people.toSorted((a, b) => Number(b.active) - Number(a.active));
  return (
    <Section title="People and firms" deeds={<CommandDeed id="set-person" />}>
      <Sentences>
        {people.map((person) => {
          const reached = [person.phone, person.email, person.address?.replaceAll('\n', ', ')].filter(
            (one) => one !== undefined && one !== '',
          );
          return (
            <Sentence
              key={person.person}
              margin={person.active ? upperFirst(person.roles[0] ?? '') : 'No longer'}
              small={reached.length === 0 ? undefined : reached.join(' · ')}
              deed={
                <DeedLink to="farm/person/:person" params={{ person: person.person }}>
                  Change
                </DeedLink>
              }
            >
              <strong>{person.name}</strong>
              {person.active ? also(person.roles.slice(1)) : `, was ${listed(person.roles)}`}
            </Sentence>
          );
        })}
      </Sentences>
    </Section>
  );
}

function upperFirst(text: string): string {
  return `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;
}

function also(roles: readonly string[]): string {
  return roles.length === 0 ? '' : `, also ${listed(roles)}`;
}
