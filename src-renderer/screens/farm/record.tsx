import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { Field, Select, Tick, Ticks } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { go, useLocation } from '../../router.tsx';

type Rules = Reply<'record-rules'>;
type Item = Rules['items'][number];
type Profile = Rules['profiles'][number];

const toGaps = () => go({ to: 'book/gaps' });

/** By what the book of a holding is kept: what its law asks, and the farm's own assurance list. */
export default function RecordRulesScreen() {
  const { query } = useLocation();
  const call = useCall('record-rules', query.holding === undefined ? {} : { holding: query.holding });
  return (
    <Screen
      title="What the book is kept by"
      lead="The law of the holding says what is looked for in the book. An assurance list of your own can be added. Nothing that is written changes by it."
    >
      <Await call={call} what="Reading what is asked">
        {(rules) => <RulesForm key={rules.holding} rules={rules} />}
      </Await>
    </Screen>
  );
}

const acts = { purchase: 'When it comes in', administration: 'When it is given', disposal: 'When it goes' };

const margins = { purchase: 'Comes in', administration: 'Is given', disposal: 'Goes' };

function RulesForm({ rules }: { rules: Rules }) {
  const list = rules.assurance ?? rules.usual;
  const form = useForm(`farm/record/${rules.holding}`, {
    profile: rules.chosen ?? '',
    hasList: rules.assurance !== undefined,
    items: list.items as readonly string[],
    own: list.own.join('\n'),
  });
  const write = useWrite('set-record-rules', () => {
    void form.drop().then(toGaps);
  });
  const { values } = form;
  const chosen = values.profile === '' ? rules.byLaw : values.profile;
  const profile = rules.profiles.find((one) => one.id === chosen);
  const byLaw = rules.profiles.find((one) => one.id === rules.byLaw);
  const send = () => {
    // The screen offers only what the desk named, and the desk checks it again.
    const items = rules.items.filter(({ item }) => values.items.includes(item)).map(({ item }) => item);
    const own = values.own
      .split('\n')
      .map((line) => line.trim())
      .filter((line) => line !== '');
    const other = rules.profiles.find((one) => one.id === values.profile)?.id;
    void write.send({
      holding: rules.holding,
      ...(other === undefined || other === 'assurance' ? {} : { profile: other }),
      ...(values.hasList ? { assurance: { items, own } } : {}),
    });
  };
  return (
    <Form
      form={form}
      write={write}
      deed="Keep the book by this"
      onSend={send}
      onLeave={() => go({ to: 'farm' })}
    >
      <Section title="The law">
        <Select
          {...form.text('profile')}
          label="What is asked"
          options={[
            { value: '', label: `By the law of the holding: ${byLaw?.name ?? 'Plain'}` },
            ...rules.profiles
              .filter((one) => one.id !== 'assurance' && one.id !== rules.byLaw)
              .map((one) => ({ value: one.id, label: one.name })),
          ]}
        />
        {profile === undefined ? null : <Asked profile={profile} items={rules.items} />}
      </Section>
      <Section title="Your own list">
        <Tick
          {...form.tick('hasList')}
          label="Also keep the book by an assurance list of our own"
          hint="Tick what your scheme or buyer asks for. No scheme is meant."
        />
        {values.hasList ? (
          <>
            {(['purchase', 'administration', 'disposal'] as const).map((act) => (
              <Ticks
                key={act}
                {...form.list('items')}
                name={`items-${act}`}
                label={acts[act]}
                options={rules.items
                  .filter((item) => item.act === act)
                  .map(({ item, name }) => ({ value: item, label: name }))}
              />
            ))}
            <Field
              {...form.text('own')}
              label="What no entry can answer"
              lines={6}
              size={60}
              optional
              hint="A line each. It stands with the gaps and on the printed book, for you to look to."
            />
          </>
        ) : null}
      </Section>
    </Form>
  );
}

function Asked({ profile, items }: { profile: Profile; items: readonly Item[] }) {
  const named = (act: Item['act']) =>
    items
      .filter((item) => item.act === act && profile.items.includes(item.item))
      .map(({ name }) => name.replace(/^[A-Z](?=[a-z])/, (letter) => letter.toLowerCase()))
      .join(', ');
  return (
    <>
      <Sentences label="What is asked">
        {(['purchase', 'administration', 'disposal'] as const).map((act) => (
          <Sentence key={act} margin={margins[act]}>
            {named(act) === '' ? 'Nothing is asked.' : `${named(act)}.`}
          </Sentence>
        ))}
        <Sentence margin="From" small={`How far confirmed: ${profile.confirmed}.`}>
          {profile.citation}. Kept {profile.keptYears} years
          {profile.withinHours === undefined ? '' : `, written within ${profile.withinHours} hours`}; Foldbook
          counts five years at least, to the end of the year, and deletes nothing.
        </Sentence>
      </Sentences>
      {profile.notes.map((note) => (
        <Notice key={note} kind={profile.id === 'ni' ? 'mind' : 'note'}>
          <p>{note}</p>
        </Notice>
      ))}
    </>
  );
}
