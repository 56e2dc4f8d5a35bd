import type { Reply } from '../../../src-shared/calls/all.ts';
import type { FormState } from '../../hooks/use-form.ts';
import { useSteady } from '../../hooks/use-steady.ts';
import { DeedLink } from '../../parts/deed.tsx';
import { Select } from '../../parts/field.tsx';
import { FaultNotice, Notice } from '../../parts/notice.tsx';
import { count } from '../../parts/words.ts';
import { instructionFor, type MassValues, withInstruction } from './mass-values.ts';
import { sayChoice } from './vet-must-say.tsx';

type Line = Reply<'instructions-for-run'>['lines'][number];
type Choice = Line['instructions'][number];

/**
 * By which instruction of the vet the whole run is done, for each medicine there is one for. One that does not hold
 * for all who go is said to be so: its periods do not count for those.
 */
export function MassInstructions({
  session,
  going,
  form,
}: {
  session: string;
  going: Reply<'session'>['waiting'];
  form: FormState<MassValues>;
}) {
  const subjects = going.map((one) => one.subject);
  const call = useSteady('instructions-for-run', subjects.length === 0 ? null : { session, subjects });
  if (call.state === 'failed') return <FaultNotice fault={call.fault} />;
  if (call.state !== 'ready') return null;
  const { heads, lines } = call.value;
  return (
    <>
      {lines
        .filter((line) => line.instructions.length > 0)
        .map((line) => (
          <OneLine
            key={line.line}
            line={line}
            of={heads}
            isOnly={lines.length === 1}
            chosen={instructionFor(form.values, { line: line.line, instruction: line.planned })}
            onChoose={(instruction) => form.set(withInstruction(form.values, line.line, instruction))}
          />
        ))}
      {form.values.given === '' && lines.every((line) => line.instructions.length === 0) ? null : (
        <p className="deeds">
          <DeedLink to="farm/papers/instruction" query={{ session, back: 'session' }}>
            Write down what the vet says
          </DeedLink>
        </p>
      )}
    </>
  );
}

function OneLine({
  line,
  of,
  isOnly,
  chosen,
  onChoose,
}: {
  line: Line;
  /** Heads that go. */
  of: number;
  /** Whether it is the only medicine: then it need not be named again. */
  isOnly: boolean;
  chosen: string;
  onChoose: (instruction: string) => void;
}) {
  const now = line.instructions.find((one) => one.instruction === chosen);
  return (
    <>
      <Select
        name={`instruction.${line.line}`}
        label={isOnly ? 'By the vet’s instruction' : `By the vet’s instruction, ${line.name}`}
        hint="The periods it states count for all who go; they can lengthen the label’s and never shorten them."
        value={chosen}
        onChange={onChoose}
        options={[
          { value: '', label: 'None: by the label' },
          ...line.instructions.map((one) => ({ value: one.instruction, label: sayForRun(one, of) })),
        ]}
        optional
      />
      {now === undefined || now.notFor === 0 ? null : (
        <Notice kind="mind" word="Not for all">
          <p>
            {now.notFor === of
              ? 'For nobody who goes.'
              : `Not for ${now.notFor} of the ${count(of, 'head', 'head')}.`}{' '}
            {now.why}. Leave them out and treat them by themselves, or ask the vet about them.
          </p>
        </Notice>
      )}
    </>
  );
}

function sayForRun(one: Choice, of: number): string {
  if (one.notFor === 0) return sayChoice(one);
  return `${sayChoice(one)}; ${one.notFor === of ? 'for nobody here' : `not for ${one.notFor} of ${of}`}`;
}
