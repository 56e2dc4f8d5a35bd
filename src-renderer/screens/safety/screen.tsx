import type { Reply } from '../../../src-shared/calls/all.ts';
import { EXPOSURE_WORDS } from '../../../src-shared/safety/words.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, DeedLink } from '../../parts/deed.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { ReactionSentences } from './reactions.tsx';

/** Every person and every animal that came to harm by a medicine, and every treatment without effect. */
export default function SafetyScreen() {
  const exposures = useCall('exposures', {});
  const reactions = useCall('reactions', {});
  return (
    <Screen
      title="Came to harm, or no effect"
      lead="What is written here stays in the book. A line that is wrong is struck out in the journal, with a reason."
      deeds={
        <>
          <CommandDeed id="record-exposure" weight="main" />
          <DeedLink to="book/entries">Journal</DeedLink>
        </>
      }
    >
      <Section title="People">
        <Await call={exposures} what="Reading the book">
          {(found) => <People exposures={found.exposures} />}
        </Await>
      </Section>
      <Section title="Animals">
        <Await call={reactions} what="Reading the book">
          {(found) =>
            found.reactions.length === 0 ? (
              <Empty deed={<DeedLink to="book">Open the book</DeedLink>}>
                No reaction is written down. Open the treatment it came after, and report it there.
              </Empty>
            ) : (
              <ReactionSentences reactions={found.reactions} isNamed />
            )
          }
        </Await>
      </Section>
    </Screen>
  );
}

function People({ exposures }: { exposures: Reply<'exposures'>['exposures'] }) {
  if (exposures.length === 0) {
    return <Empty>Nobody came into contact with a medicine, by the book.</Empty>;
  }
  return (
    <Sentences label="People">
      {exposures.map((one) => (
        <Sentence
          key={one.exposure}
          margin={one.local}
          small={[
            `Done: ${one.done}`,
            one.told === undefined ? 'Nobody told, by the book.' : `Told: ${one.told}.`,
            `Written by ${one.by}.`,
          ].join(' ')}
        >
          <strong>{one.who}</strong>: {EXPOSURE_WORDS[one.how]}, {one.product}
          {one.batch === undefined ? '' : `, batch ${one.batch}`}
          {one.amount === undefined ? '' : `, ${one.amount}`}
          {one.where === undefined ? '' : `, ${one.where}`}.
        </Sentence>
      ))}
    </Sentences>
  );
}
