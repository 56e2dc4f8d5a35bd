import type { Reply } from '../../../src-shared/calls/all.ts';
import {
  ANTIMICROBIALS,
  groupWords,
  NEITHER,
  PARASITE_GROUPS,
  SUBSTANCE_GROUPS,
} from '../../../src-shared/record/use-classes.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed } from '../../parts/deed.tsx';
import { Field, Select } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { go, useLocation } from '../../router.tsx';

type Substance = Reply<'use'>['substances'][number];

const toUse = () => go({ to: 'book/use' });
const groupOptions = [
  { value: '', label: 'Choose' },
  ...Object.keys({ ...ANTIMICROBIALS, ...PARASITE_GROUPS }).map((value) => ({
    value,
    label: `${Object.hasOwn(ANTIMICROBIALS, value) ? 'Antimicrobial' : 'Against parasites'}: ${groupWords(value)}`,
  })),
  { value: NEITHER, label: groupWords(NEITHER) },
];

/** Says to which group a substance belongs, and how its strength becomes mg. */
export default function SubstanceScreen() {
  const { substance, salt } = useLocation().query;
  const call = useCall('use', {});
  return (
    <Screen
      title={`What ${salt === undefined ? (substance ?? 'a substance') : `${substance} as ${salt}`} counts as`}
      lead="This belongs to the substance and holds for every medicine with it, also for what was given before. From the leaflet, or from the vet."
    >
      <Await call={call} what="Reading the substances">
        {({ substances }) => {
          const found = substances.find((one) => one.substance === substance && one.salt === salt);
          return found === undefined ? (
            <Empty deed={<CommandDeed id="use" />}>No label in the book names this substance.</Empty>
          ) : (
            <SubstanceForm one={found} />
          );
        }}
      </Await>
    </Screen>
  );
}

function SubstanceForm({ one }: { one: Substance }) {
  const { substance, salt, published } = one;
  const form = useForm(`book/use/${substance}/${salt ?? ''}`, {
    group: one.group ?? '',
    iuToMg: one.iuToMg ?? '',
    saltFactor: one.saltFactor ?? '',
  });
  const write = useWrite('set-substance', () => void form.drop().then(toUse));
  const send = () => {
    const group = SUBSTANCE_GROUPS.find((each) => each === form.values.group);
    if (group === undefined) return form.show([{ field: 'group', message: 'Choose the group.' }]);
    const { iuToMg, saltFactor } = form.values;
    void write.send({
      substance,
      group,
      ...(salt === undefined ? {} : { salt }),
      ...withoutEmpty({ iuToMg, saltFactor }),
    });
  };
  const taken = (kind: 'iu' | 'salt') =>
    published?.kind === kind
      ? ` While it is empty ${published.value} is taken, from ${published.source}.`
      : '';
  return (
    <Form form={form} write={write} deed="Write it in the book" onSend={send} onLeave={toUse}>
      <Select {...form.text('group')} label="Group" options={groupOptions} />
      <Field
        {...form.text('iuToMg')}
        label="mg in one IU"
        hint={`Only for a strength in IU, as in 0.0006.${taken('iu')}`}
        size={10}
        inputMode="decimal"
        optional
      />
      <Field
        {...form.text('saltFactor')}
        label="Part of the salt that is the substance"
        hint={`Only where the strength counts the salt, as in 0.61. Never beside the IU.${taken('salt')}`}
        size={10}
        inputMode="decimal"
        optional
      />
    </Form>
  );
}
