import './label.css';
import { type ReactNode, useState } from 'react';
import type { WritingCall } from '../../../src-shared/calls/all.ts';
import { doseDifferences } from '../../../src-shared/label/samples.ts';
import { sayDifferences, sayTerms } from '../../../src-shared/label/say.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import type { Write } from '../../hooks/use-write.ts';
import { Deed } from '../../parts/deed.tsx';
import { Form } from '../../parts/form.tsx';
import { Question } from '../../parts/question.tsx';
import { Section } from '../../parts/screen.tsx';
import { Changes, LabelSays } from './changes.tsx';
import { DoseFields } from './dose-fields.tsx';
import { KeepingFields, MedicineFields } from './medicine-fields.tsx';
import { OtherFields } from './other-fields.tsx';
import { PeriodFields, RuleFields } from './period-fields.tsx';
import type { LabelForm } from './use-label.ts';

/**
 * The label as it is printed, from top to bottom, read back in full words beneath. What is unusual is asked about
 * before it goes on; `onTerms` gets what was typed once it can be read and was said yes to.
 */
export function LabelFields<N extends WritingCall>({
  label,
  write,
  deed,
  onTerms,
  onLeave,
  before,
  children,
}: {
  label: LabelForm;
  write: Write<N>;
  deed: string;
  onTerms: (terms: LabelTerms) => void;
  onLeave: () => void;
  /** What the label said until now: what is different is shown as it is typed. */
  before?: LabelTerms;
  /** Fields that stand before the label. */
  children?: ReactNode;
}) {
  const [asking, setAsking] = useState<LabelTerms | undefined>(undefined);
  const { at, read, form } = label;
  const questions = 'terms' in read ? read.questions : [];
  const send = () => {
    if ('problems' in read) form.show(read.problems);
    else if (read.questions.length > 0) setAsking(read.terms);
    else onTerms(read.terms);
  };
  return (
    <>
      <Form form={form} write={write} deed={deed} onSend={send} onLeave={onLeave}>
        {/* Hears which field the cursor leaves: what is wrong is said beside it only then. */}
        <fieldset aria-label="The label" onBlur={(event) => label.leave(nameOf(event.target))}>
          {children}
          <MedicineFields at={at} />
          <DoseFields at={at} />
          <PeriodFields at={at} />
          <OtherFields at={at} />
          <RuleFields at={at} />
          <KeepingFields at={at} />
        </fieldset>
        {'terms' in read && before !== undefined ? (
          <Changes
            title="What changes"
            differences={sayDifferences(before, read.terms)}
            doses={doseDifferences(before, read.terms)}
            none="So far it says the same as before."
          />
        ) : null}
        {'terms' in read ? <ReadBack terms={read.terms} /> : null}
      </Form>
      {asking === undefined ? null : (
        <Question
          title="Is the label so?"
          onNo={() => setAsking(undefined)}
          deeds={
            <>
              <Deed onDo={() => setAsking(undefined)}>No, look again</Deed>
              <Deed
                weight="main"
                onDo={() => {
                  setAsking(undefined);
                  onTerms(asking);
                }}
              >
                Yes, the label says so
              </Deed>
            </>
          }
        >
          {questions.map((one) => (
            <p key={`${one.code} ${one.text}`}>{one.text}</p>
          ))}
        </Question>
      )}
    </>
  );
}

function nameOf(target: EventTarget): string {
  if (target instanceof HTMLInputElement) return target.type === 'radio' ? '' : target.name;
  if (target instanceof HTMLTextAreaElement || target instanceof HTMLSelectElement) return target.name;
  return '';
}

/** The whole label in full words: what was meant is heard better than it is seen. */
function ReadBack({ terms }: { terms: LabelTerms }) {
  return (
    <Section title="Read back">
      <LabelSays says={sayTerms(terms)} />
    </Section>
  );
}
