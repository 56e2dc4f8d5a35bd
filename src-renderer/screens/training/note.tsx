import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { DayField } from '../../parts/day-field.tsx';
import { Choice, Field, Select } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen } from '../../parts/screen.tsx';
import { go, useLocation } from '../../router.tsx';

type Farm = Reply<'farm'>;

const toList = () => go({ to: 'farm/training' });
const kinds = [
  'Giving medicine by injection',
  'Giving medicine by mouth',
  'Using the dosing gun',
  'Weighing and working out a dose',
  'Keeping the medicine book',
  'Storing medicines and disposing of them',
  'What to do when a person is injected',
];

/** Notes what somebody was taught or seen to do well. */
export default function NoteTrainingScreen() {
  const farm = useCall('farm', {});
  return (
    <Screen title="Note training or competence">
      <Await call={farm} what="Reading the people">
        {(value) => <NoteForm farm={value} />}
      </Await>
    </Screen>
  );
}

function NoteForm({ farm }: { farm: Farm }) {
  const { query } = useLocation();
  const form = useForm(`farm/training/${query.person ?? ''}/${query.what ?? ''}`, {
    person: query.person ?? '',
    what: query.what ?? '',
    how: 'taught',
    with: '',
    happened: farm.clock.today,
    reviewOn: '',
    proof: '',
    note: '',
  });
  const write = useWrite('note-training', () => void form.drop().then(toList));
  const send = () => {
    const { person, what, how, with: by, happened, reviewOn, proof, note } = form.values;
    const problems = [
      ...(person === '' ? [{ field: 'person', message: 'Choose who it was.' }] : []),
      ...(what.trim() === '' ? [{ field: 'what', message: 'Write what it was about.' }] : []),
      ...(by.trim() === '' ? [{ field: 'with', message: 'Write who taught it, or saw it.' }] : []),
      ...(happened === '' ? [{ field: 'happened', message: 'Write the day.' }] : []),
    ];
    if (problems.length > 0) return form.show(problems);
    void write.send({
      person,
      what,
      how: how === 'seen' ? 'seen' : 'taught',
      with: by,
      ...(happened === farm.clock.today ? {} : { happened }),
      ...withoutEmpty({ reviewOn, proof, note }),
    });
  };
  return (
    <Form form={form} write={write} deed="Write it in the book" onSend={send} onLeave={toList}>
      <Select
        {...form.text('person')}
        label="Who"
        hint="Somebody new is added under Farm first, as a person."
        options={[
          { value: '', label: 'Choose' },
          ...farm.people
            .filter(({ active }) => active)
            .map(({ person, name }) => ({ value: person, label: name })),
        ]}
      />
      <Field {...form.text('what')} label="What" list={kinds} size={36} />
      <Choice
        {...form.text('how')}
        label="How"
        options={[
          { value: 'taught', label: 'Taught', hint: 'a course, or by somebody who knows' },
          { value: 'seen', label: 'Seen', hint: 'somebody watched it being done well' },
        ]}
      />
      <Field {...form.text('with')} label="By whom" size={28} />
      <DayField {...form.text('happened')} label="On" />
      <DayField {...form.text('reviewOn')} label="Look again on" optional />
      <Field
        {...form.text('proof')}
        label="Proof"
        hint="Number of a certificate, or where it is kept."
        size={28}
        optional
      />
      <Field {...form.text('note')} label="Note" lines={2} size={44} optional />
    </Form>
  );
}
