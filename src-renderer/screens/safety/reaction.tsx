import type { Reply } from '../../../src-shared/calls/all.ts';
import { OUTCOME_WORDS, REACTION_WORDS } from '../../../src-shared/safety/words.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { WhenField } from '../../parts/day-field.tsx';
import { Choice, Field, Select } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen } from '../../parts/screen.tsx';
import { go, useParams } from '../../router.tsx';
import { codeOf, optionsOf } from './words.ts';

const NOW = 'now';

/** Writes down a reaction to one treatment, or that it had no effect. */
export default function ReactionScreen() {
  const { administration } = useParams('book/reaction/:administration');
  const call = useCall('treatment', { administration });
  return (
    <Await call={call} what="Opening the treatment">
      {(line) => <Report line={line} />}
    </Await>
  );
}

function Report({ line }: { line: Reply<'treatment'> }) {
  const { administration } = line;
  const now = line.versions.at(-1);
  const form = useForm(`safety/reaction/${administration}`, {
    what: 'reaction',
    heads: '',
    seen: '',
    when: NOW,
    happened: '',
    outcome: 'not-known',
    done: '',
    told: '',
  });
  const back = () => go({ to: 'book/treatment/:administration', params: { administration } });
  const write = useWrite('record-reaction', () => {
    void form.drop().then(back);
  });
  const { values } = form;
  const heads = now?.heads ?? 1;
  const send = () => {
    const what = codeOf(REACTION_WORDS, values.what);
    const outcome = codeOf(OUTCOME_WORDS, values.outcome);
    const counted = values.heads.trim();
    const problems = [
      ...(values.seen.trim() === '' ? [{ field: 'seen', message: 'Write what was seen.' }] : []),
      ...(values.when !== NOW && values.happened === ''
        ? [{ field: 'happened', message: 'Write when it was seen.' }]
        : []),
      ...(counted === '' || /^[1-9]\d{0,6}$/.test(counted)
        ? []
        : [{ field: 'heads', message: 'Write how many head, as a whole number.' }]),
    ];
    if (problems.length > 0 || what === undefined || outcome === undefined) return form.show(problems);
    const { seen, done, told, when, happened } = values;
    void write.send({
      administration,
      what,
      seen,
      outcome,
      ...withoutEmpty({ done, told }),
      ...(counted === '' ? {} : { heads: Number(counted) }),
      ...(when === NOW ? {} : { happened }),
    });
  };
  return (
    <Screen
      title="A reaction, or no effect"
      lead={
        now === undefined
          ? undefined
          : `${now.product}, batch ${now.batch === '' ? 'not known' : now.batch}, given to ${now.shown}. Ring the vet first when the animal is ill.`
      }
    >
      <Form form={form} write={write} deed="Write it in the book" onSend={send} onLeave={back}>
        <Choice
          {...form.text('what')}
          label="What it is"
          options={[
            { value: 'reaction', label: 'A reaction', hint: 'it came from the treatment' },
            { value: 'suspected', label: 'Suspected', hint: 'it may have come from it' },
            { value: 'no-effect', label: 'No effect', hint: 'it did not do what it was given for' },
          ]}
        />
        {heads > 1 ? (
          <Field
            {...form.text('heads')}
            label="How many head"
            hint={`Of ${heads} that were treated.`}
            size={6}
            inputMode="numeric"
            optional
          />
        ) : null}
        <Field {...form.text('seen')} label="What was seen" lines={4} size={44} />
        <Choice
          {...form.text('when')}
          label="Seen"
          options={[
            { value: NOW, label: 'Now' },
            { value: 'earlier', label: 'Earlier' },
          ]}
        />
        {values.when === NOW ? null : <WhenField {...form.text('happened')} label="Seen on" />}
        <Field {...form.text('done')} label="What was done for it" lines={2} size={44} optional />
        <Select {...form.text('outcome')} label="How it went on" options={optionsOf(OUTCOME_WORDS)} />
        <Field {...form.text('told')} label="Who was told" hint="Vet, maker, authority." size={32} optional />
      </Form>
    </Screen>
  );
}
