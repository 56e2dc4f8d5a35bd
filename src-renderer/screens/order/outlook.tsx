import { lazy, Suspense } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { upper } from '../../../src-shared/label/say-text.ts';
import { type Day, daysBetween, printDay } from '../../../src-shared/time/day.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { Select } from '../../parts/field.tsx';
import { WriteQuestions } from '../../parts/form.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { FaultNotice, Warnings } from '../../parts/notice.tsx';
import { Result, Working } from '../../parts/result.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { listed } from '../../parts/words.ts';
import { go, useLocation, useParams } from '../../router.tsx';
import { sayTalk } from './outlook-lines.ts';

type Outlook = Reply<'outlook'>;
type DayRow = Outlook['days'][number];

const Chart = lazy(() => import('../../drawings/outlook-chart.tsx'));

/** The most days the desk looks ahead. */
const HALF_YEAR = 183;
const YEAR = 365;

/** The stock of one medicine in the days ahead: chart, days, work, what to buy, how it was worked out. */
export default function OutlookScreen() {
  const { medicine } = useParams('order/outlook/:medicine');
  const { query } = useLocation();
  const days = Number(query.days ?? HALF_YEAR);
  const call = useCall('outlook', {
    medicine,
    days: days >= 1 && days <= 731 ? Math.floor(days) : HALF_YEAR,
  });
  return (
    <Await call={call} what="Looking ahead">
      {(outlook) => <Shown outlook={outlook} days={String(days)} />}
    </Await>
  );
}

