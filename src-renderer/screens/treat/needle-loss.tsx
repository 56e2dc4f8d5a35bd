import './treat.css';
import './where.css';
import type { Ask, Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { DeedLink } from '../../parts/deed.tsx';
import { Choice, Field, Select, Ticks } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { go, useParams } from '../../router.tsx';
import { NeedleDrawing, NeedlePlaceFields } from './needle-drawing.tsx';
import { markOf, placeOf } from './needle-values.ts';

type Loss = Reply<'needle-losses'>['losses'][number];
type Finding = Ask<'needle-finding'>['finding'];

const findings: readonly { value: Finding; label: string; hint: string }[] = [
  { value: 'found', label: 'It was found, whole', hint: 'every piece of it; nobody is held any more' },
  { value: 'in-one', label: 'It is in one of them', hint: 'that one stays held, the others are free' },
  {
    value: 'not-in-these',
    label: 'Some were looked at and have none',
    hint: 'by X-ray, metal detector or the vet; those alone are free',
  },
];

/** One report: who is held by it, and the finding that ends it. */
export default function NeedleLossScreen() {
  const { loss } = useParams('treat/needle/:loss');
  const call = useCall('needle-losses', { loss });
  return (
    <Screen
      title="What came of the needle"
      lead="A finding is the only thing that ends the hold. It stands in the book with your name."
      deeds={<DeedLink to="treat/needle">All reports</DeedLink>}
    >
      <Await call={call} what="Reading the report">
        {({ losses: [one] }) => {
          if (one === undefined) return <Empty>This report is not in the book.</Empty>;
          return (
            <>
              <Section title="The report">
                <Sentences label="The report">
                  <Sentence margin={one.noticed} small={`Written by ${one.by}. ${one.note ?? ''}`}>
                    {one.says}
                  </Sentence>
                </Sentences>
                <NeedleDrawing site={one.site ?? ''} side={one.side ?? ''} />
              </Section>
              {one.held.length === 0 ? (
                <Empty>Nobody is held by this report any more.</Empty>
              ) : (
                <>
                  <Section title="Held by it">
                    <Sentences label="Held by it">
                      {one.held.slice(0, 50).map(({ subject, shown, heads }) => (
                        <Sentence
                          key={subject}
                          mind
                          margin="Held"
                          deed={
                            <DeedLink to="flock/subject/:subject" params={{ subject }}>
                              Look at it
                            </DeedLink>
                          }
                        >
                          <strong>{shown}</strong>
                          {heads > 1 ? `, ${count(heads, 'head', 'head')}` : ''} may not go for meat.
                        </Sentence>
                      ))}
                    </Sentences>
                    {one.held.length > 50 ? <p>And {one.held.length - 50} more.</p> : null}
                  </Section>
                  <Section title="What is known now">
                    <FindingForm one={one} />
                  </Section>
                </>
              )}
            </>
          );
        }}
      </Await>
    </Screen>
  );
}

function FindingForm({ one }: { one: Loss }) {
  const form = useForm(`treat/needle/${one.loss}`, {
    finding: '',
    subjects: [] as readonly string[],
    site: one.site ?? '',
    side: one.side ?? '',
    colour: '',
    place: '',
    why: '',
  });
  const write = useWrite('needle-finding', () => void form.drop().then(() => go({ to: 'treat/needle' })));
  const { values } = form;
  const finding = findings.find(({ value }) => value === values.finding)?.value;
  const options = one.held.map(({ subject, shown }) => ({ value: subject, label: shown }));
  const chosen = values.subjects.filter((subject) => options.some(({ value }) => value === subject));
  const send = () => {
    const problems = [
      ...(finding === undefined ? [{ field: 'finding', message: 'Choose what is known.' }] : []),
      ...(finding === 'in-one' && chosen.length !== 1
        ? [{ field: 'subjects', message: 'Name the one it is in.' }]
        : []),
      ...(finding === 'not-in-these' && chosen.length === 0
        ? [{ field: 'subjects', message: 'Name those who were looked at.' }]
        : []),
      ...(values.why.trim() === ''
        ? [{ field: 'why', message: 'Write what was found, where and by whom.' }]
        : []),
    ];
    if (finding === undefined || problems.length > 0) return form.show(problems);
    void write.send({
      loss: one.loss,
      finding,
      why: values.why,
      ...(finding === 'found' ? {} : { subjects: [...chosen] }),
      ...(finding === 'in-one'
        ? { ...placeOf(values.site, values.side), ...markOf(values.colour, values.place) }
        : {}),
    });
  };
  return (
    <Form
      form={form}
      write={write}
      deed="Write the finding"
      onSend={send}
      onLeave={() => go({ to: 'treat/needle' })}
    >
      <Choice {...form.text('finding')} label="What is known" options={findings} />
      {finding === 'in-one' ? (
        <>
          <Select
            name="subjects"
            label="In which"
            value={chosen[0] ?? ''}
            onChange={(subject) => form.set({ subjects: [subject] })}
            error={form.problems.find(({ field }) => field === 'subjects')?.message}
            options={[{ value: '', label: 'Choose' }, ...options]}
          />
          <NeedlePlaceFields
            text={form.text}
            isDrawn={values.site !== (one.site ?? '') || values.side !== (one.side ?? '')}
          />
        </>
      ) : null}
      {finding === 'not-in-these' ? (
        <Ticks {...form.list('subjects')} label="Looked at, and none in them" options={options} />
      ) : null}
      <Field {...form.text('why')} label="What was found, where and by whom" lines={2} size={48} />
    </Form>
  );
}
