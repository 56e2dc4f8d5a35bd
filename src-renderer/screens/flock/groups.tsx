import './flock.css';
import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { go } from '../../router.tsx';
import { type GroupRow, sayDates } from './dates-words.ts';
import { type Farm, firstHolding, HoldingField } from './holding-field.tsx';

const open = (group: string) => go({ to: 'flock/group/:group', params: { group } });

const columns: readonly Column<GroupRow>[] = [
  { key: 'name', head: 'Group', text: (row) => row.name, share: 2 },
  {
    key: 'heads',
    head: 'Heads here',
    text: (row) => String(row.heads),
    show: (row) => row.heads.toLocaleString('en-GB'),
    order: (row) => row.heads,
    isNumber: true,
  },
  { key: 'dates', head: 'Dates', text: (row) => sayDates(row.dates), share: 3 },
];

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
          {(value) => (
            <List
              rows={value.groups}
              columns={columns}
              rowKey={(row) => row.group}
              label="Groups"
              fileName="groups"
              onOpen={(row) => open(row.group)}
              empty={<Empty>There is no group yet. Give the first one a name below.</Empty>}
            />
          )}
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
    void form.drop().then(() => open(group));
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
