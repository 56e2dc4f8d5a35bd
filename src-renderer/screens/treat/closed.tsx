import { useEffect, useRef, useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { Choice, Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { List } from '../../parts/list.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { count, listed } from '../../parts/words.ts';
import { printWhen } from './words.ts';

type Session = Reply<'session'>;
type Possible = Session['possibly'][number];

const hows = [
  {
    value: 'not-treated',
    label: 'Seen or found',
    hint: 'somebody saw that it was not, it was elsewhere, a mark is missing, a bottle is full',
  },
  { value: 'vet-word', label: "By the vet's word" },
] as const;

/** A closed session: what came of it, and who is still held because nobody knows. */
export function Closed({ id, session }: { id: string; session: Session }) {
  const { session: row, closing, possibly, sharpsOut } = session;
  const missing = (sharpsOut ?? 0) - (closing?.sharpsBack ?? sharpsOut ?? 0);
  return (
    <Screen
      title={row.name}
      lead={`Closed. ${count(closing?.headsThrough ?? 0, 'head', 'heads')} through, ${row.treated} recorded. ${row.lines.join(' · ')}.`}
      deeds={<DeedLink to="treat">All sessions</DeedLink>}
    >
      {missing > 0 ? (
        <Notice kind="mind" word="Needles" deed={<DeedLink to="treat/needle">See the reports</DeedLink>}>
          <p>
            {count(missing, 'needle is', 'needles are')} missing: look in the animals and in the pen. An
            animal with a broken needle is marked at once and never sold without saying so.
          </p>
        </Notice>
      ) : null}
      <Section title="Possibly treated">
        <PossiblyTreated possibly={possibly} session={id} />
      </Section>
      {closing?.note === undefined ? null : (
        <Section title="Note">
          <p>{closing.note}</p>
        </Section>
      )}
      <Section title="Treated">
        <List
          label="Treated"
          rows={session.last}
          rowKey={(one) => one.administration}
          columns={[
            { key: 'local', head: 'When', text: (one) => printWhen(one.local), order: (one) => one.local },
            { key: 'shown', head: 'Animal or lot', text: (one) => one.shown },
            { key: 'product', head: 'Medicine', text: (one) => one.product },
            { key: 'quantity', head: 'Given', text: (one) => one.quantity, isNumber: true },
            { key: 'until', head: 'Meat held', text: (one) => one.until },
          ]}
          empty={<Empty>Nobody was treated in this session.</Empty>}
        />
        {session.last.length < 50 ? null : (
          <p className="hint">
            The last 50 are shown. <DeedLink to="book">The book has all of them</DeedLink>
          </p>
        )}
      </Section>
    </Screen>
  );
}

/** Everybody held because a head went through without a record, each with the deed that ends it. */
export function PossiblyTreated({ possibly, session }: { possibly: readonly Possible[]; session: string }) {
  const [chosen, setChosen] = useState<string | undefined>(undefined);
  if (possibly.length === 0) return <Empty>Nobody is held as possibly treated.</Empty>;
  const open = possibly.find((one) => one.subject === chosen);
  return (
    <>
      <Sentences label="Possibly treated">
        {possibly.map((one) => (
          <Sentence
            key={`${one.hold} ${one.subject}`}
            mind
            margin="Held"
            small={one.why}
            deed={
              <>
                <Deed onDo={() => setChosen(one.subject)}>
                  {one.of.length === 1 ? `It got no ${one.of[0]}` : 'It got none of them'}
                </Deed>
                <DeedLink to="treat/one" query={{ subject: one.subject, hold: one.hold, session }}>
                  Record it now
                </DeedLink>
              </>
            }
          >
            <strong>{one.shown}</strong>
            {one.heads > 1 ? `, ${one.heads} head,` : ''} may have been treated with{' '}
            <strong>{listed(one.of)}</strong>, and counts as treated.
          </Sentence>
        ))}
      </Sentences>
      {open === undefined ? null : <Resolve key={open.hold} one={open} onDone={() => setChosen(undefined)} />}
    </>
  );
}

/** Ends the hold of an animal that was not treated: how that is known goes into the book. */
function Resolve({ one, onDone }: { one: Possible; onDone: () => void }) {
  const form = useForm(`treat/resolve/${one.hold}`, { how: 'not-treated', why: '' });
  const write = useWrite('resolve-possible', () => void form.drop().then(onDone));
  const part = useRef<HTMLElement>(null);
  const { isReady } = form;
  useEffect(() => {
    if (isReady) part.current?.querySelector('input')?.focus();
  }, [isReady]);
  const send = () => {
    const how = hows.find((option) => option.value === form.values.how)?.value;
    if (how === undefined || form.values.why.trim() === '') {
      return form.show([{ field: 'why', message: 'Write how it is known.' }]);
    }
    void write.send({ hold: one.hold, subject: one.subject, how, why: form.values.why });
  };
  return (
    <section ref={part} className="section" aria-label={`${one.shown} was not treated`}>
      <h3>
        {one.shown} was not treated with {listed(one.of)}. How is that known?
      </h3>
      <Form form={form} write={write} deed="End the hold" onSend={send} onLeave={onDone}>
        <Choice {...form.text('how')} label="It is known because" options={hows} />
        <Field {...form.text('why')} label="In words" hint="Who saw it, when, where." lines={2} />
      </Form>
    </section>
  );
}
