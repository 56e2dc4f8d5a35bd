import type { WritingCall } from '../../../src-shared/calls/all.ts';
import { attempt } from '../../../src-shared/refusal.ts';
import { type Problem, useForm } from '../../hooks/use-form.ts';
import type { Write } from '../../hooks/use-write.ts';
import { Deed } from '../../parts/deed.tsx';
import { Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Section } from '../../parts/screen.tsx';
import type { Again } from './again.ts';

/**
 * The second typing: the same few figures from the insert once more, with what was typed before out of sight. Where
 * the two differ it is said that they do, never which was typed first.
 */
export function AgainForm<N extends WritingCall>({
  keep,
  asked,
  write,
  deed,
  onAgree,
  onDraft,
  onBack,
}: {
  keep: string;
  asked: readonly Again[];
  write: Write<N>;
  deed: string;
  onAgree: () => void;
  /** Goes on without it: the label is then only a draft. */
  onDraft: () => void;
  onBack: () => void;
}) {
  const initial: Record<string, string> = Object.fromEntries(asked.map((one) => [one.key, '']));
  const form = useForm<Record<string, string>>(keep, initial);
  const send = () => {
    const problems = asked.flatMap((one): Problem[] => {
      const typed = form.values[one.key] ?? '';
      if (typed.trim() === '')
        return [{ field: one.key, message: `${one.label}: type it again from the insert.` }];
      const outcome = attempt(() => one.agrees(typed, one.key));
      if (!outcome.ok) return [{ ...outcome.error, field: one.key }];
      return outcome.value
        ? []
        : [
            {
              field: one.key,
              message: `${one.label}: this is not what you typed the first time.`,
              next: 'Look at the insert: type it right here, or go back and put the label right.',
            },
          ];
    });
    if (problems.length > 0) form.show(problems);
    else void form.drop().then(onAgree);
  };
  return (
    <Form form={form} write={write} deed={deed} onSend={send} onLeave={() => void form.drop().then(onBack)}>
      <Section
        title="Once more, from the insert"
        deeds={
          <>
            <Deed onDo={() => void form.drop().then(onBack)}>Go back to the label</Deed>
            <Deed onDo={() => void form.drop().then(onDraft)}>Write it as a draft for now</Deed>
          </>
        }
      >
        {asked.map((one) => (
          <Field key={one.key} {...form.text(one.key)} label={one.label} hint={one.hint} size={20} />
        ))}
      </Section>
    </Form>
  );
}

/** What stands under the heading while the second typing is asked for. */
export const againLead =
  'One wrong digit here harms an animal or a person. Type these again from the insert without looking at the first time. A label left as a draft is kept, but no treatment can be planned with it.';
