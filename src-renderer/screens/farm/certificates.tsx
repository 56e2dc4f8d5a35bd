import { useState } from 'react';
import type { Ask, Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { DayField } from '../../parts/day-field.tsx';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { Choice, type ChoiceOption, Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { SubjectPicker } from '../../parts/subject-picker.tsx';
import { Told } from '../book/told.tsx';
import { sayLocal } from '../flock/words.ts';

type Farm = Reply<'farm'>;
type Certificate = Reply<'certificates'>['certificates'][number];
type Written = Reply<'set-certificate'>;
type Rules = Ask<'set-certificate'>['rules'];

const RULES: readonly (ChoiceOption & { value: Rules })[] = [
  {
    value: 'eu-organic',
    label: 'Organic, European Union',
    hint: 'a second date: twice the period and at least 48 hours; courses are counted',
  },
  {
    value: 'us-organic',
    label: 'Organic, United States',
    hint: 'an antibiotic ends it; there is no second date',
  },
  { value: 'other', label: 'Another scheme', hint: 'kept here; its rules are not worked out' },
];
const rulesOf = (code: string) => RULES.map((one) => one.value).find((one) => one === code);

/** Certificates of the holding, of animals and of lots. An organic one begins a second clock. */
export default function CertificatesScreen() {
  const farm = useCall('farm', {});
  const call = useCall('certificates', {});
  return (
    <Await call={farm} what="Reading the farm">
      {(value) => (
        <Await call={call} what="Reading the certificates">
          {({ certificates }) => <Page farm={value} certificates={certificates} />}
        </Await>
      )}
    </Await>
  );
}

function Page({ farm, certificates }: { farm: Farm; certificates: readonly Certificate[] }) {
  const [changed, setChanged] = useState<Certificate>();
  const [written, setWritten] = useState<Written>();
  return (
    <Screen
      title="Certificates"
      lead="Treatments on days when an organic certificate is valid get two dates: clear for food, and clear as organic."
      deeds={<DeedLink to="farm/organic">Organic courses, and what is left out</DeedLink>}
    >
      {written === undefined ? null : <WrittenNow written={written} />}
      <Section title="On record">
        {certificates.length === 0 ? (
          <Empty>No certificate is on record. Without one there is no organic date.</Empty>
        ) : (
          <Sentences label="Certificates">
            {certificates.map((one) => (
              <Sentence
                key={one.certificate}
                mind={one.waiting !== undefined}
                margin={one.waiting === undefined ? one.shown : 'Too short'}
                small={`${one.waiting === undefined ? '' : `${one.waiting.says} `}From ${sayLocal(one.from)}${one.until === undefined ? '' : ` to ${sayLocal(one.until)}`}. ${RULES.find(({ value }) => value === one.rules)?.label ?? ''}.`}
                deed={<Deed onDo={() => setChanged(one)}>Change {one.name}</Deed>}
              >
                <strong>{one.name}</strong>
                {one.number === undefined ? '' : `, ${one.number}`}
                {one.waiting === undefined ? '' : `, of ${one.shown}`}
              </Sentence>
            ))}
          </Sentences>
        )}
        <Standings />
      </Section>
      <Section title={changed === undefined ? 'Add one' : `Change ${changed.name}`}>
        <CertificateForm
          key={changed?.certificate ?? 'new'}
          farm={farm}
          before={changed}
          onDone={(reply) => {
            setChanged(undefined);
            setWritten(reply);
          }}
        />
      </Section>
    </Screen>
  );
}

/** What follows from a certificate that was just written: whom to tell, who waits longer than it lasts, what stays. */
function WrittenNow({ written: { notices, says } }: { written: Written }) {
  return (
    <>
      <Notice kind="done" word="Written">
        <p>
          Treatments in the book keep the dates that were worked out for them.{' '}
          <DeedLink to="book/check">Look which of them today’s rules would decide otherwise</DeedLink>
        </p>
      </Notice>
      {says === undefined ? null : (
        <Notice kind="mind" word="Too short">
          <p>{says}</p>
        </Notice>
      )}
      <Told notices={notices} />
    </>
  );
}

/** Who would lose organic status with one more course, or has. */
function Standings() {
  const call = useCall('organic-standing', { onlyWarned: true });
  if (call.state !== 'ready' || call.value.rows.length === 0) return null;
  return (
    <Sentences label="Courses">
      {call.value.rows.slice(0, 50).map((row) => (
        <Sentence
          key={row.subject}
          margin={row.isLost ? 'Lost' : 'Last one'}
          mind={row.isLost}
          deed={
            <DeedLink to="flock/subject/:subject" params={{ subject: row.subject }}>
              Open
            </DeedLink>
          }
        >
          <strong>{row.shown}</strong>: {row.text}
        </Sentence>
      ))}
    </Sentences>
  );
}

function CertificateForm({
  farm,
  before,
  onDone,
}: {
  farm: Farm;
  before: Certificate | undefined;
  onDone: (written: Written) => void;
}) {
  const holding = farm.holdings[0];
  const whole = holding === undefined ? undefined : { of: `holding:${holding.holding}`, shown: holding.name };
  const [of, setOf] = useState(before ?? whole);
  const form = useForm(`farm/certificates/${before?.certificate ?? ''}`, {
    rules: before?.rules ?? '',
    name: before?.name ?? '',
    number: before?.number ?? '',
    from: before?.from ?? '',
    until: before?.until ?? '',
  });
  const write = useWrite('set-certificate', (reply) => {
    void form.drop().then(() => onDone(reply));
  });
  const send = () => {
    const { name, number, from, until } = form.values;
    const rules = rulesOf(form.values.rules);
    const problems = [
      ...(rules === undefined ? [{ field: 'rules', message: 'Choose whose rules it stands for.' }] : []),
      ...(name.trim() === '' ? [{ field: 'name', message: 'Write what the certificate is called.' }] : []),
      ...(from === '' ? [{ field: 'from', message: 'Write the first day on which it is valid.' }] : []),
    ];
    if (rules === undefined || of === undefined || problems.length > 0) return form.show(problems);
    void write.send({
      of: of.of,
      rules,
      name,
      from,
      ...(before === undefined ? {} : { certificate: before.certificate }),
      ...withoutEmpty({ number: number.trim(), until }),
    });
  };
  return (
    <Form form={form} write={write} deed="Write the certificate" onSend={send}>
      <SubjectPicker
        name="of"
        label="Of one animal or lot alone"
        hint={`It covers ${of?.shown ?? 'nothing yet'}. Name one here if it is for that one alone.`}
        onPick={(row) => setOf({ of: row.subject, shown: row.shown })}
      />
      <Choice {...form.text('rules')} label="Whose rules" options={RULES} />
      <Field {...form.text('name')} label="Name of the certificate" />
      <Field {...form.text('number')} label="Number" optional size={20} />
      <DayField {...form.text('from')} label="Valid from" />
      <DayField {...form.text('until')} label="Valid to" optional hint="The last day of it." />
    </Form>
  );
}
