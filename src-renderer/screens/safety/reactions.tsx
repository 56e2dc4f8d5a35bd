import type { Ask, Reply } from '../../../src-shared/calls/all.ts';
import { OUTCOME_WORDS, REACTION_WORDS } from '../../../src-shared/safety/words.ts';
import { useCall } from '../../hooks/use-call.ts';
import { DeedLink } from '../../parts/deed.tsx';
import { FaultNotice } from '../../parts/notice.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';

type Reaction = Reply<'reactions'>['reactions'][number];

/** Reactions of one treatment or one animal, where there are any. */
export function Reactions({ of }: { of: Ask<'reactions'> }) {
  const call = useCall('reactions', of);
  if (call.state === 'failed') return <FaultNotice fault={call.fault} />;
  if (call.state !== 'ready' || call.value.reactions.length === 0) return null;
  return (
    <Section title="Reactions, and no effect">
      <ReactionSentences reactions={call.value.reactions} isNamed={of.subject === undefined} />
    </Section>
  );
}

/** Each with what was seen, how it went on, and the way to its report. */
export function ReactionSentences({
  reactions,
  isNamed,
}: {
  reactions: readonly Reaction[];
  /** False on the page of the animal itself. */
  isNamed: boolean;
}) {
  return (
    <Sentences label="Reactions, and no effect">
      {reactions.map((one) => (
        <Sentence
          key={one.reaction}
          margin={REACTION_WORDS[one.what]}
          mind={one.stands && one.what !== 'no-effect'}
          small={smallOf(one)}
          deed={
            <DeedLink to="book/reaction-paper/:reaction" params={{ reaction: one.reaction }}>
              Print it for the vet
            </DeedLink>
          }
        >
          {isNamed ? (
            <>
              <strong>{one.shown}</strong>,{' '}
            </>
          ) : null}
          {one.product}
          {one.batch === '' ? '' : `, batch ${one.batch}`}: {one.seen}
        </Sentence>
      ))}
    </Sentences>
  );
}

function smallOf({ local, by, outcome, told, done, heads, stands }: Reaction): string {
  return [
    `Seen ${local}, written by ${by}.`,
    ...(heads === undefined ? [] : [`${heads} head.`]),
    ...(done === undefined ? [] : [`Done: ${done}`]),
    `How it went on: ${OUTCOME_WORDS[outcome]}.`,
    ...(told === undefined ? [] : [`Told: ${told}.`]),
    ...(stands ? [] : ['The treatment has been struck out since.']),
  ].join(' ');
}
