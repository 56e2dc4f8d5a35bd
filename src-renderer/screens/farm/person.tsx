import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { DeedLink } from '../../parts/deed.tsx';
import { type ChoiceOption, Field, Tick, Ticks } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { go, useLocation } from '../../router.tsx';

type Person = Reply<'farm'>['people'][number];

const toFarm = () => go({ to: 'farm' });

const roleOptions: readonly (ChoiceOption & { value: Person['roles'][number] })[] = [
  { value: 'owner', label: 'Owner', hint: 'owns animals in the book' },
  { value: 'keeper', label: 'Keeper', hint: 'answers for the animals on a holding' },
  { value: 'shepherd', label: 'Shepherd', hint: 'treats animals' },
  { value: 'clerk', label: 'Clerk', hint: 'writes the book' },
  { value: 'vet', label: 'Vet', hint: 'prescribes and instructs' },
  { value: 'contractor', label: 'Contractor', hint: 'treats animals with medicine of their own' },
  { value: 'supplier', label: 'Supplier', hint: 'delivers medicine' },
];

/** Adds a person or firm, or changes one. */
export default function PersonScreen() {
  const farm = useCall('farm', {});
  const { person: id } = useLocation().params;
  return (
    <Screen title={id === undefined ? 'Add a person or firm' : 'Change a person or firm'}>
      <Await call={farm} what="Reading the people">
        {({ people }) => {
          const person = people.find((one) => one.person === id);
          if (id !== undefined && person === undefined) {
            return (
              <Empty deed={<DeedLink to="farm">Go to Farm</DeedLink>}>
                Nobody in the book has this number.
              </Empty>
            );
          }
          return <PersonForm person={person} />;
        }}
      </Await>
    </Screen>
  );
}

function PersonForm({ person }: { person: Person | undefined }) {
  const form = useForm(`farm/person/${person?.person ?? 'new'}`, {
    name: person?.name ?? '',
    roles: (person?.roles ?? []) as readonly string[],
    phone: person?.phone ?? '',
    email: person?.email ?? '',
    address: person?.address ?? '',
    registration: person?.registration ?? '',
    active: person?.active ?? true,
  });
  const write = useWrite('set-person', () => {
    void form.drop().then(toFarm);
  });
  const { name, roles, phone, email, address, registration, active } = form.values;

  const send = () => {
    const problems = [
      ...(name.trim() === '' ? [{ field: 'name', message: 'Write the name.' }] : []),
      ...(roles.length === 0
        ? [{ field: 'roles', message: 'Tick at least one thing this person does.' }]
        : []),
    ];
    if (problems.length > 0) return form.show(problems);
    void write.send({
      ...(person === undefined ? {} : { person: person.person }),
      name,
      roles: roleOptions.map((option) => option.value).filter((role) => roles.includes(role)),
      active,
      ...withoutEmpty({ phone, email, address, registration }),
    });
  };

  return (
    <Form form={form} write={write} deed="Write it in the book" onLeave={toFarm} onSend={send}>
      <Field {...form.text('name')} label="Name" />
      <Ticks {...form.list('roles')} label="What this person or firm does" options={roleOptions} />
      <Field {...form.text('phone')} label="Telephone" optional inputMode="tel" size={20} />
      <Field {...form.text('email')} label="E-mail" optional inputMode="email" />
      <Field {...form.text('address')} label="Address" optional lines={3} />
      <Field
        {...form.text('registration')}
        label="Registration or approval number"
        hint="Where the law asks for one: a vet's, a supplier's."
        optional
        size={20}
      />
      {person === undefined ? null : (
        <Tick
          {...form.tick('active')}
          label="Still with the farm"
          hint="Without the tick the name is no longer offered; what it stands under stays as it is."
        />
      )}
    </Form>
  );
}
