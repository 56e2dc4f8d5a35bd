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
import { Notice } from '../../parts/notice.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { go } from '../../router.tsx';
import { NextField } from '../label/next-field.tsx';

type Reading = Reply<'storage-log'>['readings'][number];
type Found = Reply<'record-storage'>;

/** Writes down what the thermometer of a store showed, says what that means, and lists what it showed before. */
export default function StorageScreen() {
  const call = useCall('storage-log', {});
  const [found, setFound] = useState<Found | undefined>(undefined);
  return (
    <Screen
      title="Thermometers"
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
              {found === undefined ? null : <Outcome found={found} />}
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
                  empty={<p className="cabinet-none">No thermometer was written down yet.</p>}
                />
              </Section>
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

/** What follows from a reading: what was set aside, and who got it, by name. */
function Outcome({ found }: { found: Found }) {
  const { says, setAside, given } = found;
  const isBad = setAside.length > 0 || given.length > 0;
  return (
    <>
      <Notice kind={isBad ? 'mind' : 'done'}>
        {says.map((text) => (
          <p key={text}>{text}</p>
        ))}
      </Notice>
      {setAside.length === 0 ? null : (
        <Section title="Set aside">
          <List
            rows={setAside}
            columns={asideColumns}
            rowKey={(one) => one.container}
            label="Set aside"
            onOpen={({ container }) => go({ to: 'cabinet/container/:container', params: { container } })}
            empty={<p className="cabinet-none">None.</p>}
          />
        </Section>
      )}
      {given.length === 0 ? null : (
        <Section title="Who got it">
          <List
            rows={given.map((one, n) => ({ ...one, n }))}
            columns={givenColumns}
            rowKey={(one) => String(one.n)}
            label="Who got it"
            onOpen={({ subject }) => go({ to: 'flock/subject/:subject', params: { subject } })}
            fileName="given since the last good reading"
            empty={<p className="cabinet-none">Nobody.</p>}
          />
        </Section>
      )}
    </>
  );
}

const asideColumns: readonly Column<Found['setAside'][number]>[] = [
  { key: 'label', head: 'Container no.', isName: true, text: (one) => one.label },
  { key: 'name', head: 'Medicine', text: (one) => one.name },
];

const givenColumns: readonly Column<Found['given'][number] & { n: number }>[] = [
  { key: 'shown', head: 'Animal or lot', isName: true, text: (one) => one.shown },
  { key: 'name', head: 'Medicine', text: (one) => one.name },
  { key: 'on', head: 'When', text: (one) => one.on, order: (one) => one.n },
];

const columns: readonly Column<Reading>[] = [
  { key: 'local', head: 'When', text: (one) => one.local },
  { key: 'store', head: 'Store', text: (one) => one.store },
  { key: 'least', head: 'Least', text: (one) => `${one.leastC} °C`, isNumber: true },
  { key: 'most', head: 'Most', text: (one) => `${one.mostC} °C`, isNumber: true },
  {
    key: 'outside',
    head: 'Outside the label',
    text: (one) => (one.outside === 0 ? 'nothing' : `${one.outside}`),
  },
];
