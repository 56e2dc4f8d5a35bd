import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { DayField } from '../../parts/day-field.tsx';
import { Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { MedicinePicker } from '../../parts/medicine-picker.tsx';
import { Section } from '../../parts/screen.tsx';
import { go, goBack } from '../../router.tsx';
import { firstVet, type Person, VetField } from './vets.tsx';
import type { Prescription } from './words.ts';

const toOne = (prescription: string) =>
  go({ to: 'cabinet/prescription/:prescription', params: { prescription } }, { replace: true });

/** What stands in the form at the start: nothing but what is known, or the whole paper to be put right. */
function startOf(vets: readonly Person[], medicine: string | undefined, one: Prescription | undefined) {
  return {
    number: one?.number ?? '',
    vet: one?.vet ?? firstVet(vets),
    medicine: one?.medicine ?? medicine ?? '',
    quantity: one?.quantity?.text ?? '',
    written: one?.written ?? '',
    validUntil: one?.validUntil ?? '',
    animals: one?.animals ?? '',
    dose: one?.dose ?? '',
    period: one?.period ?? '',
    diagnosis: one?.diagnosis ?? '',
    reason: '',
  };
}

/** A prescription as it is typed in, new or put right. */
export function PrescriptionForm({
  vets,
  medicine: asked,
  corrects,
}: {
  vets: readonly Person[];
  /** The medicine it is for, where that is known. */
  medicine?: string | undefined;
  corrects?: Prescription;
}) {
  const form = useForm(
    corrects === undefined ? 'farm/prescription' : `prescription/${corrects.prescription}`,
    startOf(vets, asked, corrects),
  );
  const record = useWrite('record-prescription', ({ prescription }) => {
    void form.drop().then(() => toOne(prescription));
  });
  const correct = useWrite('correct-prescription', () => {
    void form.drop().then(() => toOne(corrects?.prescription ?? ''));
  });
  const { number, vet, medicine, quantity, written, validUntil, animals, dose, period, diagnosis, reason } =
    form.values;

  const send = () => {
    const problems = [
      ...(number.trim() === ''
        ? [{ field: 'number', message: 'Write the number of the prescription.' }]
        : []),
      ...(vet === '' ? [{ field: 'vet', message: 'Choose the vet.' }] : []),
      ...(written === '' ? [{ field: 'written', message: 'Write the day it was written.' }] : []),
      ...(medicine === '' ? [{ field: 'medicine', message: 'Choose the medicine.' }] : []),
      ...(corrects !== undefined && reason.trim() === ''
        ? [{ field: 'reason', message: 'Say why it is corrected.' }]
        : []),
    ];
    if (problems.length > 0) return form.show(problems);
    const paper = {
      number,
      vet,
      medicine,
      written,
      ...withoutEmpty({ quantity, validUntil, animals, dose, period, diagnosis }),
    };
    if (corrects === undefined) void record.send(paper);
    else void correct.send({ ...paper, prescription: corrects.prescription, reason });
  };

  const parts = (
    <>
      <Section title="The paper">
        <Field {...form.text('number')} label="Number" size={20} />
        <VetField {...form.text('vet')} vets={vets} />
        <DayField {...form.text('written')} label="Written on" />
        <DayField {...form.text('validUntil')} label="Valid until" optional />
      </Section>
      <Section title="What is prescribed">
        <MedicinePicker
          picked={medicine === '' ? undefined : medicine}
          error={form.text('medicine').error}
          onPick={(picked) => form.set({ medicine: picked?.medicine ?? '' })}
        />
        <Field
          {...form.text('quantity')}
          label="Quantity"
          hint="All of it, with its unit: 200 mL."
          optional
          size={14}
        />
        <Field {...form.text('animals')} label="For which animals" optional lines={2} />
        <Field {...form.text('dose')} label="Dose" optional lines={2} />
        <Field
          {...form.text('period')}
          label="Period"
          hint="As it stands on the paper, for meat and for milk."
          optional
          lines={2}
        />
        <Field {...form.text('diagnosis')} label="Diagnosis" optional lines={2} />
      </Section>
      {corrects === undefined ? null : (
        <Section title="Why">
          <Field {...form.text('reason')} label="Reason" lines={2} />
        </Section>
      )}
    </>
  );
  return corrects === undefined ? (
    <Form form={form} write={record} deed="Write it in the book" onLeave={goBack} onSend={send}>
      {parts}
    </Form>
  ) : (
    <Form form={form} write={correct} deed="Correct it in the book" onLeave={goBack} onSend={send}>
      {parts}
    </Form>
  );
}
