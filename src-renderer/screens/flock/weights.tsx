import { useCallback, useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import type { WEIGH_COLUMNS } from '../../../src-shared/calls/flock.ts';
import { desk } from '../../desk.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { CommandDeed, Deed, DeedLink } from '../../parts/deed.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { count } from '../../parts/words.ts';
import { FileBox, PreviewParts, Taken } from './import-parts.tsx';
import { type PreviewState, usePreview } from './use-preview.ts';

const columnNames: Readonly<Record<(typeof WEIGH_COLUMNS)[number], string>> = {
  identity: 'Tag, chip or number',
  weight: 'Weight',
  on: 'Day',
  time: 'Time',
  note: 'Note',
};

/** A weight that no sheep has and one far from the last are two questions: the answer to one is none to the other. */
const asking = { jumps: 'ask' } as const;

/** Brings in the weights a crate or scale wrote down: chosen, looked at, asked about, and only then taken. */
export default function WeightsScreen() {
  const ask = useCallback(
    (token: string, columns: Readonly<Record<string, number>>, options: object) =>
      desk.call('preview-weighings', { file: { token }, columns, options: { ...asking, ...options } }),
    [],
  );
  const state = usePreview(ask);
  const [taken, setTaken] = useState<Reply<'import-weighings'> | undefined>(undefined);
  const again = () => {
    setTaken(undefined);
    state.choose(undefined);
  };
  return (
    <Screen
      title="Bring in weights from the crate"
      lead="A file with a line for each weighing. Nothing is written before you have seen what would come of each line."
    >
      {taken !== undefined ? (
        <Taken
          what={`${count(taken.totals.taken, 'weight is', 'weights are')} in the book.`}
          totals={taken.totals}
          refused={taken.refused}
        >
          <DeedLink to="flock">See the flock</DeedLink> <Deed onDo={again}>Bring in another file</Deed>{' '}
          <CommandDeed id="imports" />
        </Taken>
      ) : (
        <>
          <FileBox
            label="The file"
            hint="The first line names the columns. A number of the animal and a weight are what is needed."
            onChosen={state.choose}
          />
          {state.file === undefined ? null : (
            <>
              <PreviewParts state={state} columnNames={columnNames} />
              <Take key={state.file.token} state={state} onTaken={setTaken} />
            </>
          )}
        </>
      )}
    </Screen>
  );
}

function Take({
  state,
  onTaken,
}: {
  state: PreviewState;
  onTaken: (reply: Reply<'import-weighings'>) => void;
}) {
  const form = useForm('flock/weights', {});
  const write = useWrite('import-weighings', onTaken);
  const { outcome, file } = state;
  if (outcome === undefined || !outcome.ok || file === undefined) return null;
  const { totals } = outcome.value;
  const send = () => {
    if (outcome.value.questions.length > 0) {
      return form.show([{ message: 'Answer the questions above first; no line is taken before.' }]);
    }
    if (totals.taken === 0) return form.show([{ message: 'No line of this file can be taken.' }]);
    void write.send({
      file: { token: file.token },
      columns: state.columns,
      options: { ...asking, ...state.options },
    });
  };
  return (
    <Section title="Take them">
      <Form
        form={form}
        write={write}
        deed={totals.taken === 0 ? 'Take them in' : `Take ${count(totals.taken, 'weight', 'weights')} in`}
        onSend={send}
      >
        {null}
      </Form>
    </Section>
  );
}
