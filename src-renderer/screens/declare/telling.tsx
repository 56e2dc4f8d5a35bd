import { useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { WhenField } from '../../parts/day-field.tsx';
import { Deed } from '../../parts/deed.tsx';
import { Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { localInWords } from '../book/when.ts';

type Row = Reply<'declarations'>['declarations'][number];

/** What is not so any more: who must be told, that they were told, and what they were told before. */
export function Telling({ row }: { row: Row }) {
  const [isTelling, setTelling] = useState(false);
  return (
    <>
      {row.notices.length === 0 ? null : (
        <Section
          title="Now wrong"
          deeds={
            isTelling ? undefined : (
              <Deed weight="main" onDo={() => setTelling(true)}>
                I have told them
              </Deed>
            )
          }
        >
          <Sentences label="Now wrong">
            {row.notices.map((text) => (
              <Sentence key={text} mind margin="Tell them">
                {text}
              </Sentence>
            ))}
          </Sentences>
          {isTelling ? <TellForm row={row} onLeave={() => setTelling(false)} /> : null}
        </Section>
      )}
      {row.told.length === 0 ? null : (
        <Section title="What they were told since">
          <Sentences label="Told since">
            {row.told.map((one) => (
              <Sentence
                key={`${one.when} ${one.who} ${one.texts.join(' ')}`}
                margin="Told"
                small={one.texts.join(' ')}
              >
                <strong>{one.who}</strong> on {localInWords(one.when)}, by {one.by}: {one.how}
              </Sentence>
            ))}
          </Sentences>
        </Section>
      )}
    </>
  );
}

function TellForm({ row, onLeave }: { row: Row; onLeave: () => void }) {
  const form = useForm(`declare/tell/${row.declaration}`, { who: '', how: '', happened: '' });
  const write = useWrite('tell-declaration', () => {
    void form.drop().then(onLeave);
  });
  const { who, how, happened } = form.values;
  return (
    <Form
      form={form}
      write={write}
      deed="Write down that they were told"
      onLeave={onLeave}
      onSend={() => {
        const problems = [
          ...(who.trim() === '' ? [{ field: 'who', message: 'Say whom you told.' }] : []),
          ...(how.trim() === '' ? [{ field: 'how', message: 'Say how you told them.' }] : []),
        ];
        if (problems.length > 0) return form.show(problems);
        void write.send({
          declaration: row.declaration,
          notices: [...row.notices],
          who: who.trim(),
          how: how.trim(),
          ...(happened === '' ? {} : { happened }),
        });
      }}
    >
      <Field {...form.text('who')} label="Whom you told" hint={`Who it was at ${row.to}.`} />
      <Field {...form.text('how')} label="How" hint="By telephone, by letter, on their yard." size={40} />
      <WhenField {...form.text('happened')} label="When" hint="Left empty, it is now." optional />
    </Form>
  );
}
