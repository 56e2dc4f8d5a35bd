import { useMemo, useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { DeedLink } from '../../parts/deed.tsx';
import { Screen } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { go, goBack, useLocation, useParams } from '../../router.tsx';
import { typeAgain } from './again.ts';
import { AgainForm, againLead } from './again-form.tsx';
import { draftOf } from './draft.ts';
import { LabelFields } from './form.tsx';
import { useLabel } from './use-label.ts';

/** A new insert came in the box: a new revision. What was given under the old one stays as it is. */
export default function NewInsertScreen() {
  const { medicine } = useParams('cabinet/label/:medicine/new-insert');
  const call = useCall('medicine', { medicine });
  return (
    <Await call={call} what="Reading the label">
      {(value) => {
        const newest = value.revisions[0];
        return newest === undefined ? (
          <Empty deed={<DeedLink to="cabinet">Go to the cabinet</DeedLink>}>
            This medicine has no label.
          </Empty>
        ) : (
          <NewInsert medicine={value} terms={newest.terms} />
        );
      }}
    </Await>
  );
}

function NewInsert({ medicine, terms: before }: { medicine: Reply<'medicine'>; terms: LabelTerms }) {
  const { query } = useLocation();
  const earlier = useMemo(() => medicine.revisions.map((one) => one.terms), [medicine]);
  const label = useLabel(`label/new-insert/${medicine.medicine}`, draftOf(before), earlier);
  const [terms, setTerms] = useState<LabelTerms | undefined>(undefined);
  const toMedicine = () =>
    go({ to: 'cabinet/medicine/:medicine', params: { medicine: medicine.medicine } }, { replace: true });
  // A delivery that waits for this insert is taken up where it was left.
  const leave = query.after === 'delivery' ? goBack : toMedicine;
  const write = useWrite('set-label', () => {
    void label.form.drop().then(leave);
  });
  const send = (said: LabelTerms, state: 'draft' | 'confirmed') =>
    void write.send({ act: 'new-insert', medicine: medicine.medicine, terms: said, state });
  if (terms !== undefined) {
    return (
      <Screen title={`${terms.name}: once more`} lead={againLead}>
        <AgainForm
          keep={`label/new-insert/${medicine.medicine}/again`}
          asked={typeAgain(terms)}
          write={write}
          deed="Write the new insert in the book"
          onAgree={() => send(terms, 'confirmed')}
          onDraft={() => send(terms, 'draft')}
          onBack={() => setTerms(undefined)}
        />
      </Screen>
    );
  }
  return (
    <Screen
      title={`${medicine.name}: a new insert`}
      lead="What the last insert says stands here already. Change what the new one says otherwise. Treatments under the old insert stay as they were decided."
    >
      <LabelFields
        label={label}
        before={before}
        write={write}
        deed="Go on"
        onTerms={(said) => (typeAgain(said).length === 0 ? send(said, 'confirmed') : setTerms(said))}
        onLeave={leave}
      />
    </Screen>
  );
}
