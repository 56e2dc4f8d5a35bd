import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Attachments } from '../../parts/attachments.tsx';
import { Await } from '../../parts/await.tsx';
import { DeedLink } from '../../parts/deed.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { dayInWords } from '../../parts/words.ts';
import { useParams } from '../../router.tsx';
import { localInWords } from '../book/when.ts';
import { PRODUCE_WORDS, sayPeriod } from '../papers/words.ts';

type Instruction = Reply<'instruction'>;

/** One of the vet's instructions: what was said, for whom, whether it is in writing, and what follows it. */
export default function InstructionOne() {
  const { instruction } = useParams('treat/instruction/:instruction');
  const call = useCall('instruction', { instruction });
  return (
    <Await call={call} what="Reading the instruction">
      {(one) => (
        <Screen
          title="What the vet ordered"
          lead={`${one.vetName} ${one.form === 'told' ? 'said' : 'wrote'} on ${dayInWords(one.given)}: ${one.what}`}
          deeds={
            <>
              <DeedLink to="farm/papers">All of the vet’s papers</DeedLink>
              <DeedLink
                to="book/strike"
                query={{ request: one.entry.request, n: String(one.entry.n) }}
                weight="grave"
              >
                Strike it out
              </DeedLink>
            </>
          }
        >
          {one.inWriting ? null : (
            <Notice kind="mind" word="Not yet in writing">
              <p>It was only said. Ask the vet for it on paper, and keep the paper here.</p>
            </Notice>
          )}
          <Said one={one} />
          <Attachments of={[{ what: 'instruction', id: one.instruction }]} />
          <Followers one={one} />
        </Screen>
      )}
    </Await>
  );
}

function Said({ one }: { one: Instruction }) {
  return (
    <Section title="What it says">
      <Sentences>
        {one.periods.length === 0 ? (
          <Sentence mind margin="Periods">
            No period was named, so it clears nothing.
          </Sentence>
        ) : (
          one.periods.map(({ produce, period }) => (
            <Sentence key={produce} margin="Held">
              {sayProduce(produce)} for <strong>{sayPeriod(period)}</strong>, and never shorter than the law
              or the label.
            </Sentence>
          ))
        )}
        <Sentence margin="With">{one.medicineName ?? 'Any medicine: none was named.'}</Sentence>
        <Sentence
          margin="For"
          small={
            one.subjects.some(({ subject }) => subject.startsWith('lot:'))
              ? 'A lot stands for the heads that were in it then, wherever they went since. Who joined it later is not meant.'
              : undefined
          }
        >
          {one.subjects.length === 0
            ? 'Any animal: none was named.'
            : one.subjects.map(({ shown }) => shown).join(', ')}
        </Sentence>
        <Sentence margin="Good until">
          {one.validUntil === undefined ? 'No last day was named.' : dayInWords(one.validUntil)}
        </Sentence>
        <Sentence margin="Why">{one.reason}</Sentence>
      </Sentences>
    </Section>
  );
}

/** "Meat", for a produce that is known here; its code for any other. */
function sayProduce(produce: string): string {
  const words = Object.entries(PRODUCE_WORDS).find(([code]) => code === produce)?.[1] ?? produce;
  return `${words.slice(0, 1).toUpperCase()}${words.slice(1)}`;
}

function Followers({ one }: { one: Instruction }) {
  return (
    <Section title="Treatments that follow it">
      {one.treatments.length === 0 ? (
        <Empty>None yet. It is chosen where the treatment is written down.</Empty>
      ) : (
        <Sentences>
          {one.treatments.map((each) => (
            <Sentence
              key={each.administration}
              mind={each.why !== undefined}
              margin={localInWords(each.local)}
              small={each.why === undefined ? undefined : `${each.why}.`}
              deed={
                <DeedLink
                  to="book/treatment/:administration"
                  params={{ administration: each.administration }}
                >
                  Open it in the book
                </DeedLink>
              }
            >
              {each.product} into <strong>{each.shown}</strong>
            </Sentence>
          ))}
        </Sentences>
      )}
    </Section>
  );
}
