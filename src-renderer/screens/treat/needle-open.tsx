import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { DeedLink } from '../../parts/deed.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';

type Loss = Reply<'needle-losses'>['losses'][number];

/** Reports that still hold somebody, each with the deed that says more. */
export function NeedlesOpen({ losses }: { losses: readonly Loss[] }) {
  return (
    <Sentences label="Needles not found">
      {losses.map((one) => (
        <Sentence
          key={one.loss}
          mind
          margin="Needle"
          small={`Noticed ${one.noticed}, written by ${one.by}. ${count(
            one.held.reduce((sum, { heads }) => sum + heads, 0),
            'head is',
            'head are',
          )} held for meat.`}
          deed={
            <DeedLink to="treat/needle/:loss" params={{ loss: one.loss }}>
              Say what is known
            </DeedLink>
          }
        >
          {one.says}
        </Sentence>
      ))}
    </Sentences>
  );
}

/** The same as a part of a screen; nothing while no needle is missing. */
export function NeedlesMissing() {
  const call = useCall('needle-losses', { open: true });
  if (call.state !== 'ready' || call.value.losses.length === 0) return null;
  return (
    <Section title="Needles not found">
      <NeedlesOpen losses={call.value.losses} />
    </Section>
  );
}
