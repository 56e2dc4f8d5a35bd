import '../book/book.css';
import { useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { type Day, printDay } from '../../../src-shared/time/day.ts';
import { desk } from '../../desk.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { DayField, readBackDay } from '../../parts/day-field.tsx';
import { CommandDeed, DeedLink } from '../../parts/deed.tsx';
import { HoldingChoice } from '../../parts/holding-choice.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { MadePaper } from '../../parts/made-paper.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { go } from '../../router.tsx';

type Page = Reply<'vet-page'>;

const day = (text: string) => printDay(text as Day);

/** What the vet wants to know since the last visit. */
export default function VetPageScreen() {
  const [since, setSince] = useState('');
  const [holding, setHolding] = useState('');
  const isDay = since === '' || readBackDay(since) !== undefined;
  const asked = { ...(since === '' ? {} : { since }), ...(holding === '' ? {} : { holding }) };
  const call = useCall('vet-page', isDay ? asked : null);
  return (
    <Screen
      title="For the vet"
      lead="What was given and why since the last visit, what came again, and what is still to be talked about."
      deeds={
        <>
          <CommandDeed id="record-vet-visit" weight="main" />
          <CommandDeed id="use" />
          <DeedLink to="farm/papers">Instructions and prescriptions</DeedLink>
        </>
      }
    >
      <div className="book-filters">
        <DayField
          name="since"
          label="Since"
          hint="Empty: since the last visit."
          value={since}
          onChange={setSince}
          error={isDay ? undefined : 'Write a day, or leave it empty.'}
        />
        <HoldingChoice value={holding} onChange={setHolding} />
      </div>
      <Await call={call} what="Reading the book">
        {(page) => (
          <>
            <Shown page={page} />
            <MadePaper
              key={`${page.since} ${holding}`}
              deed="Print it for the vet"
              title="For the vet"
              saveAs="for-the-vet.pdf"
              onMake={() => desk.call('vet-page-paper', asked)}
            />
          </>
        )}
      </Await>
    </Screen>
  );
}

const givenColumns: readonly Column<Page['given'][number]>[] = [
  {
    key: 'name',
    head: 'Medicine',
    isName: true,
    share: 2,
    text: (row) => (row.isAntimicrobial ? `${row.name} (antimicrobial)` : row.name),
  },
  { key: 'reason', head: 'For', share: 2, text: (row) => row.reason },
  { key: 'heads', head: 'Head', isNumber: true, text: (row) => String(row.heads), order: (row) => row.heads },
  {
    key: 'when',
    head: 'When',
    share: 2,
    text: (row) => (row.first === row.last ? day(row.first) : `${day(row.first)} to ${day(row.last)}`),
    order: (row) => row.last,
  },
];

function Shown({ page }: { page: Page }) {
  return (
    <>
      <p>
        {day(page.since)} to {day(page.to)}; {page.because}.
      </p>
      <Talk page={page} />
      <Section title="Given, and why">
        <List
          rows={page.given}
          columns={givenColumns}
          rowKey={(row) => `${row.medicine} ${row.reason}`}
          label="Given, and why"
          fileName="given-since-the-last-visit"
          onOpen={({ medicine }) => go({ to: 'book', query: { medicine } })}
          empty={<Empty>Nothing was given in this time.</Empty>}
        />
      </Section>
      <Section title="Antimicrobials">
        <Sentences label="Antimicrobials">
          {page.antimicrobials.map((one) => (
            <Sentence key={one.group} margin={one.text}>
              {one.name}
            </Sentence>
          ))}
          {page.missing.map((text) => (
            <Sentence key={text} mind margin="Not counted in" deed={<CommandDeed id="use" />}>
              {text}
            </Sentence>
          ))}
          {page.antimicrobials.length + page.missing.length === 0 ? (
            <Sentence margin="None">No antimicrobial was given.</Sentence>
          ) : null}
        </Sentences>
      </Section>
      <Visits />
    </>
  );
}

/** What there is to talk about: repeats, no effect, reactions, outside the label, vaccines, instructions. */
function Talk({ page }: { page: Page }) {
  const open = (administration: string) => (
    <DeedLink to="book/treatment/:administration" params={{ administration }}>
      Open
    </DeedLink>
  );
  const lines = [
    ...page.again.map((one) => (
      <Sentence
        key={`again ${one.subject} ${one.reason}`}
        margin="Again"
        small={one.times.map((each) => `${day(each.day)} ${each.product}`).join(' · ')}
        deed={open(one.times.at(-1)?.administration ?? '')}
      >
        <strong>{one.shown}</strong>: {one.reason}, {count(one.times.length, 'time', 'times')} in{' '}
        {count(one.days, 'day', 'days')}.
      </Sentence>
    )),
    ...[...page.noEffect, ...page.reactions].map((one) => (
      <Sentence
        key={one.reaction}
        margin={page.noEffect.includes(one) ? 'No effect' : 'Reaction'}
        small={`Seen ${one.local}. How it went on: ${one.outcome}.`}
        deed={
          <DeedLink to="book/reaction-paper/:reaction" params={{ reaction: one.reaction }}>
            Report
          </DeedLink>
        }
      >
        <strong>{one.shown}</strong>, {one.product}: {one.seen}
      </Sentence>
    )),
    ...page.otherwise.map((one) => (
      <Sentence
        key={`otherwise ${one.name} ${one.code}`}
        margin={one.isOffLabel ? 'Off label' : 'Otherwise'}
        small={one.who}
        deed={open(one.administration)}
      >
        <strong>{one.name}</strong>, {count(one.heads, 'head', 'head')}: {one.text}
      </Sentence>
    )),
    ...page.vaccines.map((one) => (
      <Sentence
        key={one.key}
        margin="Vaccine"
        deed={<DeedLink to="flock/vaccines">See who is covered</DeedLink>}
      >
        {one.text}
      </Sentence>
    )),
    ...page.notInWriting.map((one) => (
      <Sentence
        key={one.instruction}
        margin="Not in writing"
        small={`Said by ${one.vetName} on ${day(one.day)}.`}
        deed={<DeedLink to="farm/papers">See it</DeedLink>}
      >
        {one.what}
      </Sentence>
    )),
  ];
  return (
    <Section title="To talk about">
      {lines.length === 0 ? (
        <Empty>
          Nothing came again within {count(page.repeatDays, 'day', 'days')}, nothing was reported, and nothing
          waits for a paper.
        </Empty>
      ) : (
        <Sentences label="To talk about">{lines}</Sentences>
      )}
    </Section>
  );
}

function Visits() {
  const call = useCall('vet-visits', {});
  if (call.state !== 'ready' || call.value.visits.length === 0) return null;
  return (
    <Section title="Visits">
      <Sentences label="Visits">
        {call.value.visits.map((visit) => (
          <Sentence
            key={visit.visit}
            margin={day(visit.day)}
            small={[
              ...(visit.found === undefined ? [] : [visit.found]),
              ...(visit.next === undefined ? [] : [`Next visit ${day(visit.next)}.`]),
            ].join(' ')}
          >
            <strong>{visit.vetName}</strong>: {visit.what}
          </Sentence>
        ))}
      </Sentences>
    </Section>
  );
}
