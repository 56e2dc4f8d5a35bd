import './treat.css';
import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, DeedLink } from '../../parts/deed.tsx';
import { Ticks } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { go, useParams } from '../../router.tsx';
import { type Kit, KitShown } from './kit-shown.tsx';
import { SharpsCount } from './sharps-count.tsx';

/** Before starting: the kit, the checks to tick, and the needles that are out. */
export default function ReadyScreen() {
  const { session: id } = useParams('treat/session/:session/ready');
  const session = useCall('session', { session: id });
  const call = useCall('session-kit', { session: id });
  return (
    <Await call={session} what="Opening the session">
      {({ session: row }) => (
        <Screen
          title={`Before starting: ${row.name}`}
          lead="What to take along, and what to look at first. Nothing here bars the work."
          deeds={
            <>
              <DeedLink to="treat/session/:session" params={{ session: id }}>
                To the race
              </DeedLink>
              {call.state === 'ready' && call.value.isInjected ? <CommandDeed id="report-needle" /> : null}
            </>
          }
        >
          {row.state === 'closed' ? (
            <Empty>This session is closed.</Empty>
          ) : (
            <Await call={call} what="Looking what it needs">
              {(kit) => (
                <>
                  <Section title="What to take along">
                    <KitShown kit={kit} />
                  </Section>
                  <Section title="Look before starting">
                    <Checks id={id} kit={kit} />
                  </Section>
                  {kit.isInjected || kit.sharps?.out !== undefined ? (
                    <Section title="Needles out">
                      <SharpsCount id={id} sharps={kit.sharps} />
                    </Section>
                  ) : null}
                </>
              )}
            </Await>
          )}
        </Screen>
      )}
    </Await>
  );
}

/** The checks: Tab or arrows to one, Space ticks it, Enter writes all. */
function Checks({ id, kit }: { id: string; kit: Kit }) {
  const { checks, checked } = kit;
  const form = useForm(`treat/ready/${id}`, {
    ticked: checks.filter(({ ticked }) => ticked).map(({ id: check }) => check) as readonly string[],
  });
  const back = () => go({ to: 'treat/session/:session', params: { session: id } });
  const write = useWrite('check-session', () => void form.drop().then(back));
  const send = () => {
    const known = checks.map(({ id: check }) => check);
    void write.send({ session: id, ticked: form.values.ticked.filter((check) => known.includes(check)) });
  };
  return (
    <Form form={form} write={write} deed="Write the checks, and go to the race" onSend={send} onLeave={back}>
      <Ticks
        {...form.list('ticked')}
        label="Ticked means: I have looked"
        hint={
          checked === undefined
            ? 'Nobody has ticked them yet.'
            : `Last ticked by ${checked.by}, ${checked.local}.`
        }
        options={checks.map(({ id: value, says, why }) => ({
          value,
          label: says,
          ...(why === undefined ? {} : { hint: why }),
        }))}
      />
    </Form>
  );
}
