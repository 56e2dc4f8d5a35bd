import { useState } from 'react';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Screen } from '../../parts/screen.tsx';
import { go } from '../../router.tsx';
import { typeAgain } from './again.ts';
import { AgainForm, againLead } from './again-form.tsx';
import { blankLabel } from './draft.ts';
import { LabelFields } from './form.tsx';
import { useLabel } from './use-label.ts';

const toCabinet = () => go({ to: 'cabinet' });

/** Writes down the label of a medicine that is not on record yet. */
export default function LabelScreen() {
  const label = useLabel('label/first', blankLabel);
  const [terms, setTerms] = useState<LabelTerms | undefined>(undefined);
  const write = useWrite('set-label', ({ medicine }) => {
    void label.form
      .drop()
      .then(() => go({ to: 'cabinet/medicine/:medicine', params: { medicine } }, { replace: true }));
  });
  const send = (said: LabelTerms, state: 'draft' | 'confirmed') =>
    void write.send({ act: 'first', terms: said, state });
  if (terms !== undefined) {
    return (
      <Screen title={`${terms.name}: once more`} lead={againLead}>
        <AgainForm
          keep="label/first/again"
          asked={typeAgain(terms)}
          write={write}
          deed="Write the label in the book"
          onAgree={() => send(terms, 'confirmed')}
          onDraft={() => send(terms, 'draft')}
          onBack={() => setTerms(undefined)}
        />
      </Screen>
    );
  }
  return (
    <Screen
      title="Add a medicine from its insert"
      lead="Take the insert and type what it says, as it says it. Foldbook knows no medicine of its own."
    >
      <LabelFields
        label={label}
        write={write}
        deed="Go on"
        onTerms={(said) => (typeAgain(said).length === 0 ? send(said, 'confirmed') : setTerms(said))}
        onLeave={toCabinet}
      />
    </Screen>
  );
}
