import { useEffect, useRef } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import type { FormState } from '../../hooks/use-form.ts';
import { useWriter } from '../../hooks/use-writer.ts';
import { Field, Select } from '../../parts/field.tsx';
import { LEAKED_HINT } from './leaked-values.ts';
import { ScanBottle } from './scan-bottle.tsx';
import type { DoseFor, LineDose } from './sends.ts';
import { isInjected, routeOptions, sideOptions, sites } from './words.ts';

/** What was really done, where it was not as worked out: amount, bottle, lost, who gave it, where it went in. */
export function Otherwise({
  form,
  dose,
  session,
}: {
  form: FormState<Record<string, string>>;
  dose: DoseFor;
  session: Reply<'session'>;
}) {
  const part = useRef<HTMLFieldSetElement>(null);
  const { writers, name } = useWriter();
  useEffect(() => {
    part.current?.querySelector('input')?.focus();
  }, []);
  return (
    <fieldset ref={part} className="race-otherwise">
      <legend className="race-otherwise-head">What was different</legend>
      {dose.doses.map((line) => (
        <LineOtherwise
          key={line.line}
          form={form}
          line={line}
          isOne={dose.doses.length === 1}
          medicine={session.lines.find((one) => one.line === line.line)?.medicine ?? ''}
          isOurs={session.lines.find((one) => one.line === line.line)?.source === 'ours'}
        />
      ))}
      {dose.doses.some((line) => isInjected(line.route)) ? (
        <>
          <Field {...form.text('site')} label="Where it went in" list={sites} size={20} optional />
          <Select {...form.text('side')} label="Side" options={sideOptions} />
          <Field
            {...form.text('needle')}
            label="Needle"
            hint="As in 18G, 1 in. Stays for the next ones, with where and side."
            size={12}
            optional
          />
        </>
      ) : null}
      {writers.length < 2 ? null : (
        <Select
          {...form.text('givenBy')}
          label="Given by"
          options={[
            { value: '', label: `${name}, who writes` },
            ...writers.map((one) => ({ value: one.person, label: one.name })),
          ]}
        />
      )}
    </fieldset>
  );
}

function LineOtherwise({
  form,
  line,
  medicine,
  isOne,
  isOurs,
}: {
  form: FormState<Record<string, string>>;
  line: LineDose;
  medicine: string;
  isOne: boolean;
  isOurs: boolean;
}) {
  const of = isOne ? '' : ` of ${line.name}`;
  const cabinet = useCall('cabinet', isOurs ? { medicine } : null);
  const bottles = cabinet.state === 'ready' ? cabinet.value.containers : [];
  return (
    <>
      <Field
        {...form.text(`given.${line.line}`)}
        label={`What went in${of}`}
        hint={
          line.dose === null
            ? 'With its unit, as in 3.2 mL.'
            : `With its unit, as in 3.2 mL. Worked out: ${line.dose.draw.text}.`
        }
        size={10}
        optional
      />
      <Select {...form.text(`route.${line.line}`)} label={`How it went in${of}`} options={routeOptions} />
      <Field
        {...form.text(`leaked.${line.line}`)}
        label={`Leaked back${of}`}
        hint={LEAKED_HINT}
        size={10}
        optional
      />
      {isOurs ? (
        <>
          <ScanBottle
            name={`scan.${line.line}`}
            medicine={medicine}
            onPick={(container) => form.set({ [`bottle.${line.line}`]: container })}
          />
          <Select
            {...form.text(`bottle.${line.line}`)}
            label={`Bottle${of}`}
            options={[
              { value: '', label: 'As planned, earliest use-by first' },
              ...bottles.map((one) => ({
                value: one.container,
                label: `${one.label}: ${one.left.text} left, use by ${one.useBy}${one.state === 'sealed' || one.state === 'open' ? '' : `, ${one.state.replaceAll('-', ' ')}`}`,
              })),
            ]}
          />
          <Field
            {...form.text(`lost.${line.line}`)}
            label={`Lost beside it${of}`}
            hint="Spilt, or left in the syringe. With its unit."
            size={10}
            optional
          />
          {form.values[`lost.${line.line}`] === '' ? null : (
            <Field
              {...form.text(`lostWhy.${line.line}`)}
              label={`How it was lost${of}`}
              list={['Spilt', 'Left in the syringe', 'Priming']}
              size={20}
            />
          )}
        </>
      ) : null}
    </>
  );
}
