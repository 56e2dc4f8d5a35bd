import { useEffect, useRef, useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, Deed, DeedLink } from '../../parts/deed.tsx';
import { Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { sayLocal } from './words.ts';

type Import = Reply<'imports'>['imports'][number];
type Withdrawn = Reply<'withdraw-import'>;

const sayRows = (one: Import) =>
  one.what === 'animals' ? count(one.rows, 'animal', 'animals') : count(one.rows, 'weight', 'weights');

/** Files that were taken in, and taking one back. */
export default function ImportsScreen() {
  const imports = useCall('imports', {});
  const [chosen, setChosen] = useState<Import | undefined>(undefined);
  const [done, setDone] = useState<Withdrawn | undefined>(undefined);
  return (
    <Screen
      title="Files that came in"
      lead="A file that should not have come in is taken back as a whole. Both stay in the journal."
    >
      {done === undefined ? null : <Done done={done} />}
      {chosen === undefined ? null : (
        <TakeBack
          key={chosen.import}
          one={chosen}
          onLeave={() => setChosen(undefined)}
          onDone={(reply) => {
            setDone(reply);
            setChosen(undefined);
          }}
        />
      )}
      <Section title="Files">
        <Await call={imports} what="Reading the files">
          {(value) =>
            value.imports.length === 0 ? (
              <Empty
                deed={
                  <>
                    <CommandDeed id="import-animals" />
                    <CommandDeed id="import-weighings" />
                  </>
                }
              >
                No file that came in counts in the book.
              </Empty>
            ) : (
              <Sentences label="Files">
                {value.imports.map((one) => (
                  <Sentence
                    key={one.import}
                    margin={sayLocal(one.on)}
                    deed={
                      <Deed
                        weight="grave"
                        onDo={() => {
                          setDone(undefined);
                          setChosen(one);
                        }}
                      >
                        Take back the {one.what} of {sayLocal(one.on)}
                      </Deed>
                    }
                  >
                    {sayRows(one)} came in with one file.
                  </Sentence>
                ))}
              </Sentences>
            )
          }
        </Await>
      </Section>
    </Screen>
  );
}

function TakeBack({
  one,
  onLeave,
  onDone,
}: {
  one: Import;
  onLeave: () => void;
  onDone: (reply: Withdrawn) => void;
}) {
  const form = useForm(`flock/take-back/${one.import}`, { reason: '' });
  const write = useWrite('withdraw-import', (reply) => {
    void form.drop().then(() => onDone(reply));
  });
  const around = useRef<HTMLDivElement>(null);
  const { isReady } = form;
  useEffect(() => {
    if (isReady) around.current?.querySelector<HTMLInputElement>('input[name="reason"]')?.focus();
  }, [isReady]);
  const send = () => {
    const { reason } = form.values;
    if (reason.trim() === '') return form.show([{ field: 'reason', message: 'Write why it is taken back.' }]);
    void write.send({ import: one.import, reason });
  };
  return (
    <div ref={around}>
      <Section title={`Take back what came in on ${sayLocal(one.on)}`}>
        <Notice kind="mind">
          <p>
            {one.what === 'animals'
              ? `${sayRows(one)} and the weights that came with them will no longer count. An animal that was treated, weighed, moved or changed since then stays, and so does one that is planned for an open session; the list says which.`
              : `${sayRows(one)} will no longer count. Doses that were worked out from them stay as they were given.`}
          </p>
        </Notice>
        <Form form={form} write={write} deed={`Take ${sayRows(one)} back`} onLeave={onLeave} onSend={send}>
          <Field
            {...form.text('reason')}
            label="Why"
            hint="It stands in the journal beside the file."
            size={48}
          />
        </Form>
      </Section>
    </div>
  );
}

function Done({ done }: { done: Withdrawn }) {
  const head = useRef<HTMLDivElement>(null);
  useEffect(() => head.current?.focus(), []);
  return (
    <>
      <div ref={head} tabIndex={-1}>
        <Notice kind="done">
          <p>
            {count(done.withdrawn, 'line was', 'lines were')} taken back
            {done.left.length === 0 ? ' and nothing of the file is left.' : `; ${done.left.length} stayed.`}
          </p>
        </Notice>
      </div>
      {done.left.length === 0 ? null : (
        <Section title="What stayed">
          <Sentences label="What stayed">
            {done.left.map((one) => (
              <Sentence
                key={one.subject}
                margin="Stays"
                small={one.why}
                deed={
                  <DeedLink to="flock/subject/:subject" params={{ subject: one.subject }}>
                    Open it
                  </DeedLink>
                }
              >
                {one.shown}
              </Sentence>
            ))}
          </Sentences>
        </Section>
      )}
    </>
  );
}
