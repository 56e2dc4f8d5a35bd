import './flock.css';
import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { go } from '../../router.tsx';
import { GroupsList } from './groups-list.tsx';
import { type Farm, firstHolding, HoldingField } from './holding-field.tsx';

/** All groups, and a form for a new one. */
export default function GroupsScreen() {
  const farm = useCall('farm', {});
  const groups = useCall('groups', {});
  return (
    <Screen
      title="Groups"
      lead="A group is a selection with dates: who goes to the ram, who lambs when. It carries no hold; the animals and lots in it do."
    >
      <Section title="Groups">
        <Await call={groups} what="Reading the groups">
          {(value) => <GroupsList groups={value.groups} />}
        </Await>
      </Section>
      <Section title="Make a group">
        <Await call={farm} what="Reading the farm">
          {(value) => <NewGroup farm={value} />}
        </Await>
      </Section>
    </Screen>
  );
}

function NewGroup({ farm }: { farm: Farm }) {
  const form = useForm('flock/group/new', { name: '', holding: firstHolding(farm) });
  const write = useWrite('set-group', ({ group }) => {
    void form.drop().then(() => go({ to: 'flock/group/:group', params: { group } }));
  });
  const { name, holding } = form.values;
  const send = () => {
    if (name.trim() === '') return form.show([{ field: 'name', message: 'Give the group a name.' }]);
    void write.send({ name, holding });
  };
  return (
    <Form form={form} write={write} deed="Make the group" onSend={send}>
      <Field {...form.text('name')} label="Name" hint="Then its animals and dates are chosen." />
      <HoldingField farm={farm} {...form.text('holding')} />
    </Form>
  );
}
