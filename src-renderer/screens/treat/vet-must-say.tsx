import type { Ask, Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { DeedLink } from '../../parts/deed.tsx';
import { Select } from '../../parts/field.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Working } from '../../parts/result.tsx';
import { dayInWords } from '../../parts/words.ts';

type Said = Reply<'vet-must-say'>;

const produceWords = { meat: 'Meat', milk: 'Milk' } as const;

/**
 * What is said before a treatment outside its label is written: what departs from the label, that the vet must say how
 * long it is held, the least by law for each produce, and the instruction it follows. Shows nothing on the label.
 */
export function VetMustSay({
  ask,
  name,
  chosen,
  onChoose,
  back,
  milks,
}: {
  ask: Omit<Ask<'vet-must-say'>, 'instruction'>;
  /** Of the field for the instruction. */
  name: string;
  /** Id of the instruction; empty for none. */
  chosen: string;
  onChoose: (instruction: string) => void;
  /** What the form for a new instruction is opened with. */
  back: Readonly<Record<string, string>>;
  /** Whether the farm takes milk: else nothing is said of it. */
  milks: boolean;
}) {
  const call = useCall('vet-must-say', { ...ask, ...(chosen === '' ? {} : { instruction: chosen }) });
  // What cannot be read is said beside its own field.
  if (call.state !== 'ready' || call.value.outside === undefined) return null;
  const { deviations, least, instructions, holds } = call.value;
  const fits = instructions.filter(({ why }) => why === undefined);
  const unfit = instructions.find((one) => one.instruction === chosen && one.why !== undefined);
  return (
    <Notice kind="mind" word="Outside the label">
      <p>
        <strong>
          {deviations
            .filter(({ outside }) => outside)
            .map(({ text }) => `${text.slice(0, 1).toUpperCase()}${text.slice(1)}.`)
            .join(' ')}
        </strong>{' '}
        The label’s own periods do not speak for it: the vet must say how long it is held.
      </p>
      {least
        .filter(({ produce }) => milks || produce === 'meat')
        .map((each) => (
          <div key={each.produce}>
            <p>
              {produceWords[each.produce]}: {each.text}.
              {each.warnings.map(({ code, text }) => (
                <span key={code}> {text}</span>
              ))}
            </p>
            <Working lines={each.working} />
          </div>
        ))}
      <Select
        name={name}
        label="The vet’s instruction it follows"
        value={chosen}
        onChange={onChoose}
        options={[
          { value: '', label: 'None: then no time clears it' },
          ...(unfit === undefined ? [] : [{ value: unfit.instruction, label: sayChoice(unfit) }]),
          ...fits.map((one) => ({ value: one.instruction, label: sayChoice(one) })),
        ]}
      />
      {unfit === undefined ? null : <p>{unfit.why}.</p>}
      {chosen === '' ? null : holds.slice(0, milks ? 2 : 1).map((text) => <p key={text}>{text}.</p>)}
      <p className="deeds">
        <DeedLink to="farm/papers/instruction" query={back}>
          Write down what the vet says
        </DeedLink>
      </p>
    </Notice>
  );
}

/** An instruction as it is offered: who, when, the periods, and whether it is in writing. */
export function sayChoice({
  vetName,
  given,
  what,
  inWriting,
  periods,
}: Said['instructions'][number]): string {
  const said = periods.map(({ produce, period }) => `${produce} ${period}`).join(', ');
  return `${vetName}, ${dayInWords(given)}: ${said === '' ? what.slice(0, 60) : said}${inWriting ? '' : ', not yet in writing'}`;
}
