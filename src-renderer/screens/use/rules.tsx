import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen } from '../../parts/screen.tsx';
import { go } from '../../router.tsx';

const toUse = () => go({ to: 'book/use' });

/** Standard weights beside the farm's own, and what counts as a repeat. */
export default function UseRulesScreen() {
  const call = useCall('use', {});
  return (
    <Screen
      title="How use is counted"
      lead="The farm’s own weights always stand first. These are for the figure beside them, and for the vet’s page."
    >
      <Await call={call} what="Reading how it is counted">
        {({ rules }) => <RulesForm rules={rules} />}
      </Await>
    </Screen>
  );
}

function RulesForm({ rules }: { rules: Reply<'use'>['rules'] }) {
  const form = useForm('book/use/rules', {
    livingKg: rules.livingKg,
    slaughteredKg: rules.slaughteredKg,
    repeatDays: String(rules.repeatDays),
  });
  const write = useWrite('set-use-rules', () => void form.drop().then(toUse));
  const send = () => {
    const { livingKg, slaughteredKg, repeatDays } = form.values;
    const days = Number(repeatDays.trim());
    const problems = [
      ...(livingKg.trim() === '' ? [{ field: 'livingKg', message: 'Write the weight, as in 75.' }] : []),
      ...(slaughteredKg.trim() === ''
        ? [{ field: 'slaughteredKg', message: 'Write the weight, as in 20.' }]
        : []),
      ...(/^\d{1,3}$/.test(repeatDays.trim()) && days >= 1 && days <= 365
        ? []
        : [{ field: 'repeatDays', message: 'Write whole days, from 1 to 365.' }]),
    ];
    if (problems.length > 0) return form.show(problems);
    void write.send({ livingKg, slaughteredKg, repeatDays: days });
  };
  return (
    <Form form={form} write={write} deed="Write it in the book" onSend={send} onLeave={toUse}>
      <Field
        {...form.text('livingKg')}
        label="Standard weight of a living sheep, kg"
        hint="75 by the European convention."
        size={6}
        inputMode="decimal"
      />
      <Field
        {...form.text('slaughteredKg')}
        label="Standard weight of a slaughtered sheep, kg"
        hint="20 by the European convention."
        size={6}
        inputMode="decimal"
      />
      <Field
        {...form.text('repeatDays')}
        label="The same reason again within so many days is a repeat"
        hint="28 where nothing was said: practice."
        size={4}
        inputMode="numeric"
      />
    </Form>
  );
}
