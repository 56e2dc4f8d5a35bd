import { useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import type { FormState } from '../../hooks/use-form.ts';
import { Deed } from '../../parts/deed.tsx';
import { Section } from '../../parts/screen.tsx';
import { ChangingSentences, Sentence } from '../../parts/sentence.tsx';
import { count, listed } from '../../parts/words.ts';
import { type CloseValues, partlyBy, sayNone } from './close-values.ts';

type Session = Reply<'session'>;

const MOST_NAMED = 6;

/** Who has a record of one medicine and none of another that was planned: held by that one, whatever is counted. */
export function Partly({ form, session }: { form: FormState<CloseValues>; session: Session }) {
  if (!session.waiting.some(({ isPartly }) => isPartly)) return null;
  return (
    <Section title="Who has a record, but not of every medicine">
      {session.lines.map((line) => (
        <OfLine key={line.line} form={form} session={session} line={line} />
      ))}
    </Section>
  );
}

function OfLine({
  form,
  session,
  line,
}: {
  form: FormState<CloseValues>;
  session: Session;
  line: Session['lines'][number];
}) {
  const [isOpen, setOpen] = useState(false);
  const { none } = form.values;
  const all = session.waiting.filter((one) => one.isPartly && one.left.includes(line.line));
  if (all.length === 0) return null;
  const held = new Set(
    partlyBy(session, none)
      .filter(({ lines }) => lines.includes(line.line))
      .map(({ one }) => one.subject),
  );
  const out = all.filter((one) => one.leftOut !== undefined);
  const asked = all.filter((one) => one.leftOut === undefined);
  const may = asked.filter(({ subject }) => held.has(subject));
  const say = (subjects: readonly string[], isNone: boolean) =>
    form.set({ none: subjects.reduce((now, one) => sayNone(now, one, [line.line], isNone), [...none]) });
  const names = may.slice(0, MOST_NAMED).map((one) => one.shown);
  const more = may.length - names.length;
  return (
    <ChangingSentences label={`No record of ${line.name}`}>
      {may.length === 0 ? null : (
        <Sentence
          mind
          margin="Will be held"
          small={`Went through, and ${line.name} was planned. Whoever may have got it counts as treated with it.`}
          deed={
            <>
              <Deed
                onDo={() =>
                  say(
                    may.map(({ subject }) => subject),
                    true,
                  )
                }
              >
                {may.length === 1 ? `It got no ${line.name}` : `None of them got ${line.name}`}
              </Deed>
              {asked.length > 1 ? (
                <Deed onDo={() => setOpen(!isOpen)}>{isOpen ? 'All together' : 'One by one'}</Deed>
              ) : null}
            </>
          }
        >
          <strong>{listed(more > 0 ? [...names, `${more} more`] : names)}</strong>{' '}
          {may.length === 1 ? 'has' : 'have'} no record of <strong>{line.name}</strong>.
        </Sentence>
      )}
      {asked
        .filter(({ subject }) => isOpen && held.has(subject) && may.length > 1)
        .map((one) => (
          <Sentence
            key={one.subject}
            margin="No record"
            deed={<Deed onDo={() => say([one.subject], true)}>It got no {line.name}</Deed>}
          >
            <strong>{one.shown}</strong>
          </Sentence>
        ))}
      {asked
        .filter(({ subject }) => !held.has(subject))
        .map((one) => (
          <Sentence
            key={one.subject}
            margin="Got none"
            deed={<Deed onDo={() => say([one.subject], false)}>It may have got it</Deed>}
          >
            <strong>{one.shown}</strong> got no {line.name}.
          </Sentence>
        ))}
      {out.length === 0 ? null : (
        <Sentence margin="Left out">
          {count(out.length, 'was', 'were')} left out of the run with {line.name}:{' '}
          {listed(out.slice(0, MOST_NAMED).map((one) => `${one.shown} (${one.leftOut})`))}
          {out.length > MOST_NAMED ? ` and ${out.length - MOST_NAMED} more` : ''}.
        </Sentence>
      )}
    </ChangingSentences>
  );
}
