import './book.css';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Attachments } from '../../parts/attachments.tsx';
import { Await } from '../../parts/await.tsx';
import { DeedLink } from '../../parts/deed.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Result, Working } from '../../parts/result.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { sayWeighed } from '../../parts/weight-values.ts';
import { useLocation, useParams } from '../../router.tsx';
import { OrganicOfTreatment } from '../farm/organic-said.tsx';
import { Reactions } from '../safety/reactions.tsx';
import {
  correctionWords,
  doseWords,
  endWords,
  entryOfQuery,
  heldLabel,
  heldWords,
  isOver,
  lineQuery,
  noWithdrawal,
  routeWords,
} from './record.ts';
import { instantInWords, localInWords } from './when.ts';

type Treatment = Reply<'treatment'>;
type Version = Treatment['versions'][number];

/** One line of the record, opened: what was decided for it, where it came from, what may be done with it. */
export default function TreatmentScreen() {
  const { administration } = useParams('book/treatment/:administration');
  const { query } = useLocation();
  const entry = entryOfQuery(query);
  const call = useCall('treatment', { administration, ...(entry === undefined ? {} : { entry }) });
  const farm = useCall('farm', {});
  return (
    <Await call={farm} what="Reading the farm">
      {({ holdings, clock }) => (
        <Await call={call} what="Opening the line">
          {(line) => (
            <Opened
              line={line}
              milks={holdings.some((holding) => holding.milk)}
              today={clock.state === 'believed' ? clock.today : undefined}
            />
          )}
        </Await>
      )}
    </Await>
  );
}

function Opened({
  line,
  milks,
  today,
}: {
  line: Treatment;
  milks: boolean;
  /** Absent while the date is in doubt: nothing is then called over. */
  today: string | undefined;
}) {
  const now = line.versions.at(-1);
  if (now === undefined) return null;
  const until = endWords(now.period, now.until, now.local);
  const isPast = line.stands && !until.startsWith(noWithdrawal) && isOver(now, today, line.zone);
  return (
    <Screen
      title={`${now.product} into ${now.shown}`}
      lead={`Given ${localInWords(now.local)}. Entry ${line.seq} of the journal, written by ${line.by} on ${instantInWords(line.recorded, line.zone)}${line.clock === 'doubted' ? ', when the date of the computer was in doubt' : ''}.`}
      deeds={line.stands ? <LineDeeds line={line} now={now} /> : undefined}
    >
      {line.stands ? null : (
        <Notice kind="mind" word="Struck out">
          <p>{correctionWords(now, line.zone)}</p>
          <p>It counts for nothing any more. What follows is what it said.</p>
        </Notice>
      )}
      <Result
        label={isPast ? 'Meat withdrawal, over since' : heldLabel(until, line.stands)}
        big={`${until.slice(0, 1).toUpperCase()}${until.slice(1)}`}
        working={line.working}
      >
        <p>{sentenceOf(line, now)}</p>
      </Result>
      <Holds line={line} milks={milks} />
      <Drawn line={line} now={now} />
      {line.deviations.length === 0 ? null : (
        <Section title="Not as the label or the plan says">
          <Sentences>
            {line.outside === undefined ? null : (
              <Sentence mind margin="The vet">
                <strong>{line.outside}.</strong> The label’s own periods do not speak for it.
              </Sentence>
            )}
            {line.deviations.map((each) => (
              <Sentence key={each.code} mind margin="Deviation">
                {each.text}
              </Sentence>
            ))}
          </Sentences>
        </Section>
      )}
      <Followed line={line} />
      {line.stands ? <OrganicOfTreatment administration={line.administration} /> : null}
      <Reactions of={{ administration: line.administration }} />
      <Versions line={line} />
      {line.stands ? <Attachments of={[{ what: 'treatment', id: line.administration }]} /> : null}
    </Screen>
  );
}

/** The vet's word it follows, or that there is none where one is needed. */
function Followed({ line }: { line: Treatment }) {
  if (line.instruction === undefined && line.outside === undefined) return null;
  return (
    <Section title="The vet’s instruction">
      <Sentences>
        {line.instruction === undefined ? (
          <Sentence
            mind
            margin="None"
            deed={
              <DeedLink to="book/correct/:administration" params={{ administration: line.administration }}>
                Add the vet’s word
              </DeedLink>
            }
          >
            The vet has no word on it yet: until there is one, no time clears what it holds.
          </Sentence>
        ) : (
          <Sentence
            margin="Follows"
            deed={
              <DeedLink
                to="treat/instruction/:instruction"
                params={{ instruction: line.instruction.instruction }}
              >
                Open the instruction
              </DeedLink>
            }
          >
            {line.instruction.says}
          </Sentence>
        )}
      </Sentences>
    </Section>
  );
}

