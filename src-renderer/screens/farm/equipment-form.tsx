import { useCall } from '../../hooks/use-call.ts';
import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { DeedLink } from '../../parts/deed.tsx';
import { Choice, Field, Tick } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { go, useLocation } from '../../router.tsx';
import { type Equipment, equipmentOptions } from './equipment-words.ts';

const toList = () => go({ to: 'farm/equipment' });

/** Adds a syringe, a gun or a weigher, or changes one. */
export default function EquipmentFormScreen() {
  const { equipment: id } = useLocation().params;
  const call = useCall('equipment', {});
  return (
    <Screen title={id === undefined ? 'Add a syringe, a gun or a weigher' : 'Change it'}>
      <Await call={call} what="Reading the equipment">
        {({ equipment }) => {
          const one = equipment.find((each) => each.equipment === id);
          if (id !== undefined && one === undefined) {
            return (
              <Empty deed={<DeedLink to="farm/equipment">See them all</DeedLink>}>
                It is not in the book.
              </Empty>
            );
          }
          return <EquipmentForm one={one} />;
        }}
      </Await>
    </Screen>
  );
}

function EquipmentForm({ one }: { one: Equipment | undefined }) {
  const form = useForm(`farm/equipment/${one?.equipment ?? 'new'}`, {
    what: one?.what ?? 'gun',
    name: one?.name ?? '',
    capacity: one?.capacity ?? '',
    graduation: one?.graduation ?? '',
    drawsBack: one?.drawsBack ?? false,
    priming: one?.priming ?? '',
    active: one?.active ?? true,
  });
  const write = useWrite('set-equipment', () => {
    void form.drop().then(toList);
  });
  const { what, name, capacity, graduation, drawsBack, priming, active } = form.values;
  const kind = equipmentOptions.find((option) => option.value === what)?.value ?? 'gun';
  const doses = kind !== 'weigher';

  const send = () => {
    const problems = [
      ...(name.trim() === '' ? [{ field: 'name', message: 'Write what it is called on the farm.' }] : []),
      ...(doses && capacity.trim() === ''
        ? [{ field: 'capacity', message: 'Write what it holds, as in 30 mL.' }]
        : []),
      ...(doses && graduation.trim() === ''
        ? [{ field: 'graduation', message: 'Write how far apart its marks are, as in 0.5 mL.' }]
        : []),
    ];
    if (problems.length > 0) return form.show(problems);
    void write.send({
      ...(one === undefined ? {} : { equipment: one.equipment }),
      what: kind,
      name,
      active,
      ...(doses ? withoutEmpty({ capacity, graduation }) : {}),
      ...(kind === 'gun' ? { drawsBack, ...withoutEmpty({ priming }) } : {}),
    });
  };

  return (
    <Form form={form} write={write} deed="Write it in the book" onLeave={toList} onSend={send}>
      {one === undefined ? (
        <Choice {...form.text('what')} label="What it is" options={equipmentOptions} />
      ) : null}
      <Field
        {...form.text('name')}
        label="Called"
        hint="As in “Drench gun, blue handle”. Each has a name of its own."
        size={32}
      />
      {doses ? (
        <>
          <Field {...form.text('capacity')} label="It holds" hint="As in 30 mL." size={8} />
          <Field
            {...form.text('graduation')}
            label="A mark every"
            hint="The smallest step it can be set or read to, as in 0.5 mL."
            size={8}
          />
        </>
      ) : null}
      {kind === 'gun' ? (
        <>
          <Field
            {...form.text('priming')}
            label="Priming takes"
            hint="Hose and all, until it gives a full dose; measured, as in 25 mL. Plans count it in for each bottle."
            size={8}
            optional
          />
          <Tick
            {...form.tick('drawsBack')}
            label="It can draw back"
            hint="Tick it if one can pull back before injecting, to see whether blood comes."
          />
        </>
      ) : null}
      {one === undefined ? null : (
        <Tick
          {...form.tick('active')}
          label="Still in use"
          hint="Without the tick it is no longer offered; its checks stay in the book."
        />
      )}
    </Form>
  );
}
