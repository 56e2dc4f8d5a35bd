import { parsePeriod } from '../../../src-shared/quantity/period.ts';
import { attempt } from '../../../src-shared/refusal.ts';
import { useCall } from '../../hooks/use-call.ts';
import { problemsOf, useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { DayField } from '../../parts/day-field.tsx';
import { Deed } from '../../parts/deed.tsx';
import { Choice, Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { MedicinePicker } from '../../parts/medicine-picker.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { SubjectPicker } from '../../parts/subject-picker.tsx';
import { go, useLocation } from '../../router.tsx';
import { firstVet, type Person, VetField, WithVets } from './vets.tsx';
import { readBackPeriod } from './words.ts';

/** Back to where it was opened from: a treatment that waits for it, a session at the race, or the list. */
function goBack({ back, session, opened = '' }: Readonly<Record<string, string>>): void {
  if (back === 'session' && session !== undefined) {
    go({ to: 'treat/session/:session', params: { session } });
  } else if (back === 'treatment' && session !== undefined) {
    go({ to: 'book/correct/:administration', params: { administration: session } });
  } else if (back === 'one') {
    go({ to: 'treat/one', query: Object.fromEntries(new URLSearchParams(opened)) });
  } else go({ to: 'farm/papers' });
}

const formOptions = [
  { value: 'told', label: 'Told', hint: 'by telephone or in the yard' },
  { value: 'written', label: 'Written', hint: 'on paper or in a message that is kept' },
] as const;

/** Writes down what the vet ordered. */
export default function InstructionScreen() {
  const { query } = useLocation();
  return (
    <Screen
      title="What the vet ordered"
      lead="In the vet's own words. A treatment that follows it is held as the vet said."
    >
      <WithVets>{(vets) => <InstructionForm vets={vets} query={query} />}</WithVets>
    </Screen>
  );
}

function InstructionForm({
  vets,
  query,
}: {
  vets: readonly Person[];
  /** What it was opened for: a subject, a medicine, and where to go back to. */
  query: Readonly<Record<string, string>>;
}) {
  const { subject = '' } = query;
  const medicines = useCall('medicines', {});
  // Opened for one animal it is another unfinished form than the one begun with none.
  const form = useForm(`farm/instruction${subject === '' ? '' : `/${subject}`}`, {
    vet: firstVet(vets),
    form: '',
    what: '',
    medicine: query.medicine ?? '',
    subjects: subject === '' ? [] : [subject],
    meat: '',
    milk: '',
    reason: '',
    happened: '',
    validUntil: '',
  });
  const write = useWrite('record-instruction', () => {
    void form.drop().then(() => goBack(query));
  });
  const { vet, what, medicine, reason, happened, validUntil, subjects } = form.values;

  const send = () => {
    const chosen = formOptions.find((option) => option.value === form.values.form);
    const named = (['meat', 'milk'] as const).filter((produce) => form.values[produce].trim() !== '');
    const problems = [
      ...(vet === '' ? [{ field: 'vet', message: 'Choose the vet.' }] : []),
      ...(chosen === undefined ? [{ field: 'form', message: 'Say whether it was told or written.' }] : []),
      ...(what.trim() === '' ? [{ field: 'what', message: 'Write what the vet ordered.' }] : []),
      ...problemsOf(named.map((produce) => attempt(() => parsePeriod(form.values[produce], produce)))),
      ...(reason.trim() === '' ? [{ field: 'reason', message: 'Write why the vet ordered it.' }] : []),
    ];
    if (problems.length > 0 || chosen === undefined) return form.show(problems);
    void write.send({
      vet,
      what,
      form: chosen.value,
      reason,
      subjects: [...subjects],
      periods: named.map((produce) => ({ produce, period: form.values[produce] })),
      ...withoutEmpty({ medicine, happened, validUntil }),
    });
  };

  return (
    <Form form={form} write={write} deed="Write it in the book" onLeave={() => goBack(query)} onSend={send}>
      <Section title="The order">
        <VetField {...form.text('vet')} vets={vets} />
        <Choice {...form.text('form')} label="Told or written" options={formOptions} />
        <Field
          {...form.text('what')}
          label="What the vet ordered"
          hint="Which animals, how much, how often."
          lines={3}
        />
        {medicines.state === 'ready' && medicines.value.medicines.length === 0 ? null : (
          <MedicinePicker
            label="Medicine (may be left empty)"
            hint="Left empty when it is about no one medicine."
            picked={medicine === '' ? undefined : medicine}
            error={form.text('medicine').error}
            onPick={(picked) => form.set({ medicine: picked?.medicine ?? '' })}
          />
        )}
        <ForWhom subjects={subjects} onChange={(next) => form.set({ subjects: next })} />
        <Field {...form.text('reason')} label="Why" lines={2} />
      </Section>
      <Section title="Periods">
        <Field
          {...form.text('meat')}
          {...readBackPeriod(form.values.meat)}
          label="Meat is held for"
          hint="As in 28 d or 72 h. Left empty when the vet named no period. Where the label's own is longer, that one counts."
          optional
          size={10}
        />
        <Field
          {...form.text('milk')}
          {...readBackPeriod(form.values.milk)}
          label="Milk is held for"
          optional
          size={10}
        />
      </Section>
      <Section title="Days">
        <DayField
          {...form.text('happened')}
          label="Told or written on"
          hint="Left empty, it was today."
          optional
        />
        <DayField
          {...form.text('validUntil')}
          label="Good until"
          hint="The last day it may be followed, where the vet named one."
          optional
        />
      </Section>
    </Form>
  );
}

/** The animals and lots it is about; without any it is for all. */
function ForWhom({
  subjects,
  onChange,
}: {
  subjects: readonly string[];
  onChange: (subjects: string[]) => void;
}) {
  return (
    <>
      {subjects.length === 0 ? (
        <p className="hint">For any animal, as long as none is named.</p>
      ) : (
        <Sentences label="For whom">
          {subjects.map((subject) => (
            <Named
              key={subject}
              subject={subject}
              onRemove={() => onChange(subjects.filter((one) => one !== subject))}
            />
          ))}
        </Sentences>
      )}
      <SubjectPicker
        label="For which animals or lots (may be left empty)"
        hint="A lot stands for the heads that are in it when the vet says so, wherever they go later. Who joins it later is not meant."
        onPick={({ subject }) => onChange([...new Set([...subjects, subject])])}
      />
    </>
  );
}

function Named({ subject, onRemove }: { subject: string; onRemove: () => void }) {
  const call = useCall('subject', { subject });
  const shown = call.state === 'ready' ? call.value.who.shown : 'Reading the animal';
  return (
    <Sentence margin="For" deed={<Deed onDo={onRemove}>Not for {shown}</Deed>}>
      <strong>{shown}</strong>
    </Sentence>
  );
}
