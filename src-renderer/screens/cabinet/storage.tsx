import './cabinet.css';
import { useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { WhenField } from '../../parts/day-field.tsx';
import { CommandDeed } from '../../parts/deed.tsx';
import { Field, Select } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { go } from '../../router.tsx';
import { NextField } from '../label/next-field.tsx';
import { OneReading } from './storage-one.tsx';
import { StorageOutcome } from './storage-outcome.tsx';

type Reading = Reply<'storage-log'>['readings'][number];
type Found = Reply<'record-storage'>;

/** Writes down what the thermometer of a store showed, says what that means, and lists what it showed before. */
export default function StorageScreen() {
  const call = useCall('storage-log', {});
  const [found, setFound] = useState<Found | undefined>(undefined);
  const [open, setOpen] = useState<string | undefined>(undefined);
  return (
    <Screen
      title="Thermometers"
      deeds={<CommandDeed id="logger-file" />}
      lead="Read the least and the most once a week, write them down, and set the thermometer back."
    >
      <Await call={call} what="Reading the log">
        {({ stores, readings }) =>
          stores.length === 0 ? (
            <Empty deed={<CommandDeed id="receive-batch" />}>
              No container says where it is kept. Write it when the next delivery is taken in.
            </Empty>
          ) : (
            <>
              {found === undefined ? null : <StorageOutcome found={found} />}
              <Section title="What it shows">
                <ReadForm stores={stores} onDone={setFound} />
              </Section>
              <Section title="Before">
                <List
                  rows={readings}
                  columns={columns}
                  rowKey={(one) => one.reading}
                  label="Before"
                  fileName="thermometers"
                  onOpen={({ reading }) => setOpen(reading)}
                  empty={<p className="cabinet-none">No thermometer was written down yet.</p>}
                />
              </Section>
              {open === undefined ? null : <OneReading key={open} reading={open} />}
            </>
          )
        }
      </Await>
    </Screen>
  );
}

function ReadForm({ stores, onDone }: { stores: readonly string[]; onDone: (found: Found) => void }) {
  const form = useForm('cabinet/storage', { store: stores[0] ?? '', least: '', most: '', happened: '' });
  const write = useWrite('record-storage', (found) => {
    void form.drop().then(() => onDone(found));
  });
  const { values } = form;
  const send = () => {
    const problems = [
      ...(values.least.trim() === '' ? [{ field: 'least', message: 'Write the least it showed.' }] : []),
      ...(values.most.trim() === '' ? [{ field: 'most', message: 'Write the most it showed.' }] : []),
    ];
    if (problems.length > 0) return form.show(problems);
    void write.send({
      store: values.store,
      least: values.least,
      most: values.most,
      ...(values.happened === '' ? {} : { happened: values.happened }),
    });
  };
  return (
    <Form
      form={form}
      write={write}
      deed="Write the reading"
      onSend={send}
      onLeave={() => go({ to: 'cabinet' })}
    >
      <Select
        {...form.text('store')}
        label="Store"
        options={stores.map((store) => ({ value: store, label: store }))}
      />
      <Field {...form.text('least')} label="Least, °C" hint="Since it was last set back." size={6} />
      <Field {...form.text('most')} label="Most, °C" size={6} />
      <WhenField {...form.text('happened')} label="When" hint="Left empty, it is now." optional />
      <NextField name="least" />
    </Form>
  );
}

const columns: readonly Column<Reading>[] = [
  {
    key: 'local',
    head: 'When',
    isName: true,
    text: (one) => (one.log === undefined ? one.local : `${one.log.since} to ${one.local}`),
    share: 1.6,
  },
  { key: 'store', head: 'Store', text: (one) => one.store },
  { key: 'least', head: 'Least', text: (one) => `${one.leastC} °C`, isNumber: true },
  { key: 'most', head: 'Most', text: (one) => `${one.mostC} °C`, isNumber: true },
  {
    key: 'outside',
    head: 'Outside the label',
    text: (one) => (one.outside === 0 ? 'nothing' : count(one.outside, 'container', 'containers')),
  },
  {
    key: 'how',
    head: 'By',
    text: ({ log }) => (log === undefined ? 'hand' : `logger, ${count(log.readings, 'reading', 'readings')}`),
  },
];
