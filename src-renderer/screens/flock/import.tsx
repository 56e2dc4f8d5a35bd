import type { Reply } from '../../../src-shared/calls/all.ts';
import type { ANIMAL_COLUMNS } from '../../../src-shared/calls/flock.ts';
import { desk } from '../../desk.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { Choice } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Section } from '../../parts/screen.tsx';
import { count } from '../../parts/words.ts';
import { FileImport } from './file-import.tsx';
import { type Farm, firstHolding, HoldingField } from './holding-field.tsx';
import { Sample } from './sample.tsx';
import type { PreviewState } from './use-preview.ts';
import { standingOf, standingOptions } from './words.ts';

const columnNames: Readonly<Record<(typeof ANIMAL_COLUMNS)[number], string>> = {
  tag: 'Tag',
  chip: 'Chip',
  management: 'Own number',
  class: 'Class',
  sex: 'Sex',
  born: 'Born',
  dam: 'Dam',
  group: 'Group',
  weight: 'Weight',
  weighedOn: 'Weighed on',
  from: 'Came from',
  note: 'Note',
};

const look = (token: string, columns: Readonly<Record<string, number>>, options: object) =>
  desk.call('preview-animals', { file: { token }, columns, options });

/** Brings in a flock list as a file: chosen, looked at, asked about, and only then taken. */
export default function ImportScreen() {
  const farm = useCall('farm', {});
  return (
    <FileImport<Reply<'import-animals'>>
      title="Bring in a flock file"
      lead="A list with a line for each animal, saved from a spreadsheet as CSV. Nothing is written before you have seen what would come of each line."
      hint="The first line names the columns. Tag, chip or own number, and the class, are what is needed."
      columnNames={columnNames}
      ask={look}
      sample={<Sample />}
      sayTaken={(taken) => `${count(taken, 'animal is', 'animals are')} in the book.`}
      take={(state, onTaken) => (
        <Await call={farm} what="Reading the farm">
          {(value) => <Take key={state.file?.token} farm={value} state={state} onTaken={onTaken} />}
        </Await>
      )}
    />
  );
}

function Take({
  farm,
  state,
  onTaken,
}: {
  farm: Farm;
  state: PreviewState;
  onTaken: (reply: Reply<'import-animals'>) => void;
}) {
  const form = useForm('flock/import', { holding: firstHolding(farm), standing: '' });
  const write = useWrite('import-animals', (reply) => {
    void form.drop().then(() => onTaken(reply));
  });
  const { outcome, file } = state;
  if (outcome === undefined || !outcome.ok || file === undefined) return null;
  const { totals } = outcome.value;
  const send = () => {
    const standing = standingOf(form.values.standing);
    const problems = [
      ...(outcome.value.questions.length > 0
        ? [{ message: 'Answer the questions above first; no line is taken before.' }]
        : totals.taken === 0
          ? [{ message: 'No line of this file can be taken.' }]
          : []),
      ...(standing === undefined
        ? [{ field: 'standing', message: 'Say what is known of earlier treatments.' }]
        : []),
    ];
    if (standing === undefined || problems.length > 0) return form.show(problems);
    void write.send({
      holding: form.values.holding,
      file: { token: file.token },
      columns: state.columns,
      options: state.options,
      standing,
    });
  };
  return (
    <Section title="Take them">
      <Form
        form={form}
        write={write}
        deed={totals.taken === 0 ? 'Take them in' : `Take ${count(totals.taken, 'animal', 'animals')} in`}
        onSend={send}
      >
        <HoldingField farm={farm} {...form.text('holding')} />
        <Choice
          {...form.text('standing')}
          label="Earlier treatments of these animals"
          options={standingOptions}
        />
      </Form>
    </Section>
  );
}
