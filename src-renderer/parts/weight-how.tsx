import type { TextProps } from '../hooks/use-form.ts';
import { Field, Select } from './field.tsx';
import { BY_EYE, tapeSoFar, weighedOptions } from './weight-values.ts';

type Tape = { girth: string; length: string };

/**
 * How a weight is known. By tape it asks for girth and length and fills in the estimate; by eye it says how often eyes
 * are wrong.
 */
export function WeightHow({
  how,
  girth,
  length,
  onTape,
}: {
  how: TextProps;
  girth: TextProps;
  length: TextProps;
  /** What was typed of the tape, with the weight it gives, or none while it cannot be read. */
  onTape: (tape: Tape, weight: string) => void;
}) {
  const put = (change: Partial<Tape>) => {
    const tape = { girth: girth.value, length: length.value, ...change };
    const weight = tapeSoFar(tape.girth, tape.length);
    onTape(tape, weight?.ok === true ? weight.value : '');
  };
  const found = tapeSoFar(girth.value, length.value);
  const wrong = found?.ok === false ? found.error : undefined;
  return (
    <>
      <Select {...how} label="How it is known" options={weighedOptions} />
      {how.value === 'eye' ? <p className="hint">{BY_EYE}</p> : null}
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
