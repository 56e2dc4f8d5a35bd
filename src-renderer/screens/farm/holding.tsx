import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { DeedLink } from '../../parts/deed.tsx';
import { Choice, Field, Select, Tick } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { go, useLocation } from '../../router.tsx';
import {
  atFootOptions,
  countingOptions,
  lawOf,
  lawOptions,
  paperOptions,
  readBackZone,
  weightUnitOptions,
  zoneHere,
  zones,
} from './holding-words.ts';

type Farm = Reply<'farm'>;
type Holding = Farm['holdings'][number];

const toFarm = () => go({ to: 'farm' });

/** Adds a holding, or changes one. */
export default function HoldingScreen() {
  const farm = useCall('farm', {});
  const { holding: id } = useLocation().params;
  return (
    <Screen
      title={id === undefined ? 'Add a holding' : 'Change a holding'}
      lead="What is changed here counts for what is written from now on. Holds that were decided stay as they are."
    >
      <Await call={farm} what="Reading the farm">
        {(value) => {
          const holding = value.holdings.find((one) => one.holding === id);
          if (id !== undefined && holding === undefined) {
            return (
              <Empty deed={<DeedLink to="farm">Go to Farm</DeedLink>}>This holding is not in the book.</Empty>
            );
          }
          return <HoldingForm farm={value} holding={holding} />;
        }}
      </Await>
    </Screen>
  );
}

function HoldingForm({ farm, holding }: { farm: Farm; holding: Holding | undefined }) {
  const other = farm.holdings[0];
  const form = useForm(`farm/holding/${holding?.holding ?? 'new'}`, {
    name: holding?.name ?? '',
    number: holding?.number ?? '',
    address: holding?.address ?? '',
    zone: holding?.zone ?? other?.zone ?? zoneHere(),
    law: holding?.law ?? other?.law ?? '',
    keeper: holding?.keeper ?? other?.keeper ?? '',
    weightUnit: holding?.weightUnit ?? other?.weightUnit ?? 'kg',
    milk: holding?.milk ?? false,
    counting: holding?.counting ?? other?.counting ?? 'later',
    marginDays: String(holding?.marginDays ?? other?.marginDays ?? 0),
    atFoot: holding?.atFoot ?? other?.atFoot ?? 'as-the-ewe',
    places: (holding?.places ?? []).join('\n'),
    paper: holding?.paper ?? other?.paper ?? 'a4',
  });
  const write = useWrite('set-holding', () => {
    void form.drop().then(toFarm);
  });
  const { values } = form;

  const send = () => {
    const law = lawOf(values.law);
    if (law === undefined) {
      return form.show([{ field: 'law', message: 'Choose the law this holding is under.' }]);
    }
    if (!/^\d{1,2}$/.test(values.marginDays.trim())) {
      return form.show([{ field: 'marginDays', message: 'Write whole days, from 0 to 60, as a figure.' }]);
    }
    void write.send({
      ...(holding === undefined ? {} : { holding: holding.holding }),
      ...(values.keeper === '' ? {} : { keeper: values.keeper }),
      name: values.name,
      number: values.number,
      address: values.address,
      zone: values.zone,
      law,
      weightUnit: values.weightUnit === 'lb' ? 'lb' : 'kg',
      milk: values.milk,
      counting: values.counting === '24-hour' || values.counting === 'whole-days' ? values.counting : 'later',
      marginDays: Number(values.marginDays.trim()),
      atFoot: values.atFoot === 'as-the-label' ? 'as-the-label' : 'as-the-ewe',
      places: values.places
        .split('\n')
        .map((place) => place.trim())
        .filter((place) => place !== ''),
      paper: values.paper === 'letter' ? 'letter' : 'a4',
    });
  };

  return (
    <Form form={form} write={write} deed="Write the holding in the book" onLeave={toFarm} onSend={send}>
      <Section title="Which holding">
        <Field {...form.text('name')} label="Name" />
        <Field {...form.text('number')} label="Holding number" size={20} />
        <Field {...form.text('address')} label="Address" lines={4} />
        <Select
          {...form.text('keeper')}
          label="Keeper"
          hint="Who keeps the animals here. The owner of an animal may be somebody else."
          options={[
            { value: '', label: 'Not said' },
            ...farm.people
              .filter((person) => person.active || person.person === values.keeper)
              .map((person) => ({ value: person.person, label: person.name })),
          ]}
        />
        <Field
          {...form.text('places')}
          label="Places and stores"
          optional
          lines={4}
          hint="One on each line: fields, sheds, the medicine cupboard, the fridge."
        />
      </Section>
      <Section title="Law and periods">
        <Choice {...form.text('law')} label="Law" options={lawOptions} />
        <Choice {...form.text('counting')} label="How periods are counted" options={countingOptions} />
        <Field
          {...form.text('marginDays')}
          label="Days added to every period"
          hint="By the farm's own choice. 0 adds nothing; a period is never made shorter."
          inputMode="numeric"
          size={4}
        />
        <Choice
          {...form.text('atFoot')}
          label="Meat of lambs that suck a treated ewe"
          options={atFootOptions}
        />
        <Tick
          {...form.tick('milk')}
          label="Milk for people is taken here"
          hint="Milk periods are then shown and counted for every animal that gives milk."
        />
      </Section>
      <Section title="Clock, weights and paper">
        <Field {...form.text('zone')} label="Time zone" list={zones()} readBack={readBackZone(values.zone)} />
        <Choice {...form.text('weightUnit')} label="Weights are in" options={weightUnitOptions} />
        <Choice {...form.text('paper')} label="Paper" options={paperOptions} />
      </Section>
    </Form>
  );
}
