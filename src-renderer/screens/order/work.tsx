import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { DayField } from '../../parts/day-field.tsx';
import { Field, Select } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { MedicinePicker } from '../../parts/medicine-picker.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { go, useLocation } from '../../router.tsx';
import { NextField } from '../label/next-field.tsx';

const blank = { medicine: '', name: '', on: '', group: '', heads: '', dose: '', doseLine: '' };
type WorkValues = typeof blank;

/** Plans work ahead, so that there is stock for it; or changes what was planned. */
export default function ForeseeWorkScreen() {
  const { query } = useLocation();
  const { work, medicine } = query;
  if (work !== undefined) return <Change work={work} />;
  return <WorkForm keep="order/work" start={{ ...blank, medicine: medicine ?? '' }} />;
}

function Change({ work }: { work: string }) {
  const call = useCall('foreseen-work', { work });
  return (
    <Await call={call} what="Reading what is planned">
      {(one) => <WorkForm keep={`order/work/${work}`} work={work} start={startOf(one)} />}
    </Await>
  );
}

function startOf({ heads, ...one }: Reply<'foreseen-work'>): WorkValues {
  return {
    medicine: one.medicine,
    name: one.name,
    on: one.on,
    group: one.group ?? '',
    heads: heads === undefined ? '' : String(heads),
    dose: one.dose ?? '',
    doseLine: one.doseLine ?? '',
  };
}

function WorkForm({ keep, work, start }: { keep: string; work?: string; start: WorkValues }) {
  const form = useForm<WorkValues>(keep, start);
  const { values } = form;
  const groups = useCall('groups', {});
  const label = useCall('medicine', values.medicine === '' ? null : { medicine: values.medicine });
  const lines = label.state === 'ready' ? (label.value.revisions[0]?.terms.doseLines ?? []) : [];
  const leave = () =>
    values.medicine === ''
      ? go({ to: 'order' })
      : go({ to: 'order/outlook/:medicine', params: { medicine: values.medicine } });
  const write = useWrite('foresee-work', () => {
    void form.drop();
    leave();
  });
  const send = () => {
    const { medicine, name, on, ...rest } = values;
    const missing = [
      ...(medicine === '' ? [{ field: 'medicine', message: 'Choose the medicine.' }] : []),
      ...(on.trim() === '' ? [{ field: 'on', message: 'Write on which day it is planned.' }] : []),
    ];
    if (missing.length > 0) return form.show(missing);
    void write.send({ medicine, name, on, ...withoutEmpty(rest), ...(work === undefined ? {} : { work }) });
  };
  return (
    <Screen
      title={work === undefined ? 'Plan work ahead' : 'Change what is planned'}
      lead="So that there is stock for it. Nobody is treated and nobody is held by it; that is done under Treat."
    >
      <Form form={form} write={write} deed="Write it in the book" onSend={send} onLeave={leave}>
        <Section title="What and when">
          <MedicinePicker
            picked={values.medicine === '' ? undefined : values.medicine}
            error={form.text('medicine').error}
            onPick={(medicine) => form.set({ medicine: medicine?.medicine ?? '', doseLine: '' })}
          />
          <Field {...form.text('name')} label="Work" hint="As in: Booster before lambing." />
          <DayField {...form.text('on')} label="Planned on" />
          <NextField name={start.medicine === '' ? 'medicine' : 'name'} />
        </Section>
        <Section title="For whom">
          <Select
            {...form.text('group')}
            label="Group"
            hint="As many as it has on the day you look, dosed by what the book knows of their weights."
            options={[
              { value: '', label: 'No group' },
              ...(groups.state === 'ready'
                ? groups.value.groups.map((one) => ({
                    value: one.group,
                    label: `${one.name}, ${one.heads.toLocaleString('en-GB')} head`,
                  }))
                : []),
            ]}
          />
          <Field
            {...form.text('heads')}
            label="Heads"
            hint="Where they are no group yet, or another number of them."
            size={7}
            inputMode="numeric"
            optional
          />
        </Section>
        <Section title="How much">
          {lines.length < 2 ? null : (
            <Select
              {...form.text('doseLine')}
              label="Line of the label"
              options={[
                { value: '', label: 'The one that fits each animal' },
                ...lines.map((line) => ({ value: line.id, label: line.title ?? line.against ?? line.route })),
              ]}
            />
          )}
          <Field
            {...form.text('dose')}
            label="Dose a head"
            hint="Left empty, it is by the label. This is for the stock: at the race the dose is worked out anew."
            size={10}
            optional
          />
        </Section>
      </Form>
    </Screen>
  );
}
