import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Choice, Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { NextField } from '../label/next-field.tsx';
import { nameHints, whatOptions } from './drawer-words.ts';

/** Adds a size of needle or anything else that is counted, with how many there are. */
export function DrawerAdd({ onDone }: { onDone: () => void }) {
  const form = useForm('cabinet/drawer/add', {
    what: 'needle',
    gauge: '',
    lengthIn: '',
    name: '',
    count: '',
    least: '',
  });
  const write = useWrite('set-consumable', () => void form.drop().then(onDone));
  const { values } = form;
  const what = whatOptions.find(({ value }) => value === values.what)?.value ?? 'needle';
  const isNeedle = what === 'needle';
  const send = () => {
    const wrong = (['count', 'least'] as const).filter(
      (field) => values[field].trim() !== '' && !/^\d{1,6}$/.test(values[field].trim()),
    );
    const problems = [
      ...(isNeedle && values.gauge.trim() === ''
        ? [{ field: 'gauge', message: 'Read the gauge on the packet, as in 18.' }]
        : []),
      ...(isNeedle && values.lengthIn.trim() === ''
        ? [{ field: 'lengthIn', message: 'Read the length on the packet, as in 1/2.' }]
        : []),
      ...(!isNeedle && values.name.trim() === ''
        ? [{ field: 'name', message: `Write what tells it from others. ${nameHints[what]}` }]
        : []),
      ...wrong.map((field) => ({ field, message: 'Write how many, as a whole number.' })),
    ];
    if (problems.length > 0) return form.show(problems);
    const { gauge, lengthIn, name, count, least } = values;
    void write.send({
      what,
      ...(isNeedle ? withoutEmpty({ gauge, lengthIn }) : withoutEmpty({ name })),
      ...(count.trim() === '' ? {} : { count: Number(count) }),
      ...(least.trim() === '' ? {} : { least: Number(least) }),
    });
  };
  return (
    <Form form={form} write={write} deed="Put it in the drawer" onSend={send} onLeave={onDone}>
      <Choice {...form.text('what')} label="What it is" options={whatOptions} />
      {isNeedle ? (
        <>
          <Field
            {...form.text('gauge')}
            label="Gauge"
            hint="A higher number is a thinner needle."
            size={4}
            list={['16', '18', '20', '22']}
          />
          <Field
            {...form.text('lengthIn')}
            label="Length, inches"
            size={6}
            list={['1/4', '1/2', '5/8', '3/4', '1', '1 1/2']}
          />
        </>
      ) : (
        <Field {...form.text('name')} label="Size or name" hint={nameHints[what]} size={24} />
      )}
      <Field {...form.text('count')} label="There are now" size={6} inputMode="numeric" optional />
      <Field
        {...form.text('least')}
        label="Say when there are fewer than"
        size={6}
        inputMode="numeric"
        optional
      />
      <NextField name={isNeedle ? 'gauge' : 'name'} />
    </Form>
  );
}
