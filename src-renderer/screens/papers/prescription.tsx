import { useCall } from '../../hooks/use-call.ts';
import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { DayField } from '../../parts/day-field.tsx';
import { CommandDeed } from '../../parts/deed.tsx';
import { Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { MedicinePicker } from '../../parts/medicine-picker.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { go } from '../../router.tsx';
import { firstVet, type Person, VetField, WithVets } from './vets.tsx';

const toPapers = () => go({ to: 'farm/papers' });

/** Writes down a prescription. */
export default function PrescriptionScreen() {
  const medicines = useCall('medicines', {});
  return (
    <Screen title="A prescription" lead="With the paper in your hand: as it is written there.">
      <WithVets>
        {(vets) => (
          <Await call={medicines} what="Reading the medicines">
            {(value) =>
              value.medicines.length === 0 ? (
                <Empty deed={<CommandDeed id="write-label" />}>
                  A prescription is for a medicine on record, and there is none yet. Write down its label
                  first.
                </Empty>
              ) : (
                <PrescriptionForm vets={vets} />
              )
            }
          </Await>
        )}
      </WithVets>
    </Screen>
  );
}

function PrescriptionForm({ vets }: { vets: readonly Person[] }) {
  const form = useForm('farm/prescription', {
    number: '',
    vet: firstVet(vets),
    medicine: '',
    quantity: '',
    written: '',
    validUntil: '',
    animals: '',
    dose: '',
    period: '',
    diagnosis: '',
  });
  const write = useWrite('record-prescription', () => {
    void form.drop().then(toPapers);
  });
  const { number, vet, medicine, quantity, written, validUntil, animals, dose, period, diagnosis } =
    form.values;

  const send = () => {
    const problems = [
      ...(number.trim() === ''
        ? [{ field: 'number', message: 'Write the number of the prescription.' }]
        : []),
      ...(vet === '' ? [{ field: 'vet', message: 'Choose the vet.' }] : []),
      ...(written === '' ? [{ field: 'written', message: 'Write the day it was written.' }] : []),
      ...(medicine === '' ? [{ field: 'medicine', message: 'Choose the medicine.' }] : []),
    ];
    if (problems.length > 0) return form.show(problems);
    void write.send({
      number,
      vet,
      medicine,
      written,
      ...withoutEmpty({ quantity, validUntil, animals, dose, period, diagnosis }),
    });
  };

  return (
    <Form form={form} write={write} deed="Write it in the book" onLeave={toPapers} onSend={send}>
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
    </Form>
  );
}
