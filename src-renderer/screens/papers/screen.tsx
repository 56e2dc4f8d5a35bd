import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, DeedLink } from '../../parts/deed.tsx';
import type { Column } from '../../parts/list-rows.ts';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { Prescriptions } from './prescriptions.tsx';
import { SaidList } from './said-list.tsx';
import { type Instruction, instructionWords, PRODUCE_WORDS, sayPeriod } from './words.ts';

const instructionColumns: readonly Column<Instruction>[] = [
  { key: 'given', head: 'Day', text: (row) => row.given },
  { key: 'vet', head: 'Vet', text: (row) => row.vetName },
  { key: 'form', head: 'Told or written', text: (row) => row.form },
  { key: 'medicine', head: 'Medicine', text: (row) => row.medicineName ?? '' },
  { key: 'what', head: 'What', text: (row) => row.what },
  { key: 'subjects', head: 'Animals', text: (row) => row.subjectNames.join('; ') },
  {
    key: 'periods',
    head: 'Periods',
    text: (row) =>
      row.periods.map((one) => `${PRODUCE_WORDS[one.produce]} ${sayPeriod(one.period)}`).join('; '),
  },
  { key: 'reason', head: 'Why', text: (row) => row.reason },
  { key: 'until', head: 'Good until', text: (row) => row.validUntil ?? '' },
];

/** What the vet ordered and prescribed, as it is on record. */
export default function PapersScreen() {
  const papers = useCall('papers', {});
  const farm = useCall('farm', {});
  return (
    <Screen
      title="The vet's papers"
      lead="What the vet ordered and prescribed, kept beside the treatments for whoever inspects the book."
    >
      <Await call={farm} what="Reading the calendar">
        {({ clock }) => (
          <Await call={papers} what="Reading the papers">
            {(value) => <Papers papers={value} today={clock.today} />}
          </Await>
        )}
      </Await>
    </Screen>
  );
}

function Papers({ papers, today }: { papers: Reply<'papers'>; today: string }) {
  return (
    <>
      <Section title="Instructions" deeds={<CommandDeed id="record-instruction" />}>
        <SaidList
          label="Instructions"
          rows={papers.instructions}
          columns={instructionColumns}
          rowKey={(row) => row.instruction}
          say={(row) => instructionWords(row, today)}
          deed={(row) => (
            <DeedLink to="treat/instruction/:instruction" params={{ instruction: row.instruction }}>
              Open it
            </DeedLink>
          )}
          empty={
            <Empty>
              No instruction is on record. When the vet orders another dose or a longer period than the label
              says, write it down before you treat.
            </Empty>
          }
        />
      </Section>
      <Prescriptions />
    </>
  );
}
