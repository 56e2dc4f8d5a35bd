import './flock.css';
import { useState } from 'react';
import type { Ask } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { DayField } from '../../parts/day-field.tsx';
import { CommandDeed } from '../../parts/deed.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { go, useLocation } from '../../router.tsx';
import { Box } from './box.tsx';
import { type CoverRow, coverStates, sayCounts, sayState } from './cover-words.ts';
import { sayClass, sayLocal } from './words.ts';

const columns: readonly Column<CoverRow>[] = [
  { key: 'shown', head: 'Tag or lot', text: (row) => row.shown, also: (row) => row.shown.replace(/\s/g, '') },
  { key: 'class', head: 'Class', text: (row) => sayClass(row.class), share: 0.6 },
  { key: 'name', head: 'Vaccine', text: (row) => row.name },
  { key: 'state', head: 'Stands', text: (row) => sayState(row.state), share: 0.7 },
  {
    key: 'day',
    head: 'Until, or since',
    text: (row) => row.since ?? row.until ?? row.next?.due ?? '',
    show: (row) => sayDay(row),
    share: 0.9,
  },
  { key: 'text', head: 'By the label', text: (row) => row.text, share: 2.6 },
];

function sayDay({ state, until, since, next }: CoverRow): string {
  if (since !== undefined) return `since ${sayLocal(since)}`;
  if (state === 'covered' && until !== undefined) return `to ${sayLocal(until)}`;
  return next === undefined ? '' : `due ${sayLocal(next.due)}`;
}

/** Who is covered by which vaccine, today or on another day: counted, listed, narrowed down, saved as a file. */
export default function VaccinesScreen() {
  const { query } = useLocation();
  const [medicine, setMedicine] = useState(query.medicine ?? '');
  const [group, setGroup] = useState(query.group ?? '');
  const [state, setState] = useState('');
  const [day, setDay] = useState('');
  const groups = useCall('groups', {});
  const every = useCall('coverage', { states: [] });
  const ask: Ask<'coverage'> = {
    ...(medicine === '' ? {} : { medicine }),
    ...(group === '' ? {} : { group }),
    ...(/^\d{4}-\d{2}-\d{2}$/.test(day) ? { on: day } : {}),
  };
  const call = useCall('coverage', ask);
  return (
    <Screen
      title="Who is covered by which vaccine"
      lead="By the doses in this book and what each label says. A dose of another medicine does not count, and what the label does not say is not known."
      deeds={<CommandDeed id="plan-session" />}
    >
      <Section title="Which">
        <div className="flock-boxes">
          <Box
            label="Vaccine"
            value={medicine}
            onChange={setMedicine}
            options={[
              { value: '', label: 'Every vaccine' },
              ...(every.state === 'ready'
                ? every.value.vaccines.map((one) => ({ value: one.medicine, label: one.name }))
                : []),
            ]}
          />
          <Box
            label="Group"
            value={group}
            onChange={setGroup}
            options={[
              { value: '', label: 'In any group or none' },
              ...(groups.state === 'ready'
                ? groups.value.groups.map((one) => ({ value: one.group, label: one.name }))
                : []),
            ]}
          />
          <Box
            label="Stands"
            value={state}
            onChange={setState}
            options={[{ value: '', label: 'However it stands' }, ...coverStates]}
          />
        </div>
        <div className="form">
          <DayField
            name="on"
            label="On another day"
            value={day}
            onChange={setDay}
            hint="By the doses given up to today. Left empty: today."
            optional
          />
        </div>
      </Section>
      <Await call={call} what="Counting who is covered">
        {({ vaccines, rows, on }) => (
          <Section title={`On ${sayLocal(on)}`}>
            {vaccines.length === 0 ? null : (
              <Sentences label="How they stand">
                {vaccines.map((one) => (
                  <Sentence key={one.medicine} margin="Stands">
                    <strong>{one.name}</strong>: {sayCounts(one.heads)}.
                  </Sentence>
                ))}
              </Sentences>
            )}
            <List
              rows={state === '' ? rows : rows.filter((row) => row.state === state)}
              columns={columns}
              rowKey={(row) => `${row.subject} ${row.medicine}`}
              label="Coverage"
              fileName="vaccines"
              heads={(row) => row.heads}
              onOpen={(row) => go({ to: 'flock/subject/:subject', params: { subject: row.subject } })}
              empty={
                vaccines.length === 0 ? (
                  <Empty deed={<CommandDeed id="write-label" />}>
                    No vaccine is on record. Write down the label of one first.
                  </Empty>
                ) : (
                  <Empty>Nobody here stands like that.</Empty>
                )
              }
            />
          </Section>
        )}
      </Await>
    </Screen>
  );
}
