import './book.css';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { DeedLink } from '../../parts/deed.tsx';
import { Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { go, useLocation } from '../../router.tsx';

const toGaps = () => go({ to: 'book/gaps' }, { replace: true });

/** Why something is missing that cannot be filled in any more. */
export default function ExplainScreen() {
  const { query } = useLocation();
  return (
    <Screen
      title="Say why it is missing"
      lead="The gap stays in the book, with your words, your name and today's date beside it."
    >
      {query.gap === undefined ? (
        <Empty deed={<DeedLink to="book/gaps">See what is missing</DeedLink>}>No gap is named here.</Empty>
      ) : (
        <ExplainForm gap={query.gap} what={query.what ?? ''} />
      )}
    </Screen>
  );
}

function ExplainForm({ gap, what }: { gap: string; what: string }) {
  const form = useForm(`explain ${gap}`.slice(0, 120), { says: '' });
  const write = useWrite('explain-gap', () => {
    void form.drop().then(toGaps);
  });
  return (
    <Form
      form={form}
      write={write}
      deed="Write it beside the gap"
      onLeave={toGaps}
      onSend={() => {
        const says = form.values.says.trim();
        if (says === '') {
          return form.show([{ field: 'says', message: 'Why: write in a few words why it is missing.' }]);
        }
        void write.send({ gap, says });
      }}
    >
      <Section title="What is missing">
        <Sentences>
          <Sentence margin="Missing">{what}</Sentence>
        </Sentences>
        <Field {...form.text('says')} label="Why" lines={3} />
      </Section>
    </Form>
  );
}
