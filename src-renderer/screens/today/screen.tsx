import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, DeedLink } from '../../parts/deed.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { count, dayInWords } from '../../parts/words.ts';
import { GapsToday } from '../book/gaps-today.tsx';
import { backupWords } from '../farm/backup-words.ts';
import { NotInWriting } from '../instruction/not-in-writing.tsx';
import { TrainingDue } from '../training/due.tsx';
import { Possibly } from '../treat/possibly.tsx';
import { CertificatesEnding } from './certificates.tsx';
import { Clearance } from './clearance.tsx';
import { Courses } from './courses.tsx';
import { Stock } from './stock.tsx';

type Farm = Reply<'farm'>;

/** What waits, who is held, what is in the cabinet: sentences, each with its deed. */
export default function TodayScreen() {
  const farm = useCall('farm', {});
  return (
    <Await call={farm} what="Reading the book">
      {(value) => (
        <Screen title={dayInWords(value.clock.today)} lead={leadOf(value)}>
          <Waiting farm={value} />
          {value.counts.medicines === 0 ? null : <Courses today={value.clock.today} />}
          {value.counts.animals + value.counts.lots === 0 ? null : <Clearance today={value.clock.today} />}
          {value.counts.medicines === 0 ? null : <Stock today={value.clock.today} />}
          {value.counts.medicines === 0 ? null : <GapsToday today={value.clock.today} />}
          <NotInWriting />
          <TrainingDue />
        </Screen>
      )}
    </Await>
  );
}

/** A new book says what this screen is for; later it speaks for itself. */
function leadOf({ counts }: Farm): string | undefined {
  if (counts.medicines > 0 && counts.animals + counts.lots > 0) return undefined;
  return 'This book is new. With one medicine, what is in the cabinet and the flock it can work out a dose and keep the withdrawal of every animal.';
}

/** Work that was begun and not ended, and what has to be told to somebody. */
function Waiting({ farm }: { farm: Farm }) {
  const sessions = useCall('sessions', { state: 'all', limit: 500 });
  const notices = useCall('notices', {});
  const begin = firstSteps(farm);
  const backup = backupLine(farm);
  return (
    <Section title="Waiting">
      <Await call={sessions} what="Looking for open sessions">
        {({ sessions: all }) => (
          <Await call={notices} what="Looking for notices">
            {({ notices: told }) => {
              const open = all.filter((session) => session.state === 'open');
              const unsure = all.filter((session) => session.state === 'closed' && session.possibly > 0);
              const isQuiet = told.length + open.length + unsure.length + begin.length === 0;
              return (
                <Sentences label="Waiting">
                  {told.map((notice) => (
                    <Sentence
                      key={`${notice.declaration} ${notice.text}`}
                      mind
                      margin="Tell them"
                      small={`${notice.text}${phoneOf(farm, notice.to)}`}
                      deed={
                        <DeedLink
                          to="declare/paper/:declaration"
                          params={{ declaration: notice.declaration }}
                        >
                          Open declaration {notice.number}
                        </DeedLink>
                      }
                    >
                      <strong>Declaration {notice.number} is now wrong</strong>: tell {notice.to}.
                    </Sentence>
                  ))}
                  {unsure.map((session) => (
                    <Possibly key={session.session} session={session} />
                  ))}
                  <CertificatesEnding />
                  {open.map((session) => (
                    <Sentence
                      key={session.session}
                      margin="Open"
                      small={session.lines.join(' · ')}
                      deed={
                        <DeedLink to="treat/session/:session" params={{ session: session.session }}>
                          Carry on
                        </DeedLink>
                      }
                    >
                      <strong>{session.name}</strong>: {session.treated.toLocaleString('en-GB')} of{' '}
                      {count(session.planned, 'head', 'head')} treated.
                    </Sentence>
                  ))}
                  {begin.map((step) => step)}
                  {backup}
                  {isQuiet ? (
                    <Sentence margin="Nothing" deed={<CommandDeed id="plan-session" />}>
                      No session is open and nobody has to be told anything.
                    </Sentence>
                  ) : null}
                </Sentences>
              );
            }}
          </Await>
        )}
      </Await>
    </Section>
  );
}

/** The telephone number of whoever was told, where the book has it. */
function phoneOf({ people }: Farm, name: string): string {
  const phone = people.find((person) => person.name === name)?.phone ?? '';
  return phone === '' ? '' : ` Telephone ${phone}.`;
}

/** A book with something in it and no late backup: said before the day it is needed. */
function backupLine(farm: Farm) {
  const { isDue, text } = backupWords(farm);
  const { medicines, animals, lots } = farm.counts;
  if (!isDue || medicines + animals + lots === 0) return null;
  return (
    <Sentence mind margin="Backup due" deed={<DeedLink to="farm/file">Make a backup</DeedLink>}>
      {text}
    </Sentence>
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
        deed={<CommandDeed id="write-label" weight="main" />}
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
        deed={<CommandDeed id="receive-batch" weight="main" />}
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
            <CommandDeed id="add-animal" weight={steps.length === 0 ? 'main' : 'plain'} />
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
