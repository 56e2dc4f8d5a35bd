import { printWorking } from '../../../src-shared/dose/working.ts';
import { printAmount } from '../../../src-shared/quantity/amount.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Choice, Field, Select } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Result } from '../../parts/result.tsx';
import { Section } from '../../parts/screen.tsx';
import { go } from '../../router.tsx';
import { type Equipment, verdictWords } from './equipment-words.ts';
import { type GunValues, gunAsk, gunSoFar, shotsIn } from './gun-values.ts';

const ways = [
  { value: 'each', label: 'Each shot read by itself', hint: 'shows too whether every shot is alike' },
  { value: 'all', label: 'All shots into one measure', hint: 'quicker; shows the mean only' },
] as const;

/** Shots of the gun into a measure: the verdict and what to set it to stand there as they are typed. */
export function GunCheck({ one }: { one: Equipment }) {
  const form = useForm<GunValues>(`farm/equipment/${one.equipment}/check`, {
    setTo: '',
    wanted: '',
    way: 'each',
    each: '',
    shots: '10',
    total: '',
    medicine: '',
  });
  const write = useWrite('check-gun', () => void form.drop());
  const { values } = form;
  const call = useCall('medicines', {});
  const medicines = call.state === 'ready' ? call.value.medicines : [];
  const found = gunSoFar(values, one.graduation);
  const isStarted =
    values.setTo.trim() !== '' && (values.way === 'each' ? values.each : values.total).trim() !== '';
  const send = () => {
    if (values.setTo.trim() === '') {
      return form.show([{ field: 'setTo', message: 'Write what the gun stands at, as in 5 mL.' }]);
    }
    if (!found.ok) return form.show([{ ...found.error, field: fieldOf(found.error.field) }]);
    void write.send({ equipment: one.equipment, ...gunAsk(values) });
  };
  const count = shotsIn(values.each).length;
  return (
    <Section title="Check it">
      <p className="lead">
        Work the air out of the tube first. Then shoot ten doses of the very medicine, at the pace of the
        work, into a measuring cylinder or a syringe with fine marks. Check again every 200 animals.
      </p>
      <Form
        form={form}
        write={write}
        deed="Write the check"
        onLeave={() => go({ to: 'farm/equipment' })}
        onSend={send}
      >
        <Field {...form.text('setTo')} label="The gun stands at, mL" inputMode="decimal" size={8} />
        <Field
          {...form.text('wanted')}
          label="It should give, mL"
          hint="Only when that is not what it stands at: a gun set to 4.5 mL so that it gives 5 mL."
          inputMode="decimal"
          size={8}
          optional
        />
        <Choice {...form.text('way')} label="How it was measured" options={ways} />
        {values.way === 'each' ? (
          <Field
            {...form.text('each')}
            label="Each shot, mL"
            hint="One after the other with a space between, as in 5.1 5.0 4.9."
            inputMode="decimal"
            size={40}
            {...(count === 0 ? {} : { readBack: `${count} ${count === 1 ? 'shot' : 'shots'} so far` })}
          />
        ) : (
          <>
            <Field {...form.text('shots')} label="How many shots" inputMode="numeric" size={5} />
            <Field {...form.text('total')} label="In the measure in all, mL" inputMode="decimal" size={8} />
          </>
        )}
        <Select
          {...form.text('medicine')}
          label="What was shot"
          options={[
            { value: '', label: 'Not said' },
            ...medicines.map((one) => ({ value: one.medicine, label: one.name })),
          ]}
        />
        {!isStarted ? null : found.ok ? (
          <Result
            label={found.value.newSetting === undefined ? 'This gun is' : 'Not right: set it to'}
            big={
              found.value.newSetting === undefined
                ? verdictWords[found.value.verdict]
                : printAmount(found.value.newSetting)
            }
            working={printWorking(found.value.working)}
            warnings={found.value.warnings}
          >
            <p>{found.value.says}</p>
            <p className="hint">
              Right is a mean within 5 % and shots that differ by less than 3 %. That is practice; no limit is
              published.
            </p>
          </Result>
        ) : (
          <p className="hint" role="status">
            {found.error.message}
          </p>
        )}
      </Form>
    </Section>
  );
}

/** "each.3" stands in the one box for all shots. */
function fieldOf(field: string | undefined): string {
  return field?.startsWith('each') === true ? 'each' : (field ?? 'setTo');
}
