import { useCall } from '../../hooks/use-call.ts';
import { type FormState, withoutEmpty } from '../../hooks/use-form.ts';
import { useLocation } from '../../router.tsx';
import { NEW_COURSE, NO_COURSE, type OneValues } from './one-values.ts';
import type { PlanLine } from './plan-values.ts';
import { VetMustSay } from './vet-must-say.tsx';
import { routeOf, sourceOf } from './words.ts';

/** What is said before a treatment outside its label is written. */
export function OutsideLabel({
  form,
  line,
  onChoose,
}: {
  form: FormState<OneValues>;
  line: PlanLine;
  onChoose: (instruction: string) => void;
}) {
  const { values } = form;
  const farm = useCall('farm', {});
  const { query } = useLocation();
  const route = routeOf(values.route);
  const heads = Number(values.heads.trim());
  const { subject } = values;
  return (
    <VetMustSay
      name="outside-instruction"
      chosen={line.instruction}
      onChoose={onChoose}
      // Back to what this was opened for: under it the unfinished form is kept.
      back={{ subject, medicine: line.medicine, back: 'one', opened: new URLSearchParams(query).toString() }}
      milks={farm.state === 'ready' && farm.value.holdings.some((one) => one.milk)}
      ask={{
        subject,
        medicine: line.medicine,
        source: sourceOf(line.source),
        ...(line.doseLine === '' ? {} : { doseLine: line.doseLine }),
        ...withoutEmpty({ weight: values.weight, given: values.given }),
        ...(route === undefined ? {} : { route }),
        ...(Number.isInteger(heads) && heads > 0 ? { heads } : {}),
        ...(values.when === 'earlier' && values.at !== '' ? { happened: values.at } : {}),
        ...(values.course === NO_COURSE || values.course === NEW_COURSE ? {} : { course: values.course }),
      }}
    />
  );
}
