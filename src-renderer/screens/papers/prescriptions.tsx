import { useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, Deed, DeedLink } from '../../parts/deed.tsx';
import { Field, Select } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import type { Column } from '../../parts/list-rows.ts';
import { Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { dayInWords } from '../../parts/words.ts';
import { SaidList } from './said-list.tsx';
import { type Prescription, prescriptionWords, sayOption } from './words.ts';

type Prescribed = Reply<'prescriptions'>;
type Without = Prescribed['without'][number];

const columns: readonly Column<Prescription>[] = [
  { key: 'written', head: 'Written', text: (row) => row.written },
  { key: 'number', head: 'Number', text: (row) => row.number },
  { key: 'vet', head: 'Vet', text: (row) => row.vetName },
  { key: 'medicine', head: 'Medicine', text: (row) => row.medicineName },
  { key: 'quantity', head: 'Quantity', text: (row) => row.quantity?.text ?? '' },
  { key: 'drawn', head: 'Came in', text: (row) => row.drawn },
  { key: 'left', head: 'Left', text: (row) => row.left ?? '' },
  { key: 'animals', head: 'Animals', text: (row) => row.animals ?? '' },
  { key: 'dose', head: 'Dose', text: (row) => row.dose ?? '' },
  { key: 'period', head: 'Period', text: (row) => row.period ?? '' },
  { key: 'diagnosis', head: 'Diagnosis', text: (row) => row.diagnosis ?? '' },
  { key: 'until', head: 'Good until', text: (row) => row.validUntil ?? '' },
];

/** Prescriptions as sentences, each with its page, and the deliveries that came without one. */
export function Prescriptions({ title = 'Prescriptions' }: { title?: string }) {
  const call = useCall('prescriptions', {});
  return (
    <Await call={call} what="Reading the prescriptions">
      {({ prescriptions, today, without }) => (
        <>
          <Section title={title} deeds={<CommandDeed id="record-prescription" />}>
            <SaidList
              label="Prescriptions"
              rows={prescriptions}
              columns={columns}
              rowKey={(row) => row.prescription}
              say={(row) => prescriptionWords(row, today)}
              deed={({ prescription, number }) => (
                <DeedLink to="cabinet/prescription/:prescription" params={{ prescription }}>
                  Open {number}
                </DeedLink>
              )}
              empty={
                <Empty>
                  No prescription is on record. Write one down when it comes, and name it when its medicine is
                  taken in.
                </Empty>
              }
            />
          </Section>
          <Gaps without={without} prescriptions={prescriptions} today={today} />
        </>
      )}
    </Await>
  );
}

/** Deliveries that want a prescription and name none, each with the step that mends it. */
function Gaps({ without, prescriptions, today }: Pick<Prescribed, 'without' | 'prescriptions' | 'today'>) {
  const [open, setOpen] = useState<string | undefined>(undefined);
  const named = without.find(({ batch }) => batch === open);
  const fitting = prescriptions.filter(({ medicine }) => medicine === named?.medicine);
  if (without.length === 0) return null;
  return (
    <Section title="Came in without one">
      <Sentences label="Came in without one">
        {without.map((one) => (
          <Sentence
            key={one.batch}
            margin="Gap"
            mind
            deed={
              <Deed onDo={() => setOpen(one.batch)} label={`Name it, batch ${one.number}`}>
                Name it
              </Deed>
            }
          >
            {`${one.amount} of ${one.medicineName}, batch ${one.number}, came in on ${dayInWords(one.on)}.`}
          </Sentence>
        ))}
      </Sentences>
      {named === undefined ? null : fitting.length === 0 ? (
        <Empty
          deed={
            <DeedLink to="cabinet/prescription" query={{ medicine: named.medicine }}>
              Write it down
            </DeedLink>
          }
        >
          No prescription for {named.medicineName} is on record: write it down first.
        </Empty>
      ) : (
        <NameForm
          key={named.batch}
          one={named}
          fitting={fitting}
          today={today}
          onLeave={() => setOpen(undefined)}
        />
      )}
    </Section>
  );
}

function NameForm({
  one,
  fitting,
  today,
  onLeave,
}: {
  one: Without;
  fitting: readonly Prescription[];
  today: string;
  onLeave: () => void;
}) {
  const form = useForm(`prescription/name/${one.batch}`, {
    prescription: fitting.length === 1 ? (fitting[0]?.prescription ?? '') : '',
    reason: '',
  });
  const write = useWrite('name-prescription', () => {
    void form.drop().then(onLeave);
  });
  const { prescription, reason } = form.values;
  const send = () => {
    const problems = [
      ...(prescription === '' ? [{ field: 'prescription', message: 'Choose the prescription.' }] : []),
      ...(reason.trim() === '' ? [{ field: 'reason', message: 'Say why it is named only now.' }] : []),
    ];
    if (problems.length > 0) return form.show(problems);
    void write.send({ batch: one.batch, prescription, reason });
  };
  return (
    <Form form={form} write={write} deed={`Name it with batch ${one.number}`} onSend={send} onLeave={onLeave}>
      <Select
        {...form.text('prescription')}
        label="Prescription"
        options={[
          { value: '', label: 'Choose it' },
          ...fitting.map((paper) => ({ value: paper.prescription, label: sayOption(paper, today) })),
        ]}
      />
      <Field {...form.text('reason')} label="Why it is named only now" lines={2} />
    </Form>
  );
}
