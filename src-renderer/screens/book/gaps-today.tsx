import { useCall } from '../../hooks/use-call.ts';
import { CommandDeed } from '../../parts/deed.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { lastYear } from './last-year.ts';

/** What the book of the last year does not say that it is asked for; nothing when nothing is missing. */
export function GapsToday({ today }: { today: string }) {
  const call = useCall('book-gaps', { ...lastYear(today), limit: 1 });
  if (call.state !== 'ready' || call.value.open === 0) return null;
  const { open, gaps } = call.value;
  return (
    <Section title="The book">
      <Sentences label="Missing in the book">
        <Sentence mind margin="Missing" small={gaps[0]?.text} deed={<CommandDeed id="book-gaps" />}>
          {count(open, 'thing is', 'things are')} missing in the book of the last year.
        </Sentence>
      </Sentences>
    </Section>
  );
}
