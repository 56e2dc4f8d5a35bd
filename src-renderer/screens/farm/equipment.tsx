import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { DeedLink } from '../../parts/deed.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { type Equipment, sayChecked, sayMeasures, sayWhat } from './equipment-words.ts';

/** The farm's own syringes, guns and weighers: what each is, and when it was last checked. */
export default function EquipmentScreen() {
  const call = useCall('equipment', {});
  return (
    <Screen
      title="Syringes, guns and weighers"
      lead="A gun that gives too little breeds resistance, and one that gives too much can kill. What is in the list can be chosen when work is planned."
      deeds={
        <DeedLink to="farm/equipment/add" weight="main">
          Add one
        </DeedLink>
      }
    >
      <Await call={call} what="Reading the equipment">
        {({ equipment }) => <Lists equipment={equipment} />}
      </Await>
    </Screen>
  );
}

function Lists({ equipment }: { equipment: readonly Equipment[] }) {
  if (equipment.length === 0) {
    return (
      <Empty deed={<DeedLink to="farm/equipment/add">Add the first one</DeedLink>}>
        Nothing is written down yet. Begin with the dosing gun that is used most.
      </Empty>
    );
  }
  const parts = [
    { title: 'Dosing guns', of: equipment.filter((one) => one.active && one.what === 'gun') },
    { title: 'Weighers', of: equipment.filter((one) => one.active && one.what === 'weigher') },
    { title: 'Syringes', of: equipment.filter((one) => one.active && one.what === 'syringe') },
    { title: 'No longer used', of: equipment.filter((one) => !one.active) },
  ].filter((part) => part.of.length > 0);
  return parts.map((part) => (
    <Section key={part.title} title={part.title}>
      <Sentences label={part.title}>
        {part.of.map((one) => (
          <One key={one.equipment} one={one} />
        ))}
      </Sentences>
    </Section>
  ));
}

function One({ one }: { one: Equipment }) {
  const measures = sayMeasures(one);
  const params = { equipment: one.equipment };
  const isChecked = one.active && one.what !== 'syringe';
  return (
    <Sentence
      margin={one.due === undefined ? (isChecked ? 'In order' : sayWhat(one.what)) : 'Due'}
      mind={one.due !== undefined}
      small={sayChecked(one)}
      deed={
        isChecked ? (
          <DeedLink to="farm/equipment/:equipment" params={params}>
            Check it
          </DeedLink>
        ) : (
          <DeedLink to="farm/equipment/:equipment/change" params={params}>
            Change
          </DeedLink>
        )
      }
    >
      <strong>{one.name}</strong>
      {measures === undefined ? null : <>, {measures}</>}
    </Sentence>
  );
}