function LineDeeds({ line, now }: { line: Treatment; now: Version }) {
  return (
    <>
      <DeedLink to="book/correct/:administration" params={{ administration: line.administration }}>
        Correct this treatment
      </DeedLink>
      <DeedLink to="book/reaction/:administration" params={{ administration: line.administration }}>
        Report a reaction or no effect
      </DeedLink>
      <DeedLink to="book/strike" query={lineQuery(now)} weight="grave">
        Strike it out
      </DeedLink>
      <DeedLink to="book/paper" query={{ form: 'animals', subject: line.subject }}>
        Print the page of {now.shown}
      </DeedLink>
      <DeedLink to="flock/subject/:subject" params={{ subject: line.subject }}>
        See {now.shown}
      </DeedLink>
    </>
  );
}

/** The line as a person would tell it. */
function sentenceOf(line: Treatment, now: Version): string {
  const weight =
    line.weight === undefined
      ? ''
      : ` for ${line.weight}${line.weightHow === undefined ? '' : ` (${sayWeighed(line.weightHow)}${line.weightOn === undefined ? '' : `, ${localInWords(line.weightOn)}`})`}`;
  const head = now.heads > 1 ? `${now.dose} a head for ${now.heads} head, ${now.quantity} in all,` : now.dose;
  const places = [line.side, line.site].filter((part) => part !== undefined).join(' ');
  const how = [
    routeWords(now.route),
    places === '' ? '' : `at ${places}`,
    line.sites.length > 1 ? `in ${line.sites.length} places (${line.sites.join(' + ')})` : '',
    line.needle === undefined ? '' : `needle ${line.needle}`,
    line.equipment === undefined ? '' : `with ${line.equipment}`,
  ].filter((part) => part !== '');
  const planned = line.planned === undefined ? '' : ` Planned was ${line.planned}.`;
  const leaked = line.leaked === undefined ? '' : ` Leaked back: ${line.leaked}.`;
  const course = line.course === undefined ? '' : ` Dose ${line.course.n} of ${line.course.of}.`;
  const dosedTo = now.dosedTo === undefined ? '' : ` (${now.dosedTo})`;
  return `${head}${dosedTo}${weight}, ${how.join(', ')}, for ${now.reason}. Given by ${now.givenBy}. Class then: ${now.class.replaceAll('-', ' ')}.${planned}${leaked}${course}`;
}

function Holds({ line, milks }: { line: Treatment; milks: boolean }) {
  // A farm that takes no milk is not told of the milk clock of a ewe that is not in milk.
  const shown = line.holds.filter((hold) => milks || hold.produce !== 'milk' || hold.state !== 'dormant');
  if (shown.length === 0) return null;
  return (
    <Section title={line.stands ? 'Withdrawal' : 'Withdrawal before it was struck out'}>
      <Sentences>
        {shown.map((hold) => (
          <Sentence
            key={`${hold.produce} ${hold.market} ${hold.clock}`}
            margin={hold.clock === 'organic' ? 'Organic' : hold.market === 'export' ? 'For export' : 'Food'}
            small={<Working lines={hold.working} />}
          >
            {hold.text}
          </Sentence>
        ))}
      </Sentences>
    </Section>
  );
}

function Drawn({ line, now }: { line: Treatment; now: Version }) {
  return (
    <Section title="Where it came from">
      <Sentences>
        {line.draws.map((draw) => (
          <Sentence
            key={`${draw.container} ${draw.amount} ${draw.lost ?? ''}`}
            margin={`Batch ${draw.batch}`}
            small={[
              draw.leaked === undefined ? '' : `${draw.leaked} of what was drawn leaked back.`,
              draw.lost === undefined ? '' : `With it ${draw.lost} was lost.`,
              `${draw.left} is in it now.`,
              now.expiry === '' ? '' : `Expiry ${now.expiry}.`,
            ].join(' ')}
            deed={
              <DeedLink to="cabinet/container/:container" params={{ container: draw.container }}>
                Open the container
              </DeedLink>
            }
          >
            {draw.amount} from <strong>{draw.label}</strong>
            {line.stands ? '' : ', back in it since'}.
          </Sentence>
        ))}
        {line.draws.length > 0 ? null : (
          <Sentence margin="Not ours" small={now.batch === '' ? undefined : `Batch ${now.batch}`}>
            It came from {now.source}. No stock of this farm moved.
          </Sentence>
        )}
        {line.session === undefined ? null : (
          <Sentence
            margin="Session"
            deed={
              <DeedLink to="treat/session/:session" params={{ session: line.session.session }}>
                See the session
              </DeedLink>
            }
          >
            {line.session.name}
          </Sentence>
        )}
      </Sentences>
    </Section>
  );
}

function Versions({ line }: { line: Treatment }) {
  if (line.versions.length < 2) return null;
  return (
    <Section title="What was written before">
      <Sentences>
        {line.versions.map((row, n) => {
          const words = correctionWords(row, line.zone);
          const said = `${row.shown}, ${localInWords(row.local)}: ${doseWords(row)}. Meat: ${heldWords(endWords(row.period, row.until, row.local))}.`;
          return (
            <Sentence
              key={row.correction?.recorded ?? 'stands'}
              margin={row.state === 'stands' ? 'Stands' : `Version ${n + 1}`}
              small={words}
            >
              {row.state === 'stands' ? said : <s>{said}</s>}
            </Sentence>
          );
        })}
      </Sentences>
    </Section>
  );
}
