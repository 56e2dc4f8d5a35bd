import { attempt } from '../../../src-shared/refusal.ts';
import { parseDay } from '../../../src-shared/time/day.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { DayField } from '../../parts/day-field.tsx';
import { Form } from '../../parts/form.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Screen } from '../../parts/screen.tsx';
import { dayInWords } from '../../parts/words.ts';
import { go } from '../../router.tsx';

const toToday = () => go({ to: 'today' });

/** The person at the keyboard says what day it is. */
export default function DateScreen() {
  const farm = useCall('farm', {});
  return (
    <Screen title="Confirm the date" lead="Whether an animal is clear hangs on what day it is.">
      <Await call={farm} what="Reading the clock">
        {({ clock }) => (
          <>
            {clock.state === 'believed' ? (
              <Notice>
                <p>The date is not in doubt: it is {dayInWords(clock.today)}.</p>
              </Notice>
            ) : (
              <Notice kind="mind">
                <p>
                  {clock.why ??
                    `The computer says it is ${dayInWords(clock.today)}, and the book does not fit that.`}
                </p>
              </Notice>
            )}
            <DateForm />
          </>
        )}
      </Await>
    </Screen>
  );
}

function DateForm() {
  // Left empty on purpose: whoever confirms should look at a calendar, not press Enter on a guess.
  const form = useForm('farm/date', { day: '' });
  const write = useWrite('confirm-date', () => {
    void form.drop().then(toToday);
  });
  const send = () => {
    const day = attempt(() => parseDay(form.values.day, 'day'));
    if (!day.ok) return form.show([day.error]);
    void write.send({ day: day.value });
  };
  return (
    <Form form={form} write={write} deed="This is the date" onLeave={toToday} onSend={send}>
      <DayField {...form.text('day')} label="What day is it today?" />
    </Form>
  );
}
