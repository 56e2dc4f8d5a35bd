import { EXPOSURE_WORDS } from '../../../src-shared/safety/words.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { WhenField } from '../../parts/day-field.tsx';
import { Choice, Field, Select } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { go, useLocation } from '../../router.tsx';
import { codeOf, optionsOf } from './words.ts';

const NOW = 'now';
const OTHER = '';

/** Writes down that a person came into contact with a medicine. */
export default function ExposureScreen() {
  const { session } = useLocation().query;
  const found = useCall('emergency', session === undefined ? {} : { session });
  const medicines = found.state === 'ready' ? found.value.medicines : [];
  const form = useForm('safety/exposure', {
    who: '',
    how: '',
    medicine: OTHER,
    product: '',
    batch: '',
    amount: '',
    where: '',
    when: NOW,
    happened: '',
    done: '',
    told: '',
  });
  const leave = () => go({ to: 'book/safety' });
  const write = useWrite('record-exposure', () => {
    void form.drop().then(leave);
  });
  const { values } = form;
  const picked = medicines.find((one) => one.medicine === values.medicine);
  const send = () => {
    const how = codeOf(EXPOSURE_WORDS, values.how);
    const problems = [
      ...(values.who.trim() === '' ? [{ field: 'who', message: 'Write who it was.' }] : []),
      ...(how === undefined ? [{ field: 'how', message: 'Say how it happened.' }] : []),
      ...(values.medicine === OTHER && values.product.trim() === ''
        ? [{ field: 'medicine', message: 'Choose the medicine, or write its name from the bottle.' }]
        : []),
      ...(values.when !== NOW && values.happened === ''
        ? [{ field: 'happened', message: 'Write when it happened.' }]
        : []),
      ...(values.done.trim() === '' ? [{ field: 'done', message: 'Write what was done.' }] : []),
    ];
    if (problems.length > 0 || how === undefined) return form.show(problems);
    const { who, medicine, product, batch, amount, where, done, told, when, happened } = values;
    void write.send({
      who,
      how,
      done,
      ...(medicine === OTHER ? { product } : { medicine }),
      ...withoutEmpty({ batch, amount, where, told }),
      ...(when === NOW ? {} : { happened }),
      ...(session === undefined ? {} : { session }),
    });
  };
  return (
    <Screen
      title="A person came into contact with a medicine"
      lead="The doctor first. Write it down when the person is cared for: it is in the book for whoever asks later."
    >
      <Form form={form} write={write} deed="Write it in the book" onSend={send} onLeave={leave}>
        <Section title="Who, and what">
          <Field {...form.text('who')} label="Who" size={24} />
          <Choice {...form.text('how')} label="How" options={optionsOf(EXPOSURE_WORDS)} />
          <Select
            {...form.text('medicine')}
            label="Medicine"
            options={[
              { value: OTHER, label: 'Another, or not in the book' },
              ...medicines.map((one) => ({ value: one.medicine, label: one.name })),
            ]}
          />
          {values.medicine === OTHER ? (
            <Field {...form.text('product')} label="What stands on the bottle" size={28} />
          ) : null}
          <Field
            {...form.text('batch')}
            label="Batch"
            size={16}
            optional
            {...(picked === undefined ? {} : { list: picked.batches })}
          />
          <Field
            {...form.text('amount')}
            label="How much"
            hint="As far as it is known: about 0.5 mL, a scratch."
            size={20}
            optional
          />
          <Field
            {...form.text('where')}
            label="Where on the body"
            hint="As in left thumb."
            size={24}
            optional
          />
        </Section>
        <Section title="When, and what was done">
          <Choice
            {...form.text('when')}
            label="When"
            options={[
              { value: NOW, label: 'Just now' },
              { value: 'earlier', label: 'Earlier' },
            ]}
          />
          {values.when === NOW ? null : <WhenField {...form.text('happened')} label="Happened on" />}
          <Field {...form.text('done')} label="What was done" lines={3} size={44} />
          <Field
            {...form.text('told')}
            label="Who was told"
            hint="Doctor, poison line, vet."
            size={32}
            optional
          />
        </Section>
      </Form>
    </Screen>
  );
}
