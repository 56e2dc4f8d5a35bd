import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed } from '../../parts/deed.tsx';
import { Field, Select } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { go, useLocation } from '../../router.tsx';
import { typedHeads } from './use-rows.ts';

const toUse = () => go({ to: 'book/use' });

/** The farm's own head numbers of one year, for the figure by standard weights. */
export default function UseHeadsScreen() {
  const { year, holding } = useLocation().query;
  const farm = useCall('farm', {});
  const use = useCall('use', {});
  return (
    <Screen
      title="Heads by your own count"
      lead="For the figure by standard weights only. Whatever is left empty the book counts: the living on the last day of the year, whatever their class, and those slaughtered in it."
    >
      <Await call={farm} what="Reading the holdings">
        {({ holdings }) => {
          const [first] = holdings;
          return first === undefined ? (
            <Empty deed={<CommandDeed id="use" />}>There is no holding yet.</Empty>
          ) : (
            <Await call={use} what="Reading how it is counted">
              {({ rules }) => (
                <HeadsForm
                  holdings={holdings}
                  holding={holding ?? first.holding}
                  year={year ?? ''}
                  heads={rules.heads}
                />
              )}
            </Await>
          );
        }}
      </Await>
    </Screen>
  );
}

function HeadsForm({
  holdings,
  holding,
  year,
  heads,
}: {
  holdings: readonly { holding: string; name: string }[];
  holding: string;
  year: string;
  heads: Reply<'use'>['rules']['heads'];
}) {
  const own = heads.find((one) => one.holding === holding && String(one.year) === year);
  const form = useForm(`book/use/heads/${holding}/${year}`, {
    holding,
    year,
    living: String(own?.living ?? ''),
    slaughtered: String(own?.slaughtered ?? ''),
  });
  const write = useWrite('set-use-heads', () => void form.drop().then(toUse));
  const send = () => {
    const { said, problems } = typedHeads(form.values);
    if (said === undefined) return form.show(problems);
    void write.send({ holding: form.values.holding, ...said });
  };
  return (
    <Form form={form} write={write} deed="Write it in the book" onSend={send} onLeave={toUse}>
      {holdings.length < 2 ? null : (
        <Select
          {...form.text('holding')}
          label="Holding"
          options={holdings.map((one) => ({ value: one.holding, label: one.name }))}
        />
      )}
      <Field {...form.text('year')} label="Year" size={4} inputMode="numeric" />
      <Field
        {...form.text('living')}
        label="Living sheep"
        hint="As at the yearly count of livestock, if there is one. Empty: the book counts."
        size={6}
        inputMode="numeric"
        optional
      />
      <Field
        {...form.text('slaughtered')}
        label="Slaughtered in the year"
        hint="Empty: the book counts."
        size={6}
        inputMode="numeric"
        optional
      />
    </Form>
  );
}
