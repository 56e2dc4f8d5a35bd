import { type ReactNode, useRef } from 'react';
import { type CommandId, commandOf } from '../../../src-shared/commands.ts';
import { Timeline } from '../../drawings/timeline.tsx';
import { useCall } from '../../hooks/use-call.ts';
import { useWeightKnown } from '../../hooks/use-weight-known.ts';
import { Attachments } from '../../parts/attachments.tsx';
import { Await } from '../../parts/await.tsx';
import { DeedLink } from '../../parts/deed.tsx';
import { Keys } from '../../parts/keys.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Result } from '../../parts/result.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { go, type Target, useParams } from '../../router.tsx';
import { useCommand } from '../../shell/commands.ts';
import { OrganicOfSubject } from '../farm/organic-said.tsx';
import { Reactions } from '../safety/reactions.tsx';
import { Links } from './at-foot.tsx';
import { Groups, Marks, Numbers, Treatments, Weighings } from './subject-record.tsx';
import { SubjectVaccines } from './vaccines-of-one.tsx';
import { WhyOne } from './why.tsx';
import { produceWord, type SubjectPage, sayWho } from './words.ts';

/** One animal or one lot: who it is, until when it is held, what was done to it, and what can be done now. */
export default function SubjectScreen() {
  const { subject } = useParams('flock/subject/:subject');
  const call = useCall('subject', { subject });
  return (
    <Await call={call} what="Opening the page">
      {(page) => <Page page={page} />}
    </Await>
  );
}

function Page({ page }: { page: SubjectPage }) {
  const { who } = page;
  const sayKnown = useWeightKnown();
  return (
    <Screen
      title={who.shown}
      lead={sayWho(page, sayKnown)}
      deeds={who.present ? <Deeds page={page} /> : undefined}
    >
      {who.present ? null : <Gone page={page} />}
      {page.verdicts.map((verdict) => (
        <Result key={verdict.produce} label={labelOf(verdict)} big={verdict.big} working={verdict.working}>
          {verdict.why.map((line) => (
            <p key={line}>{line}</p>
          ))}
        </Result>
      ))}
      <Waits page={page} />
      <Holds page={page} />
      <WhyOne subject={who.subject} milks={page.verdicts.some((verdict) => verdict.produce === 'milk')} />
      <AtFoot subject={who.subject} />
      <OrganicOfSubject subject={who.subject} />
      <SubjectVaccines page={page} />
      <Treatments page={page} />
      <Reactions of={{ subject: page.who.subject }} />
      <Weighings page={page} />
      <Numbers page={page} />
      <Groups page={page} />
      <Marks page={page} />
      <Attachments of={[{ what: 'subject', id: page.who.subject }]} />
    </Screen>
  );
}

function labelOf({ produce, state }: SubjectPage['verdicts'][number]): string {
  const name = produceWord(produce);
  if (state === 'until') return `${name} withdrawal until`;
  if (state === 'no-end') return `${name} is held, and time alone does not end it`;
  return name;
}

function Gone({ page }: { page: SubjectPage }) {
  const isLot = page.who.subject.startsWith('lot:');
  return (
    <Notice word="Gone">
      <p>
        {isLot
          ? 'No head is left in this lot. Heads that moved on carry its holds.'
          : `It ${page.left?.text ?? 'left'}. If it is here again, strike out that departure under Book.`}
      </p>
    </Notice>
  );
}

/** A deed with its own keys that is done on another screen, for the one that is shown here. */
function HereDeed({
  id,
  target,
  weight = 'plain',
  children,
}: {
  id: CommandId;
  target: Target;
  weight?: 'plain' | 'main';
  children: ReactNode;
}) {
  const held = useRef(target);
  held.current = target;
  useCommand(id, () => go(held.current));
  const command = commandOf(id);
  return (
    <span className="command-deed">
      <DeedLink {...target} weight={weight} shortcut={command.shortcut}>
        {children}
      </DeedLink>
      {command.shortcut === undefined || weight === 'plain' ? null : <Keys shortcut={command.shortcut} />}
    </span>
  );
}

