import { Fragment } from 'react';
import { FACT_RULES } from '../../../src-shared/declare/contents.ts';
import type { FormState } from '../../hooks/use-form.ts';
import { Deed } from '../../parts/deed.tsx';
import { Field } from '../../parts/field.tsx';
import { Section } from '../../parts/screen.tsx';
import { type DeclareValues, factField, factsAsked } from './declare-values.ts';

/** What no book knows: the keeper writes it, also where there is nothing to report. */
export function Facts({ form }: { form: FormState<DeclareValues> }) {
  const asked = factsAsked(form.values);
  if (asked.length === 0) return null;
  return (
    <Section title="What only you can say">
      <p className="hint">
        The paper prints it as you write it. What belongs to the holding is filled in as it was the last time;
        what is asked of these animals is asked each time.
      </p>
      {asked.map((fact) => {
        const { asks, hint, name, nothing } = FACT_RULES[fact];
        const field = form.text(factField(fact));
        return (
          <Fragment key={fact}>
            <Field {...field} label={asks} hint={hint} lines={2} size={48} />
            {nothing === undefined ? null : (
              <p className="deeds form-deeds">
                <Deed label={`${name}: ${nothing}`} onDo={() => field.onChange(nothing)}>
                  {nothing}
                </Deed>
              </p>
            )}
          </Fragment>
        );
      })}
    </Section>
  );
}
