import type { Reply } from '../../../src-shared/calls/all.ts';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { localInWords } from '../book/when.ts';
import { departureAt } from './clear-rows.ts';

type List = Reply<'clear-list'>;

/** When all of them may go, and on which earlier days the rest may if some stay at home. */
export function Staying({ steps, held }: Pick<List, 'steps' | 'held'>) {
  if (held.length === 0) return null;
  const [first] = steps;
  if (first === undefined) {
    return (
      <Section title="When the held may go">
        <Sentences label="When the held may go">
          <Sentence mind margin="No date">
            Waiting clears none of those who are held.
          </Sentence>
        </Sentences>
      </Section>
    );
  }
  return (
    <Section title="When the held may go">
      <Sentences label="When the held may go">
        {steps.map((step, n) => (
          <Sentence
            key={step.at}
            margin={n === 0 ? (step.stay === 0 ? 'All' : 'The rest') : 'Or'}
            {...(step.stay === 0 ? {} : { small: `At home: ${namesOf(step)}.` })}
          >
            {step.stay === 0 ? (
              <>
                All may go from <strong>{localInWords(departureAt(step.at))}</strong> on.
              </>
            ) : (
              <>
                With {count(step.stayHeads, 'head', 'head')} at home the rest may go from{' '}
                <strong>{localInWords(departureAt(step.at))}</strong> on.
              </>
            )}
          </Sentence>
        ))}
      </Sentences>
    </Section>
  );
}

function namesOf({ stay, staying }: List['steps'][number]): string {
  const names = staying.map(({ shown }) => shown).join(', ');
  const more = stay - staying.length;
  return more === 0 ? names : `${names} and ${more.toLocaleString('en-GB')} more`;
}
