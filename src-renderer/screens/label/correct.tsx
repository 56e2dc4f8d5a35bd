import { useMemo, useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { DeedLink } from '../../parts/deed.tsx';
import { Field } from '../../parts/field.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { go, useParams } from '../../router.tsx';
import { changedAgain } from './again.ts';
import { AgainForm, againLead } from './again-form.tsx';
import { draftOf } from './draft.ts';
import { LabelFields } from './form.tsx';
import { Moves } from './moves.tsx';
import { textOf, useLabel } from './use-label.ts';

type Revision = Reply<'medicine'>['revisions'][number];

/** Corrects what was typed wrongly: the same revision, with everything that moves shown before it is written. */
export default function CorrectScreen() {
  const { medicine, revision: id } = useParams('cabinet/label/:medicine/correct/:revision');
  const call = useCall('medicine', { medicine });
  return (
    <Await call={call} what="Reading the label">
      {(value) => {
        const revision = value.revisions.find((one) => one.revision === id);
        return revision === undefined ? (
          <Empty deed={<DeedLink to="cabinet">Go to the cabinet</DeedLink>}>
            This label is not in the book.
          </Empty>
        ) : (
          <Correct medicine={value} revision={revision} />
        );
      }}
    </Await>
  );
}

type Step =
  | { readonly at: 'label' }
  | { readonly at: 'again'; readonly terms: LabelTerms }
  | { readonly at: 'moves'; readonly terms: LabelTerms; readonly state: 'draft' | 'confirmed' };

function Correct({ medicine, revision }: { medicine: Reply<'medicine'>; revision: Revision }) {
  const { name } = medicine;
  const keep = `label/correct/${revision.revision}`;
  const earlier = useMemo(
    () => medicine.revisions.filter((one) => one.n < revision.n).map((one) => one.terms),
    [medicine, revision.n],
  );
  const label = useLabel(keep, draftOf(revision.terms), earlier);
  const [step, setStep] = useState<Step>({ at: 'label' });
  const toMedicine = () =>
    go({ to: 'cabinet/medicine/:medicine', params: { medicine: medicine.medicine } }, { replace: true });
  const write = useWrite('set-label', () => {
    void label.form.drop().then(toMedicine);
  });
  const isDraft = revision.state === 'draft';
  const typed = label.draft.why.trim();
  // To confirm a draft nothing needs to have been wrong.
  const why = typed === '' && isDraft ? 'typed a second time from the insert' : typed;
  const toLabel = () => {
    write.next();
    setStep({ at: 'label' });
  };
  // A draft is confirmed by typing all of it again; of a confirmed label only what changes.
  const againOf = (terms: LabelTerms) =>
    changedAgain(isDraft ? { ...terms, doseLines: [], actives: [], periods: [] } : revision.terms, terms);

  if (step.at === 'again') {
    return (
      <Screen title={`${name}: once more`} lead={againLead}>
        <AgainForm
          keep={`${keep}/again`}
          asked={againOf(step.terms)}
          write={write}
          deed="See what moves"
          onAgree={() => setStep({ at: 'moves', terms: step.terms, state: 'confirmed' })}
          onDraft={() => setStep({ at: 'moves', terms: step.terms, state: 'draft' })}
          onBack={toLabel}
        />
      </Screen>
    );
  }
  if (step.at === 'moves') {
    return (
      <Screen
        title={`${name}: what moves`}
        lead="Nothing is written yet. Read what becomes of what was treated, held and declared under this label."
      >
        <Moves
          medicine={medicine.medicine}
          revision={revision.revision}
          terms={step.terms}
          state={step.state}
          before={revision.state}
          why={why}
          write={write}
          onBack={toLabel}
        />
      </Screen>
    );
  }
  return (
    <Screen
      title={`${name}: correct what was typed`}
      lead="For when the insert says otherwise than what was typed. When a box comes with another insert, that is a new insert and no correction."
    >
      <LabelFields
        label={label}
        before={revision.terms}
        write={write}
        deed="Go on"
        onTerms={(terms) => {
          if (why === '')
            label.form.show([
              { field: 'why', message: 'Write what was typed wrongly; it stands in the book.' },
            ]);
          else if (againOf(terms).length === 0) setStep({ at: 'moves', terms, state: 'confirmed' });
          else setStep({ at: 'again', terms });
        }}
        onLeave={toMedicine}
      >
        <Section title="Why">
          <Field
            {...textOf(label.at, 'why')}
            label="What was wrong"
            hint="As in “meat period typed as 8 d, the insert says 28 d”."
            lines={2}
            size={44}
            optional={isDraft}
          />
        </Section>
      </LabelFields>
    </Screen>
  );
}
