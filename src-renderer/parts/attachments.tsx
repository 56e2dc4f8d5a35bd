import { useState } from 'react';
import type { Reply } from '../../src-shared/calls/all.ts';
import { useCall } from '../hooks/use-call.ts';
import { useForm, withoutEmpty } from '../hooks/use-form.ts';
import { useWrite } from '../hooks/use-write.ts';
import { Await } from './await.tsx';
import { Deed, DeedLink } from './deed.tsx';
import { Field, Select } from './field.tsx';
import { type Chosen, FileBox } from './file-box.tsx';
import { Form } from './form.tsx';
import { KeptFile } from './kept-file.tsx';
import { type KeptWith, kindsFor, PAPER_WORDS, type PaperKind } from './paper-kinds.ts';
import { Section } from './screen.tsx';
import { Sentence, Sentences } from './sentence.tsx';

type Kept = Reply<'attachments'>['attachments'][number];

/** What is kept at most; the desk holds to the same and says so too. */
const MOST_MB = 10;

/**
 * The papers and photos of a thing: shown, added, taken off. A new one goes with the first of the things named; the
 * others are shown with it (a container shows the invoice of its batch).
 */
export function Attachments({
  of,
  title = 'Papers and photos',
}: {
  of: readonly [KeptWith, ...KeptWith[]];
  title?: string;
}) {
  const call = useCall('attachments', { of: [...of] });
  const [isAdding, setAdding] = useState(false);
  const [shown, setShown] = useState<string | undefined>(undefined);
  return (
    <Section title={title}>
      <Await call={call} what="Looking for papers">
        {({ attachments }) => (
          <>
            {attachments.length === 0 ? (
              <p className="hint">None is kept here yet.</p>
            ) : (
              <Sentences label={title}>
                {attachments.map((one) => (
                  <KeptLine
                    key={one.attachment}
                    kept={one}
                    isShown={one.attachment === shown}
                    onShow={() => setShown(one.attachment === shown ? undefined : one.attachment)}
                  />
                ))}
              </Sentences>
            )}
            {attachments
              .filter(({ attachment }) => attachment === shown)
              .map(({ attachment, hash, name, mime }) => (
                <KeptFile key={attachment} hash={hash} name={name} mime={mime} />
              ))}
            {isAdding ? (
              <AddForm to={of[0]} onLeave={() => setAdding(false)} />
            ) : (
              <p className="deeds">
                <Deed onDo={() => setAdding(true)}>Add a paper or a photo</Deed>
              </p>
            )}
          </>
        )}
      </Await>
    </Section>
  );
}

function KeptLine({ kept, isShown, onShow }: { kept: Kept; isShown: boolean; onShow: () => void }) {
  const { name, sizeText, on, by, why, entry } = kept;
  return (
    <Sentence
      margin={PAPER_WORDS[kept.paper]}
      small={`${sizeText}, put here ${on} by ${by}.${why === undefined ? '' : ` Note: ${why}`}`}
      deed={
        <>
          <Deed onDo={onShow} label={`${isShown ? 'Put away' : 'Show'} ${name}`}>
            {isShown ? 'Put away' : 'Show'}
          </Deed>{' '}
          <DeedLink
            to="book/strike"
            query={{
              request: entry.request,
              n: String(entry.n),
              kind: 'attached',
              what: `${PAPER_WORDS[kept.paper]}: ${name}`,
            }}
          >
            Take off
          </DeedLink>
        </>
      }
    >
      {name}
    </Sentence>
  );
}

function AddForm({ to, onLeave }: { to: KeptWith; onLeave: () => void }) {
  const kinds = kindsFor(to.what);
  const form = useForm(`attach/${to.what}/${to.id}`, { paper: kinds[0] ?? 'other', why: '' });
  const [file, setFile] = useState<Chosen | undefined>(undefined);
  const write = useWrite('attach', () => {
    void form.drop().then(onLeave);
  });
  const send = () => {
    if (file === undefined) return form.show([{ message: 'Choose the file first.' }]);
    void write.send({
      to,
      file: { token: file.token },
      // Only what the box offers can stand there.
      paper: form.values.paper as PaperKind,
      ...withoutEmpty({ why: form.values.why.trim() }),
    });
  };
  return (
    <Form form={form} write={write} deed="Keep it in the book" onSend={send} onLeave={onLeave}>
      <FileBox
        label="File"
        hint={`A PDF, or a JPEG, PNG or WebP picture, of ${MOST_MB} MB at most.`}
        accept=".pdf,.jpg,.jpeg,.png,.webp,application/pdf,image/jpeg,image/png,image/webp"
        mostMb={MOST_MB}
        onChosen={setFile}
      />
      <Select
        {...form.text('paper')}
        label="What it is"
        options={kinds.map((kind) => ({ value: kind, label: PAPER_WORDS[kind] }))}
      />
      <Field {...form.text('why')} label="Note" optional size={40} />
    </Form>
  );
}
