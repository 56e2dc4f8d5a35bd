import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, DeedLink } from '../../parts/deed.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { count, dayInWords } from '../../parts/words.ts';
import { Clearance } from './clearance.tsx';
import { Stock } from './stock.tsx';

type Farm = Reply<'farm'>;

/** What waits, who is held, what is in the cabinet: sentences, each with its deed. */
export default function TodayScreen() {
  const farm = useCall('farm', {});
  return (
    <Await call={farm} what="Reading the book">
      {(value) => (
        <Screen title={dayInWords(value.clock.today)}>
          <Waiting farm={value} />
          {value.counts.animals + value.counts.lots === 0 ? null : <Clearance today={value.clock.today} />}
          {value.counts.medicines === 0 ? null : <Stock />}
        </Screen>
      )}
    </Await>
  );
}

/** Work that was begun and not ended, and what has to be told to somebody. */
function Waiting({ farm }: { farm: Farm }) {
  const sessions = useCall('sessions', { state: 'open', limit: 20 });
  const notices = useCall('notices', {});
  const begin = firstSteps(farm);
  return (
    <Section title="Waiting">
      <Await call={sessions} what="Looking for open sessions">
        {({ sessions: open }) => (
          <Await call={notices} what="Looking for notices">
            {({ notices: told }) => (
              <Sentences label="Waiting">
                {told.map((notice) => (
                  <Sentence
                    key={`${notice.declaration} ${notice.text}`}
                    mind
                    margin="Tell them"
                    small={notice.text}
                    deed={
                      <DeedLink to="declare/paper/:declaration" params={{ declaration: notice.declaration }}>
                        Read declaration {notice.number}
                      </DeedLink>
                    }
                  >
                    {notice.to} was told something that is no longer so.
                  </Sentence>
                ))}
                {open.map((session) => (
                  <Sentence
                    key={session.session}
                    margin="Open"
                    small={session.lines.join(' · ')}
                    deed={
                      <DeedLink to="treat/session/:session" params={{ session: session.session }}>
                        Go on with it
                      </DeedLink>
                    }
                  >
                    <strong>{session.name}</strong>: {session.treated.toLocaleString('en-GB')} of{' '}
                    {count(session.planned, 'head', 'head')} treated.
                  </Sentence>
                ))}
                {begin.map((step) => step)}
                {told.length + open.length + begin.length === 0 ? (
                  <Sentence margin="Nothing" deed={<CommandDeed id="plan-session" />}>
                    No session is open and nobody has to be told anything.
                  </Sentence>
                ) : null}
              </Sentences>
            )}
          </Await>
        )}
      </Await>
    </Section>
  );
}

/** What an almost empty book still needs before animals can be treated from it. */
function firstSteps({ counts }: Farm) {
  const steps = [];
  if (counts.medicines === 0) {
    steps.push(
      <Sentence
        key="medicine"
        margin="First"
        small="Foldbook knows no medicine of its own: everything it works out stands on what the insert says."
        deed={<CommandDeed id="write-label" />}
      >
        No medicine is on record. Take one box and its insert.
      </Sentence>,
    );
  } else if (counts.containers === 0) {
    steps.push(
      <Sentence
        key="batch"
        margin="Next"
        small="Batch number, expiry and what came."
        deed={<CommandDeed id="receive-batch" />}
      >
        No bottle is in the cabinet.
      </Sentence>,
    );
  }
  if (counts.animals + counts.lots === 0) {
    steps.push(
      <Sentence
        key="animals"
        margin={counts.medicines === 0 ? 'Then' : 'Next'}
        small="One by one, as a lot by head count, or from a file."
        deed={
          <>
            <CommandDeed id="add-animal" />
            <CommandDeed id="import-animals" />
          </>
        }
      >
        No animal is in the book.
      </Sentence>,
    );
  }
  return steps;
}