function Shown({ outlook, days }: { outlook: Outlook; days: string }) {
  const { medicine, name, headline, isOfTheVet, supplier } = outlook;
  const top = outlook.days.reduce<DayRow | undefined>(
    (most, one) => (most === undefined || one.start > most.start ? one : most),
    undefined,
  );
  return (
    <Screen
      title={`${name}: outlook`}
      lead={headline.says}
      deeds={
        <>
          {isOfTheVet ? null : (
            <DeedLink
              to="order/write"
              query={supplier === undefined ? { medicine } : { supplier, medicine }}
              weight="main"
            >
              Write an order list
            </DeedLink>
          )}
          <DeedLink to="order/supply/:medicine" params={{ medicine }}>
            How it is bought
          </DeedLink>
          <DeedLink to="order/work" query={{ medicine }}>
            Plan work ahead
          </DeedLink>
          <DeedLink to="cabinet/medicine/:medicine" params={{ medicine }}>
            See the medicine
          </DeedLink>
        </>
      }
    >
      {headline.small === undefined ? null : <p>{headline.small}</p>}
      <Warnings warnings={outlook.warnings} />
      <Section title="Day by day">
        <Ahead outlook={outlook} days={days} />
        <Suspense fallback={<p className="awaited">Drawing…</p>}>
          <Chart name={name} days={outlook.days} topText={top?.startText ?? ''} />
        </Suspense>
        <List
          rows={eventful(outlook.days)}
          columns={columns}
          rowKey={({ day }) => day}
          label="Days on which something changes"
          fileName={`${name} outlook`}
          empty={<p>Nothing changes on these days.</p>}
        />
        <Working lines={outlook.working} />
      </Section>
      <Works outlook={outlook} />
      {isOfTheVet ? (
        <Section title="To discuss with the vet">
          <p>{sayTalk(outlook)}</p>
        </Section>
      ) : (
        <Buy outlook={outlook} />
      )}
      {outlook.unused.length === 0 ? null : (
        <Section title="Will not be used up">
          <Sentences label="Will not be used up">
            {outlook.unused.map((one) => (
              <Sentence
                key={one.container}
                margin={one.label}
                deed={
                  <DeedLink to="cabinet/container/:container" params={{ container: one.container }}>
                    See the container
                  </DeedLink>
                }
              >
                {one.says}
              </Sentence>
            ))}
          </Sentences>
          {outlook.unusedCost.length === 0 ? null : <p>In all {listed(outlook.unusedCost)} lost.</p>}
        </Section>
      )}
      {outlook.notCounted.length === 0 ? null : (
        <Section title="On the shelf and not counted">
          <ul>
            {outlook.notCounted.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </Section>
      )}
    </Screen>
  );
}

/** Days on which more happens than a little of everyday use; of those that lack it day by day only the first. */
function eventful(days: readonly DayRow[]): DayRow[] {
  const firstShort = days.find(({ shortText }) => shortText !== '')?.day;
  return days.filter(
    (one, n) =>
      n === 0 ||
      one.plannedText !== '' ||
      one.opened.length > 0 ||
      one.gone.length > 0 ||
      one.day === firstShort,
  );
}

const columns: readonly Column<DayRow>[] = [
  { key: 'day', head: 'Day', text: ({ day }) => printDay(day as Day), order: ({ day }) => day },
  {
    key: 'start',
    head: 'May be used',
    text: ({ startText }) => startText,
    order: ({ start }) => start,
    isNumber: true,
  },
  { key: 'planned', head: 'Planned work', text: ({ plannedText }) => plannedText, isNumber: true },
  { key: 'other', head: 'Other use', text: ({ otherText }) => otherText, isNumber: true },
  { key: 'short', head: 'Missing', text: ({ shortText }) => shortText, isNumber: true },
  { key: 'opened', head: 'Opened', text: ({ opened }) => opened.join(', ') },
  {
    key: 'gone',
    head: 'Ends unused',
    text: ({ gone }) =>
      gone
        .map(({ label, text, why }) => `${label}, ${text} ${why === 'expired' ? 'expired' : 'open too long'}`)
        .join('; '),
  },
  { key: 'end', head: 'Left', text: ({ endText }) => endText, order: ({ end }) => end, isNumber: true },
];

/** How far to look: to a piece of work, or by seasons. */
function Ahead({ outlook: { medicine, works, today }, days }: { outlook: Outlook; days: string }) {
  const to = new Map<string, string>();
  for (const { on, what, onText } of works.slice(0, 8)) {
    const many = String(daysBetween(today as Day, on as Day) + 1);
    if (!to.has(many)) to.set(many, `To “${what}”, ${onText}`);
  }
  to.set(String(HALF_YEAR), 'Half a year');
  to.set(String(YEAR), 'A year');
  if (!to.has(days)) to.set(days, `${days} days`);
  return (
    <Select
      name="days"
      label="Look ahead"
      value={days}
      error={undefined}
      options={[...to].map(([value, label]) => ({ value, label }))}
      onChange={(value) =>
        go({ to: 'order/outlook/:medicine', params: { medicine }, query: { days: String(value) } })
      }
    />
  );
}

const sources: Readonly<Record<Outlook['works'][number]['source'], string>> = {
  session: 'Open session',
  course: 'Course',
  foreseen: 'Planned',
  vaccine: 'Falls due',
};

function Works({ outlook: { works, medicine } }: { outlook: Outlook }) {
  const end = useWrite('end-foreseen-work');
  return (
    <Section title="Work ahead">
      {end.now.state === 'failed' ? <FaultNotice fault={end.now.fault} /> : null}
      <WriteQuestions write={end} />
      {works.length === 0 ? (
        <Empty
          deed={
            <DeedLink to="order/work" query={{ medicine }}>
              Plan work ahead
            </DeedLink>
          }
        >
          No work with it is planned. What is planned is what stock is held against.
        </Empty>
      ) : (
        <Sentences label="Work ahead">
          {works.map((one) => (
            <Sentence
              key={one.key}
              margin={one.onText}
              small={sources[one.source]}
              mind={one.unknown !== undefined && one.need === undefined}
              deed={<WorkDeeds one={one} onEnd={(work, state) => void end.send({ work, state })} />}
            >
              {`${upper(one.what)}: ${sayNeed(one)}`}
            </Sentence>
          ))}
        </Sentences>
      )}
    </Section>
  );
}

function sayNeed({ need, doses, heads, unknown }: Outlook['works'][number]): string {
  const known = need === undefined ? [] : [`${heads} head, ${doses} and with losses ${need}.`];
  const open = unknown === undefined ? [] : [`Not counted: ${unknown}`];
  return [...known, ...open].join(' ');
}

function WorkDeeds({
  one,
  onEnd,
}: {
  one: Outlook['works'][number];
  onEnd: (work: string, state: 'done' | 'dropped') => void;
}) {
  const { session, work } = one;
  if (session !== undefined) {
    return (
      <DeedLink to="treat/session/:session" params={{ session }}>
        Go to the session
      </DeedLink>
    );
  }
  if (work === undefined) return null;
  return (
    <>
      <DeedLink to="order/work" query={{ work }}>
        Change
      </DeedLink>{' '}
      <Deed label={`Done: ${one.what}`} onDo={() => onEnd(work, 'done')}>
        Done
      </Deed>{' '}
      <Deed label={`Does not come: ${one.what}`} onDo={() => onEnd(work, 'dropped')}>
        Does not come
      </Deed>
    </>
  );
}

function Buy({ outlook: { buy, noBuy, medicine } }: { outlook: Outlook }) {
  const supply = (
    <DeedLink to="order/supply/:medicine" params={{ medicine }}>
      How it is bought
    </DeedLink>
  );
  if (noBuy !== undefined) {
    return (
      <Section title="What to buy" deeds={supply}>
        <p>{noBuy}</p>
      </Section>
    );
  }
  if (buy === undefined) return null;
  return (
    <Section title="What to buy">
      <Result
        label="The cheapest packs for what is missing"
        big={buy.packs.map(({ count, size }) => `${count} × ${size}`).join(' + ')}
        working={buy.working}
      >
        <p>{buy.says}</p>
      </Result>
    </Section>
  );
}
