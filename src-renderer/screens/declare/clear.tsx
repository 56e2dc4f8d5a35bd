import '../book/book.css';
import { useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { DayField, readBackDay, TimeField } from '../../parts/day-field.tsx';
import { CommandDeed, DeedLink } from '../../parts/deed.tsx';
import { Select } from '../../parts/field.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { go, useLocation } from '../../router.tsx';
import { joinLocal, localInWords } from '../book/when.ts';
import {
  abroadColumns,
  type ClearRow,
  clearColumns,
  type HeldRow,
  headsOf,
  heldColumns,
} from './clear-rows.ts';
import { Doubted } from './doubted.tsx';
import { GOALS, type Goal, goalOf } from './goals.ts';
import { Staying } from './staying.tsx';

type Farm = Reply<'farm'>;

/** Who may go on a day, and who may not, until when and why: two plain lists. */
export default function ClearScreen() {
  const farm = useCall('farm', {});
  return (
    <Screen
      title="Who is clear"
      lead="Who may go on a day you choose, and who may not yet. Without a time the start of that day counts."
      deeds={<CommandDeed id="declare" />}
    >
      <Doubted>
        <Await call={farm} what="Reading the farm">
          {(value) => <Clear farm={value} />}
        </Await>
      </Doubted>
    </Screen>
  );
}

function Clear({ farm }: { farm: Farm }) {
  const { query } = useLocation();
  const [day, setDay] = useState(farm.clock.today);
  const [time, setTime] = useState('');
  const [group, setGroup] = useState(query.group ?? '');
  const [goal, setGoal] = useState<Goal>(goalOf(query.for));
  const groups = useCall('groups', {});
  const isDay = readBackDay(day) !== undefined;
  const call = useCall(
    'clear-list',
    isDay ? { at: joinLocal(day, time), ...GOALS[goal].ask, ...(group === '' ? {} : { group }) } : null,
  );
  return (
    <>
      <div className="book-filters">
        <DayField
          name="day"
          label="Day"
          value={day}
          onChange={setDay}
          error={isDay ? undefined : 'Write a day.'}
        />
        <TimeField name="time" label="Time" value={time} onChange={setTime} optional />
        <Select
          name="goal"
          label="For"
          value={goal}
          onChange={(value) => setGoal(goalOf(value))}
          // A farm that takes no milk is not asked about it.
          options={Object.entries(GOALS)
            .filter(([key]) => !key.startsWith('milk') || farm.holdings.some((holding) => holding.milk))
            .map(([value, { label }]) => ({ value, label }))}
        />
        {groups.state !== 'ready' || groups.value.groups.length === 0 ? null : (
          <Select
            name="group"
            label="Group"
            value={group}
            onChange={setGroup}
            options={[
              { value: '', label: 'The whole flock' },
              ...groups.value.groups.map((one) => ({ value: one.group, label: one.name })),
            ]}
          />
        )}
      </div>
      {goal === 'shearing' || goal === 'wool' ? (
        <p className="hint">
          Only labels that say something of shearing or of wool hold anybody here. Where a label is silent,
          ask its maker or the vet.
        </p>
      ) : null}
      {isDay ? (
        <Await call={call} what="Looking who is clear">
          {(value) => (
            <>
              {goal === 'slaughter-export' ? <SilentOnExport silent={value.silent} /> : null}
              {query.show === 'no-date' ? null : <Staying steps={value.steps} held={value.held} />}
              <Both value={value} at={joinLocal(day, time)} onlyNoDate={query.show === 'no-date'} />
            </>
          )}
        </Await>
      ) : null}
    </>
  );
}

/** Which labels print nothing for export: what was counted for them, and whom to ask. */
function SilentOnExport({ silent }: { silent: Reply<'clear-list'>['silent'] }) {
  return (
    <>
      <p className="hint">
        For export the periods that the labels print for export count beside those for people here. One export
        market may ask for more than another: ask the buyer.
      </p>
      {silent.length === 0 ? null : (
        <Notice kind="mind" word="Silent on export">
          <p>
            {silent.length === 1
              ? 'The label of a medicine given in the last 12 months says'
              : `The labels of ${silent.length} medicines given in the last 12 months say`}{' '}
            nothing of export. Only the period for people here is counted for{' '}
            {silent.length === 1 ? 'it' : 'them'}. Ask the buyer, or the maker, whether a longer one holds.
          </p>
          <details>
            <summary>Which, and into how many</summary>
            <ul>
              {silent.map(({ product, heads }) => (
                <li key={product}>
                  {product}, {count(heads, 'head', 'head')}
                </li>
              ))}
            </ul>
          </details>
        </Notice>
      )}
    </>
  );
}

/** A column of these lists as it is shown: number and class in one piece, the date that matters set large. */
function shownAs<T extends ClearRow | HeldRow>(column: Column<T>): Column<T> {
  const classes: Readonly<Record<string, string>> = {
    who: 'record-who',
    class: 'record-whole',
    until: 'record-until record-whole',
  };
  const className = classes[column.key];
  return className === undefined
    ? column
    : { ...column, show: (row) => <span className={className}>{column.text(row)}</span> };
}
const heldShown = heldColumns.map(shownAs);
const clearShown = clearColumns.map(shownAs);
const abroadShown = abroadColumns.map(shownAs);

function Both({ value, at, onlyNoDate }: { value: Reply<'clear-list'>; at: string; onlyNoDate: boolean }) {
  const held = onlyNoDate ? value.held.filter((row) => row.clear === undefined) : value.held;
  const when = localInWords(at);
  const toSubject = (row: { subject: string }) =>
    go({ to: 'flock/subject/:subject', params: { subject: row.subject } });
  return (
    <>
      <Section
        title={
          onlyNoDate
            ? `${count(headsOf(held), 'head', 'head')} held with no date`
            : `${count(headsOf(held), 'head', 'head')} held on ${when}`
        }
        deeds={onlyNoDate ? <DeedLink to="declare/clear">Show all who are held</DeedLink> : undefined}
      >
        <div className="record">
          <List
            rows={held}
            columns={heldShown}
            rowKey={(row) => row.subject}
            label="Held"
            heads={(row) => row.heads}
            fileColumns={heldColumns}
            fileName={`held-${at.slice(0, 10)}`}
            first={{ key: 'until', isDown: false }}
            onOpen={toSubject}
            empty={
              <Empty>{onlyNoDate ? 'Everybody who is held clears by waiting.' : 'Nobody is held.'}</Empty>
            }
          />
        </div>
      </Section>
      {onlyNoDate ? null : (
        <Section title={`${count(headsOf(value.clear), 'head', 'head')} clear on ${when}`}>
          <div className="record">
            <List
              rows={value.clear}
              columns={value.destination === 'export' ? abroadShown : clearShown}
              rowKey={(row) => row.subject}
              label="Clear"
              heads={(row) => row.heads}
              fileColumns={value.destination === 'export' ? abroadColumns : clearColumns}
              fileName={`clear-${at.slice(0, 10)}`}
              onOpen={toSubject}
              empty={
                value.held.length > 0 ? (
                  <Empty>Nobody is clear.</Empty>
                ) : (
                  <Empty deed={<CommandDeed id="add-animal" />}>No animal is in the book yet.</Empty>
                )
              }
            />
          </div>
        </Section>
      )}
    </>
  );
}
