import type { DoseLine } from '../../../src-shared/label/terms.ts';
import { useCall } from '../../hooks/use-call.ts';
import type { FormState } from '../../hooks/use-form.ts';
import { DayField } from '../../parts/day-field.tsx';
import { Choice } from '../../parts/field.tsx';
import { Section } from '../../parts/screen.tsx';
import { count } from '../../parts/words.ts';
import { courseDays, NEW_COURSE, NO_COURSE, type OneValues } from './one-values.ts';
import { printDayOf } from './words.ts';

/** Whether this dose begins a course, goes on with one, or stands by itself. Shown where the label repeats it. */
export function CourseFields({
  form,
  subject,
  medicine,
  doseLine,
}: {
  form: FormState<OneValues>;
  subject: string;
  medicine: string;
  doseLine: DoseLine;
}) {
  const call = useCall('courses', { subject });
  const farm = useCall('farm', {});
  const open = call.state === 'ready' ? call.value.courses.filter((one) => one.medicine === medicine) : [];
  const { repeats } = doseLine;
  if (repeats === undefined && open.length === 0) return null;
  const { values } = form;
  const today = farm.state === 'ready' ? farm.value.clock.today : '';
  const first = values.when === 'earlier' && values.at !== '' ? values.at : today;

  const choose = (course: string) => {
    const days = course === NEW_COURSE && repeats !== undefined ? courseDays(repeats, first) : undefined;
    form.set({
      course,
      days: days ?? (course === NEW_COURSE ? Array.from({ length: repeats?.doses ?? 2 }, () => '') : []),
    });
  };

  return (
    <Section title="Course">
      <Choice
        {...form.text('course')}
        onChange={choose}
        label="This dose"
        options={[
          { value: NO_COURSE, label: 'Stands by itself' },
          ...(repeats === undefined
            ? []
            : [
                {
                  value: NEW_COURSE,
                  label: `Begins a course of ${count(repeats.doses, 'dose', 'doses')}`,
                  hint: 'held until the last planned dose and its period; a dose that is left out is said later',
                },
              ]),
          ...open.map((one) => ({
            value: one.course,
            label: `Is dose ${one.given.length + 1} of ${Math.max(one.planned.length, one.given.length + 1)} of the course begun ${printDayOf(one.given[0] ?? one.planned[0] ?? '')}`,
          })),
        ]}
      />
      {values.course !== NEW_COURSE
        ? null
        : values.days.map((day, n) => (
            <DayField
              // The days of a course have no id but their place.
              // biome-ignore lint/suspicious/noArrayIndexKey: see above
              key={n}
              name={`day${n}`}
              value={day}
              onChange={(value) => form.set({ days: values.days.map((one, at) => (at === n ? value : one)) })}
              label={n === 0 ? 'First dose' : `Dose ${n + 1}`}
            />
          ))}
    </Section>
  );
}
