import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { DayField } from '../../parts/day-field.tsx';
import { Choice, Field, Select } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen } from '../../parts/screen.tsx';
import { count } from '../../parts/words.ts';
import { go, useParams } from '../../router.tsx';
import { headsOf, type SubjectPage, sayClass } from './words.ts';

type Lots = Reply<'lots'>['lots'];

/** Moves heads out of a lot: into a lot of their own, into another one, or one head that gets a tag. */
export default function HeadsScreen() {
  const { subject } = useParams('flock/subject/:subject/heads');
  const call = useCall('subject', { subject });
  const lots = useCall('lots', {});
  return (
    <Await call={lots} what="Reading the lots">
      {(list) => (
        <Await call={call} what="Opening the page">
          {(page) => (
            <Screen
              title={`Move heads out of ${page.who.shown}`}
              lead={`${count(page.who.heads, 'head', 'head')} in it. Every withdrawal goes with them.`}
            >
              <HeadsForm page={page} lots={list.lots.filter((lot) => lot.subject !== subject)} />
            </Screen>
          )}
        </Await>
      )}
    </Await>
  );
}

function HeadsForm({ page, lots }: { page: SubjectPage; lots: Lots }) {
  const { subject, heads: there } = page.who;
  const back = () => go({ to: 'flock/subject/:subject', params: { subject } });
  const form = useForm(`flock/heads/${subject}`, {
    where: 'new',
    heads: '',
    to: '',
    lot: '',
    tag: '',
    chip: '',
    management: '',
    happened: '',
  });
  const { values } = form;
  const write = useWrite('move-heads', ({ to }) => {
    void form.drop().then(() => go({ to: 'flock/subject/:subject', params: { subject: to } }));
  });
  const heads = values.where === 'tagged' ? 1 : headsOf(values.heads);

  const send = () => {
    const problems = [
      ...(heads === undefined || heads === 0
        ? [{ field: 'heads', message: `Write how many heads move, from 1 to ${there}.` }]
        : []),
      ...(values.where === 'new' && values.to.trim() === ''
        ? [{ field: 'to', message: 'Give the new lot a name.' }]
        : []),
      ...(values.where === 'lot' && values.lot === ''
        ? [{ field: 'lot', message: 'Choose the lot they go into.' }]
        : []),
    ];
    if (heads === undefined || problems.length > 0) return form.show(problems);
    const to =
      values.where === 'new'
        ? { newLot: values.to }
        : values.where === 'lot'
          ? { lot: values.lot.slice('lot:'.length) }
          : withoutEmpty({
              tag: values.tag.trim(),
              chip: values.chip.trim(),
              management: values.management.trim(),
            });
    void write.send({
      from: subject.slice('lot:'.length),
      heads,
      to,
      ...withoutEmpty({ happened: values.happened }),
    });
  };

  return (
    <Form form={form} write={write} deed="Move them" onLeave={back} onSend={send}>
      <Choice
        {...form.text('where')}
        label="Where they go"
        options={[
          { value: 'new', label: 'Into a lot of their own', hint: 'the lot is split' },
          ...(lots.length === 0
            ? []
            : [{ value: 'lot', label: 'Into another lot', hint: 'the two are merged' }]),
          {
            value: 'tagged',
            label: 'One head gets a tag or number',
            hint: 'from then on it is a named animal',
          },
        ]}
      />
      {values.where === 'tagged' ? (
        <>
          <Field
            {...form.text('tag')}
            label="Tag"
            optional
            hint="Or read the chip into this box."
            size={24}
          />
          <Field {...form.text('chip')} label="Chip" optional inputMode="numeric" size={20} />
          <Field {...form.text('management')} label="Own number" optional size={12} />
        </>
      ) : (
        <Field
          {...form.text('heads')}
          label="How many heads"
          inputMode="numeric"
          size={8}
          {...(heads === undefined || heads > there
            ? {}
            : { readBack: `${count(there - heads, 'head stays', 'heads stay')} behind.` })}
        />
      )}
      {values.where === 'new' ? <Field {...form.text('to')} label="Name of the new lot" /> : null}
      {values.where === 'lot' ? (
        <Select
          {...form.text('lot')}
          label="Into which lot"
          options={[
            { value: '', label: 'Choose one' },
            ...lots.map((lot) => ({
              value: lot.subject,
              label: `${lot.shown} (${count(lot.heads, 'head', 'head')}, ${sayClass(lot.class)})`,
            })),
          ]}
        />
      ) : null}
      <DayField {...form.text('happened')} label="On" optional hint="Left empty it counts from now." />
    </Form>
  );
}
