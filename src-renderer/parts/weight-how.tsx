import type { TextProps } from '../hooks/use-form.ts';
import { Field, Select } from './field.tsx';
import { BY_EYE, tapeSoFar, weighedOptions } from './weight-values.ts';

/** What changes at once: by tape the weight follows girth and length. */
type Change = { how?: string; girth?: string; length?: string; weight?: string };

/**
 * How a weight is known. By tape it asks for girth and length and fills in the estimate; by eye it says how often eyes
 * are wrong.
 */
export function WeightHow({
  how,
  girth,
  length,
  onPut,
}: {
  how: TextProps;
  girth: TextProps;
  length: TextProps;
  onPut: (change: Change) => void;
}) {
  const put = (change: { girth?: string; length?: string }) => {
    const tape = { girth: girth.value, length: length.value, ...change };
    const weight = tapeSoFar(tape.girth, tape.length);
    onPut({ ...tape, weight: weight?.ok === true ? weight.value : '' });
  };
  // What the tape gave is not what a scale showed or an eye guessed: it goes with the tape.
  const pick = (next: string) =>
    onPut(
      how.value === 'tape' && next !== 'tape' && `${girth.value}${length.value}` !== ''
        ? { how: next, girth: '', length: '', weight: '' }
        : { how: next },
    );
  const found = tapeSoFar(girth.value, length.value);
  const wrong = found?.ok === false ? found.error : undefined;
  return (
    <>
      <Select
        {...how}
        onChange={pick}
        label="How it is known"
        options={weighedOptions}
        {...(how.value === 'eye' ? { hint: BY_EYE } : {})}
      />
      {how.value !== 'tape' ? null : (
        <>
          <Field
            {...girth}
            onChange={(value) => put({ girth: value })}
            error={girth.error ?? (wrong?.field === 'girth' ? wrong.message : undefined)}
            label="Girth, behind the forelegs"
            hint="Wool pressed down. As in 88.9 cm or 35 in."
            size={8}
          />
          <Field
            {...length}
            onChange={(value) => put({ length: value })}
            error={length.error ?? (wrong?.field === 'length' ? wrong.message : undefined)}
            label="Length, point of shoulder to pin bone"
            hint="As in 76.2 cm or 30 in."
            size={8}
            {...(found?.ok === true
              ? { readBack: `${found.value} by the tape: an estimate, not a weighing` }
              : {})}
          />
        </>
      )}
    </>
  );
}
