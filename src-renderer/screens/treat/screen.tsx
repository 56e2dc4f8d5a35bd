import './treat.css';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, DeedLink } from '../../parts/deed.tsx';
import { Emergency } from '../../parts/emergency.tsx';
import { List } from '../../parts/list.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { go } from '../../router.tsx';
import { NeedlesMissing } from './needle-open.tsx';
import { Possibly } from './possibly.tsx';
import { printWhen } from './words.ts';

type SessionRow = Reply<'sessions'>['sessions'][number];

/** Work at the race: what is open, who may have been treated, what is closed. */
export default function TreatScreen() {
  const call = useCall('sessions', { state: 'all', limit: 500 });
  return (
    <Screen
      title="Treat"
      deeds={
        <>
          <CommandDeed id="plan-session" weight="main" />
          <CommandDeed id="treat-one" />
          <CommandDeed id="work-out" />
          <Emergency />
        </>
      }
    >
      <Await call={call} what="Reading the sessions">
        {({ sessions }) => {
          const open = sessions.filter((one) => one.state === 'open');
          const closed = sessions.filter((one) => one.state === 'closed');
          return (
            <>
              <Section title="Open">
                <Open open={open} />
              </Section>
              <PossiblyAll sessions={closed.filter((one) => one.possibly > 0)} />
              <NeedlesMissing />
              <Section title="Closed">
                <ClosedList closed={closed} />
              </Section>
            </>
          );
        }}
      </Await>
    </Screen>
  );
}

function Open({ open }: { open: readonly SessionRow[] }) {
  if (open.length === 0) {
    return <Empty>No session is open. Plan one, or write down one treatment by itself.</Empty>;
  }
  return (
    <Sentences label="Open sessions">
      {open.map((one) => (
        <Sentence
          key={one.session}
          margin={`Since ${printWhen(one.opened)}`}
          small={one.lines.join(' · ')}
          deed={
            <>
              <DeedLink to="treat/session/:session" params={{ session: one.session }}>
                Carry on
              </DeedLink>
              <DeedLink to="treat/session/:session/sheet" params={{ session: one.session }}>
                Work sheet
              </DeedLink>
              <DeedLink to="treat/session/:session/close" params={{ session: one.session }}>
                Count and close
              </DeedLink>
            </>
          }
        >
          <strong>{one.name}</strong>: {one.treated} of {count(one.planned, 'head', 'head')} treated.
          {one.mode === 'mass' ? ' (Group work)' : ''}
        </Sentence>
      ))}
    </Sentences>
  );
}

function PossiblyAll({ sessions }: { sessions: readonly SessionRow[] }) {
  if (sessions.length === 0) return null;
  return (
    <Section title="Possibly treated">
      <Sentences label="Possibly treated">
        {sessions.map((one) => (
          <Possibly key={one.session} session={one} />
        ))}
      </Sentences>
    </Section>
  );
}

function ClosedList({ closed }: { closed: readonly SessionRow[] }) {
  return (
    <List
      label="Closed sessions"
      rows={closed}
      rowKey={(one) => one.session}
      onOpen={(one) => go({ to: 'treat/session/:session', params: { session: one.session } })}
      columns={[
        { key: 'opened', head: 'Opened', text: (one) => printWhen(one.opened), order: (one) => one.opened },
        { key: 'name', head: 'Name', isName: true, text: (one) => one.name },
        { key: 'lines', head: 'Medicine', text: (one) => one.lines.join(' · ') },
        {
          key: 'treated',
          head: 'Treated',
          isNumber: true,
          text: (one) => `${one.treated} of ${one.planned}`,
          order: (one) => one.treated,
        },
        {
          key: 'possibly',
          head: 'Possibly treated',
          isNumber: true,
          text: (one) => (one.possibly === 0 ? 'none' : String(one.possibly)),
          order: (one) => one.possibly,
        },
      ]}
      empty={<Empty>No session is closed yet.</Empty>}
    />
  );
}
