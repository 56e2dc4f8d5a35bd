import { checkWeigher } from '../../../src-shared/flock/weigher.ts';
import { parseWeight } from '../../../src-shared/quantity/weight.ts';
import { attempt } from '../../../src-shared/refusal.ts';
import { useCall } from '../../hooks/use-call.ts';
import { problemsOf, useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Result } from '../../parts/result.tsx';
import { Section } from '../../parts/screen.tsx';
import { go } from '../../router.tsx';
import { type Equipment, verdictWords } from './equipment-words.ts';

/** A known weight on the weigher: how far it is off stands there as it is typed. */
export function WeigherCheck({ one }: { one: Equipment }) {
  const farm = useCall('farm', {});
  const unit = (farm.state === 'ready' ? farm.value.holdings[0]?.weightUnit : undefined) ?? 'kg';
  const form = useForm(`farm/equipment/${one.equipment}/check`, { known: '', showed: '' });
  const write = useWrite('check-weigher', () => void form.drop());
  const { known, showed } = form.values;
  const read = (text: string, field: string) => attempt(() => parseWeight(text, field, { unit }));
  const [a, b] = [read(known, 'known'), read(showed, 'showed')];
  const found = a.ok && b.ok ? checkWeigher(a.value, b.value) : undefined;
  const send = () => {
    const problems = problemsOf([a, b]);
    if (problems.length > 0) return form.show(problems);
    void write.send({ equipment: one.equipment, known, showed });
  };
  return (
    <Section title="Check it">
      <Form
        form={form}
        write={write}
        deed="Write the check"
        onLeave={() => go({ to: 'farm/equipment' })}
        onSend={send}
      >
        <Field
          {...form.text('known')}
          label={`A weight that is known, ${unit}`}
          hint="Sealed bags of feed, a can of water (1 L is 1 kg), a person weighed elsewhere. About as heavy as the sheep."
          inputMode="decimal"
          size={8}
        />
        <Field {...form.text('showed')} label={`It showed, ${unit}`} inputMode="decimal" size={8} />
        {found === undefined ? null : (
          <Result label="This weigher is" big={verdictWords[found.verdict]}>
            <p>{found.says}</p>
            <p className="hint">
              Within one part in a hundred, or half a kilogram, is taken as right. That is practice; no limit
              is published.
            </p>
          </Result>
        )}
      </Form>
    </Section>
  );
}
