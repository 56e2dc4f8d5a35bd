import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { DayField } from '../../parts/day-field.tsx';
import { Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen } from '../../parts/screen.tsx';
import { go } from '../../router.tsx';
import { firstVet, type Person, VetField, WithVets } from '../papers/vets.tsx';

const toPage = () => go({ to: 'book/vet' });

/** Writes down that the vet was here. */
export default function VisitScreen() {
  const farm = useCall('farm', {});
  return (
    <Screen title="The vet was here" lead="The next page for the vet begins on this day.">
      <WithVets>
        {(vets) => (
          <Await call={farm} what="Reading the farm">
            {(value) => <VisitForm vets={vets} today={value.clock.today} />}
          </Await>
        )}
      </WithVets>
    </Screen>
  );
}

function VisitForm({ vets, today }: { vets: readonly Person[]; today: Reply<'farm'>['clock']['today'] }) {
  const form = useForm('book/vet/visit', {
    vet: firstVet(vets),
    happened: today,
    what: '',
    found: '',
    next: '',
  });
  const write = useWrite('record-vet-visit', () => void form.drop().then(toPage));
  const send = () => {
    const { vet, what, found, happened, next } = form.values;
    const problems = [
      ...(vet === '' ? [{ field: 'vet', message: 'Choose the vet.' }] : []),
      ...(happened === '' ? [{ field: 'happened', message: 'Write the day.' }] : []),
      ...(what.trim() === '' ? [{ field: 'what', message: 'Write what the visit was for.' }] : []),
    ];
    if (problems.length > 0) return form.show(problems);
    void write.send({
      vet,
      what,
      ...withoutEmpty({ found, next }),
      ...(happened === today ? {} : { happened }),
    });
  };
  return (
    <Form form={form} write={write} deed="Write it in the book" onSend={send} onLeave={toPage}>
      <VetField {...form.text('vet')} vets={vets} />
      <DayField {...form.text('happened')} label="On" />
      <Field
        {...form.text('what')}
        label="What for"
        hint="As in flock health review, lame ewes, pregnancy scanning."
        size={36}
      />
      <Field {...form.text('found')} label="What was found and agreed" lines={4} size={44} optional />
      <DayField {...form.text('next')} label="Next visit" optional />
    </Form>
  );
}
