import type { Reply } from '../../../src-shared/calls/all.ts';
import type { WEIGH_COLUMNS } from '../../../src-shared/calls/flock.ts';
import { desk } from '../../desk.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Form } from '../../parts/form.tsx';
import { Section } from '../../parts/screen.tsx';
import { count } from '../../parts/words.ts';
import { FileImport } from './file-import.tsx';
import type { PreviewState } from './use-preview.ts';

const columnNames: Readonly<Record<(typeof WEIGH_COLUMNS)[number], string>> = {
  identity: 'Tag, chip or number',
  weight: 'Weight',
  on: 'Day',
  time: 'Time',
  note: 'Note',
};

/** A weight that no sheep has and one far from the last are two questions: the answer to one is none to the other. */
const asking = { jumps: 'ask' } as const;

const look = (token: string, columns: Readonly<Record<string, number>>, options: object) =>
  desk.call('preview-weighings', { file: { token }, columns, options: { ...asking, ...options } });

/** Brings in the weights a crate or scale wrote down: chosen, looked at, asked about, and only then taken. */
export default function WeightsScreen() {
  return (
    <FileImport<Reply<'import-weighings'>>
      title="Bring in weights from the crate"
      lead="A file with a line for each weighing. Nothing is written before you have seen what would come of each line."
      hint="The first line names the columns. A number of the animal and a weight are what is needed."
      columnNames={columnNames}
      ask={look}
      sayTaken={(taken) => `${count(taken, 'weight is', 'weights are')} in the book.`}
      take={(state, onTaken) => <Take key={state.file?.token} state={state} onTaken={onTaken} />}
    />
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
