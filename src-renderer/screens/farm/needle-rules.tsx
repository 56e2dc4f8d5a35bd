import type { ReactNode } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { Field, Select } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { go, useLocation } from '../../router.tsx';

type House = Reply<'house-rules'>;
type Topic = House['guidance'][number]['topic'];

const toFarm = () => go({ to: 'farm' });
const GAUGES = ['16', '18', '20', '22'];
const LENGTHS = ['1/2', '5/8', '3/4', '1', '1 1/2'];

/** What the farm settles on where the sources disagree; each beside what they say. */
export default function NeedleRulesScreen() {
  const { holding } = useLocation().query;
  const farm = useCall('farm', {});
  const call = useCall('house-rules', holding === undefined ? {} : { holding });
  return (
    <Screen
      title="House rules for needles"
      lead="The label always goes first. Where it is silent these count; where they are silent too, the strictest of what the sources say."
    >
      <Await call={farm} what="Reading the farm">
        {({ holdings }) => (
          <>
            {holdings.length < 2 ? null : (
              <Select
                name="holding"
                label="Holding"
                value={holding ?? holdings[0]?.holding ?? ''}
                onChange={(to) => go({ to: 'farm/needles', query: { holding: to } })}
                options={holdings.map((one) => ({ value: one.holding, label: one.name }))}
              />
            )}
            <Await call={call} what="Reading the house rules">
              {(house) =>
                house.holding === undefined ? (
                  <Empty>There is no holding yet. Add one under Farm first.</Empty>
                ) : (
                  <RulesForm key={house.holding} house={house} holding={house.holding} />
                )
              }
            </Await>
          </>
        )}
      </Await>
    </Screen>
  );
}

function RulesForm({ house, holding }: { house: House; holding: string }) {
  const { skin, muscle, changeEvery, spacingIn, maxPerSite } = house.rules;
  const form = useForm(`farm/needles/${holding}`, {
    'skin.gauge': skin?.gauge ?? '',
    'skin.lengthIn': skin?.lengthIn ?? '',
    'muscle.gauge': muscle?.gauge ?? '',
    'muscle.lengthIn': muscle?.lengthIn ?? '',
    changeEvery: changeEvery === undefined ? '' : String(changeEvery),
    spacingIn: spacingIn === undefined ? '' : String(spacingIn),
    maxPerSite: maxPerSite ?? '',
  });
  const write = useWrite('set-house-rules', () => void form.drop().then(toFarm));
  const { values } = form;
  const send = () => {
    const wrong = (['changeEvery', 'spacingIn'] as const).filter(
      (field) => values[field].trim() !== '' && !/^\d{1,4}$/.test(values[field].trim()),
    );
    if (wrong.length > 0) {
      return form.show(
        wrong.map((field) => ({
          field,
          message:
            field === 'changeEvery'
              ? 'Write after how many animals, as a whole number.'
              : 'Write how many inches, as a whole number.',
        })),
      );
    }
    const number = (text: string) => (text.trim() === '' ? undefined : Number(text));
    const [every, inches] = [number(values.changeEvery), number(values.spacingIn)];
    void write.send({
      holding,
      skin: withoutEmpty({ gauge: values['skin.gauge'].trim(), lengthIn: values['skin.lengthIn'].trim() }),
      muscle: withoutEmpty({
        gauge: values['muscle.gauge'].trim(),
        lengthIn: values['muscle.lengthIn'].trim(),
      }),
      ...(every === undefined ? {} : { changeEvery: every }),
      ...(inches === undefined ? {} : { spacingIn: inches }),
      ...(values.maxPerSite.trim() === '' ? {} : { maxPerSite: values.maxPerSite }),
    });
  };
  return (
    <Form form={form} write={write} deed="Write the rules in the book" onSend={send} onLeave={toFarm}>
      <Rule title="Changing the needle" house={house} topic="change">
        <Field
          {...form.text('changeEvery')}
          label="A new needle after so many animals"
          hint="At once in any case when it is bent, burred, blunt or dirty. A used needle never goes back into the bottle: keep one for drawing off."
          size={4}
          inputMode="numeric"
          optional
        />
      </Rule>
      <Rule title="Under the skin" house={house} topic="skin">
        <Field {...form.text('skin.gauge')} label="Gauge, under the skin" size={4} list={GAUGES} optional />
        <Field
          {...form.text('skin.lengthIn')}
          label="Length in inches, under the skin"
          size={6}
          list={LENGTHS}
          optional
        />
      </Rule>
      <Rule title="Into muscle" house={house} topic="muscle">
        <Field {...form.text('muscle.gauge')} label="Gauge, into muscle" size={4} list={GAUGES} optional />
        <Field
          {...form.text('muscle.lengthIn')}
          label="Length in inches, into muscle"
          size={6}
          list={LENGTHS}
          optional
        />
      </Rule>
      <Rule title="Between two places" house={house} topic="spacing">
        <Field
          {...form.text('spacingIn')}
          label="Inches between two places on one side"
          size={4}
          inputMode="numeric"
          optional
        />
      </Rule>
      <Rule title="In one place" house={house} topic="per-site">
        <Field {...form.text('maxPerSite')} label="Most in one place" hint="As in 5 mL." size={8} optional />
      </Rule>
    </Form>
  );
}

/** One rule with the guidance that disagrees, each source by name. */
function Rule({
  title,
  house,
  topic,
  children,
}: {
  title: string;
  house: House;
  topic: Topic;
  children: ReactNode;
}) {
  const found = house.guidance.find((one) => one.topic === topic);
  return (
    <Section title={title}>
      {found === undefined ? null : (
        <div className="beside-fields">
          <p className="hint">What the sources say:</p>
          <ul>
            {found.sides.map(({ rule, says, source, mark }) => (
              <li key={rule}>
                <strong>{says}</strong>: {source} ({mark})
              </li>
            ))}
          </ul>
          <p className="hint">{found.taken}</p>
        </div>
      )}
      {children}
    </Section>
  );
}