function Deeds({ page }: { page: SubjectPage }) {
  const { subject } = page.who;
  const params = { subject };
  const isLot = subject.startsWith('lot:');
  return (
    <>
      <HereDeed id="treat-this" weight="main" target={{ to: 'treat/one', query: { subject } }}>
        {isLot ? 'Treat them' : 'Treat it'}
      </HereDeed>
      <HereDeed id="weigh-this" target={{ to: 'flock/subject/:subject/weigh', params }}>
        {isLot ? 'Weigh them' : 'Weigh it'}
      </HereDeed>
      {isLot ? (
        <HereDeed id="move-heads" target={{ to: 'flock/subject/:subject/heads', params }}>
          Split, merge or tag one
        </HereDeed>
      ) : null}
      <HereDeed id="change-this" target={{ to: 'flock/subject/:subject/change', params }}>
        {isLot ? 'Count again or change' : 'Change or retag'}
      </HereDeed>
      <DeedLink to="flock/event" query={{ subject }}>
        Lambed, device out, in milk or dry
      </DeedLink>
      {isLambing(page.who.class) ? (
        <DeedLink to="flock/subject/:subject/at-foot" params={params}>
          {isLot ? 'Say which ewes they suck' : 'Say which ewe it sucks'}
        </DeedLink>
      ) : null}
      <HereDeed id="depart-this" target={{ to: 'flock/depart', query: { subject } }}>
        {isLot ? 'Some sold, died or moved' : 'Sold, died or moved'}
      </HereDeed>
    </>
  );
}

/** Young enough to be at foot. */
function isLambing(cls: string): boolean {
  return cls === 'lamb' || cls === 'ewe-lamb' || cls === 'ram-lamb';
}

/** Who sucks whom, where anything is written of it. */
function AtFoot({ subject }: { subject: string }) {
  const call = useCall('at-foot', { subject });
  if (call.state !== 'ready' || call.value.links.length === 0) return null;
  return (
    <Section title="At foot">
      <Links links={call.value.links} />
    </Section>
  );
}

/** What each hold waits for, with the deed that ends it. */
function Waits({ page }: { page: SubjectPage }) {
  if (page.waits.length === 0) return null;
  return (
    <Section title="Waiting for a word">
      <Sentences label="Waiting for a word">
        {page.waits.map((wait) => (
          <Sentence
            key={`${wait.hold} ${wait.subject}`}
            mind
            margin="Held"
            small={
              wait.subject === page.who.subject
                ? undefined
                : `It came with its heads from ${wait.on}; what ends it there ends it for all of them.`
            }
            deed={
              <DeedLink
                to="flock/subject/:subject/word/:hold"
                params={{ subject: wait.subject, hold: wait.hold }}
                query={{ back: page.who.subject }}
              >
                {wait.cause === 'bought-in' ? 'There is a statement' : 'It is settled'}
              </DeedLink>
            }
          >
            {wait.text}
          </Sentence>
        ))}
      </Sentences>
    </Section>
  );
}

/** All holds on a line of time, those that ended too. Organic and export clocks stand apart by their words. */
function Holds({ page }: { page: SubjectPage }) {
  // A farm that takes no milk is not told of milk; a hold that began and ended at once never held.
  const milks = page.verdicts.some((verdict) => verdict.produce === 'milk');
  const rows = page.holds
    .filter((hold) => hold.state !== 'none' && hold.from !== undefined)
    .filter((hold) => milks || hold.produce !== 'milk')
    .filter((hold) => !hold.text.includes('no withdrawal (0 days)'))
    .map((hold, n) => ({
      key: `${n} ${hold.source} ${hold.produce} ${hold.market} ${hold.clock}`,
      label: [
        produceWord(hold.produce.replace('-', ' ')),
        hold.market === 'export' ? 'for export' : '',
        hold.clock === 'organic' ? 'organic' : '',
      ]
        .filter((word) => word !== '')
        .join(', '),
      from: hold.from ?? page.now,
      until: hold.state === 'until' || hold.state === 'dormant' ? hold.until : undefined,
      text: hold.text.replace(/^[A-Z][a-z ]*? (?=held|clear)|^[A-Z][a-z ]*: /, ''),
    }));
  if (rows.length === 0) return null;
  const isPast = ({ until }: { until?: string | undefined }) =>
    until !== undefined && Date.parse(until) <= Date.parse(page.now);
  const past = rows.filter(isPast);
  const running = rows.filter((row) => !isPast(row));
  return (
    <Section title="Withdrawal">
      {running.length === 0 ? (
        <p className="hint">No withdrawal is running.</p>
      ) : (
        <Timeline rows={running} now={page.now} label="Running" />
      )}
      {past.length === 0 ? null : (
        <details className="past">
          <summary>Past, {past.length.toLocaleString('en-GB')}</summary>
          <Timeline rows={past.toReversed()} now={page.now} label="Past" />
        </details>
      )}
    </Section>
  );
}
