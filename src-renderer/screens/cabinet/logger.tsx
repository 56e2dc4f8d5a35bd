import './cabinet.css';
import { useMemo, useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import type { LOGGER_COLUMNS } from '../../../src-shared/calls/storage.ts';
import { desk } from '../../desk.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, Deed, DeedLink } from '../../parts/deed.tsx';
import { Select } from '../../parts/field.tsx';
import { FileBox, TABLE_FILES } from '../../parts/file-box.tsx';
import { Form } from '../../parts/form.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { PreviewParts, Taken } from '../flock/import-parts.tsx';
import { usePreview } from '../flock/use-preview.ts';
import { SeriesSays } from './series-says.tsx';
import { StorageOutcome } from './storage-outcome.tsx';

type Looked = Reply<'preview-logger'>;

const columnNames: Readonly<Record<(typeof LOGGER_COLUMNS)[number], string>> = {
  at: 'Day, with or without the time',
  time: 'Time',
  degrees: 'Temperature',
};

const lineWords = { head: 'Reading', rest: 'Lines that are taken are not listed.' };

/** A file is small beside what the desk takes, and it is kept in the book. */
const MOST_MB = 10;

const lookIn =
  (store: string) => (token: string, columns: Readonly<Record<string, number>>, options: object) =>
    desk.call('preview-logger', {
      file: { token },
      columns,
      options,
      ...(store === '' ? {} : { store }),
    });

/** Brings in what a logger wrote down in a store: chosen, looked at, asked about, and only then taken. */
export default function LoggerScreen() {
  const call = useCall('storage-log', {});
  return (
    <Screen
      title="Bring in a logger’s file"
      lead="What the logger in a fridge or cupboard wrote down, as it saved it. Nothing is written before you have seen what it says."
    >
      <Await call={call} what="Reading the log">
        {({ stores }) =>
          stores.length === 0 ? (
            <Empty deed={<CommandDeed id="receive-batch" />}>
              No container says where it is kept. Write it when the next delivery is taken in.
            </Empty>
          ) : (
            <LoggerFile stores={stores} />
          )
        }
      </Await>
    </Screen>
  );
}

function LoggerFile({ stores }: { stores: readonly string[] }) {
  const form = useForm('cabinet/logger', { store: stores.length === 1 ? (stores[0] ?? '') : '' });
  const [taken, setTaken] = useState<Reply<'take-logger'> | undefined>(undefined);
  const { store } = form.values;
  // The same file means something else for another store.
  const look = useMemo(() => lookIn(store), [store]);
  const state = usePreview<Looked>(look);
  const write = useWrite('take-logger', setTaken);
  if (taken !== undefined) {
    return (
      <Came
        taken={taken}
        onMore={() => {
          setTaken(undefined);
          state.choose(undefined);
        }}
      />
    );
  }
  const { outcome, file } = state;
  const looked = outcome?.ok === true ? outcome.value : undefined;
  const send = () => {
    if (store === '') return form.show([{ field: 'store', message: 'Choose the store it lay in.' }]);
    if (looked === undefined || file === undefined) {
      return form.show([{ message: 'Choose the file first.' }]);
    }
    if (looked.questions.length > 0) {
      return form.show([{ message: 'Answer the questions above first; no line is taken before.' }]);
    }
    void write.send({ store, file: { token: file.token }, columns: state.columns, options: state.options });
  };
  return (
    <>
      <FileBox
        label="The file"
        hint="Lines with a day, a time and a temperature, as most loggers save them for a spreadsheet."
        accept={TABLE_FILES}
        mostMb={MOST_MB}
        onChosen={state.choose}
      />
      {file === undefined ? null : (
        <>
          {looked?.series === undefined ? null : <SeriesSays series={looked.series} />}
          <PreviewParts state={state} columnNames={columnNames} lines={lineWords} />
          {looked === undefined ? null : (
            <Section title="Take it">
              <Form
                form={form}
                write={write}
                deed={`Take ${count(looked.totals.taken, 'reading', 'readings')} in`}
                onSend={send}
              >
                <Select
                  {...form.text('store')}
                  label="Store it lay in"
                  options={[
                    { value: '', label: 'Choose it' },
                    ...stores.map((one) => ({ value: one, label: one })),
                  ]}
                />
                {looked.follows === undefined ? null : (
                  <StorageOutcome found={looked.follows} isWritten={false} />
                )}
              </Form>
            </Section>
          )}
        </>
      )}
    </>
  );
}

function Came({ taken, onMore }: { taken: Reply<'take-logger'>; onMore: () => void }) {
  return (
    <>
      <Taken
        what={`${count(taken.series.readings, 'reading is', 'readings are')} in the book.`}
        totals={taken.totals}
        refused={taken.refused}
      >
        <DeedLink to="cabinet/storage">See the thermometers</DeedLink>{' '}
        <Deed onDo={onMore}>Bring in another file</Deed>
      </Taken>
      <StorageOutcome found={taken} />
      <SeriesSays series={taken.series} />
      <Notice>
        <p>The file itself is kept with it in the book.</p>
      </Notice>
    </>
  );
}
