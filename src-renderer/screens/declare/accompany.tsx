import type { Reply } from '../../../src-shared/calls/all.ts';
import type { FormState } from '../../hooks/use-form.ts';
import { Deed } from '../../parts/deed.tsx';
import { Field } from '../../parts/field.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import type { DeclareValues } from './declare-values.ts';
import { type Kept, keep, readKept } from './kept.ts';

type Refused = Reply<'preview-declaration'>['refused'][number];
/** An animal that a broken needle holds: it may go marked, with its place said and the abattoir told. */
export function Accompany({
  form,
  refused,
}: {
  form: FormState<DeclareValues>;
  refused: readonly Refused[];
}) {
  const chosen = readKept(form.values.accompanied);
  const byNeedle = refused.filter(
    ({ subject, holds }) =>
      subject.startsWith('animal:') &&
      holds.length > 0 &&
      holds.every(({ cause }) => cause === 'broken-needle') &&
      !chosen.some((one) => one.subject === subject),
  );
  if (byNeedle.length === 0 && chosen.length === 0) return null;
  const set = (subject: string, change: Partial<Kept>) =>
    form.set(({ accompanied }) => ({
      accompanied: keep(
        readKept(accompanied).map((one) => (one.subject === subject ? { ...one, ...change } : one)),
      ),
    }));
  return (
    <Section title="May carry a broken needle">
      <p className="hint">
        No date ends this. Such an animal goes only on a line of its own: marked, the place said, and the
        abattoir told before it leaves.
      </p>
      <Sentences label="May carry a broken needle">
        {byNeedle.map(({ subject, shown }) => (
          <Sentence
            key={subject}
            mind
            margin="Needle"
            deed={
              <Deed
                onDo={() =>
                  form.set(({ accompanied }) => ({
                    accompanied: [...accompanied, ...keep([{ subject, shown, mark: '', told: '' }])],
                  }))
                }
              >
                {shown} goes accompanied
              </Deed>
            }
          >
            <strong>{shown}</strong> may carry a broken needle.
          </Sentence>
        ))}
      </Sentences>
      {chosen.map(({ subject, shown, mark, told }) => (
        <div key={subject}>
          <Field
            name={`mark-${subject}`}
            label={`How ${shown} is marked`}
            hint="Colour and place, as in red cross on the back."
            value={mark}
            onChange={(text) => set(subject, { mark: text })}
          />
          <Field
            name={`told-${subject}`}
            label="Who was told at the abattoir, and how"
            hint="As in their office, by telephone, 4 May."
            size={40}
            value={told}
            onChange={(text) => set(subject, { told: text })}
          />
          <p className="deeds">
            <Deed
              onDo={() =>
                form.set(({ accompanied }) => ({
                  accompanied: keep(readKept(accompanied).filter((one) => one.subject !== subject)),
                }))
              }
            >
              {shown} does not go accompanied
            </Deed>
          </p>
        </div>
      ))}
    </Section>
  );
}
