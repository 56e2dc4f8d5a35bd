import './flock.css';
import { useEffect, useMemo, useRef, useState } from 'react';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, Deed, DeedLink } from '../../parts/deed.tsx';
import { List } from '../../parts/list.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { SubjectPicker } from '../../parts/subject-picker.tsx';
import { count } from '../../parts/words.ts';
import { go, useLocation } from '../../router.tsx';
import { Box } from './box.tsx';
import { columns, type HeldBy, shownColumns } from './flock-columns.tsx';
import { GroupsList } from './groups-list.tsx';
import { classOptions } from './words.ts';

const open = (row: { subject: string }) =>
  go({ to: 'flock/subject/:subject', params: { subject: row.subject } });

/** Every animal and lot: found by any number, listed, narrowed down, saved as a file. */
export default function FlockScreen() {
  const farm = useCall('farm', {});
  const { path } = useLocation();
  const box = useRef<HTMLInputElement>(null);
  useEffect(() => {
    // After the heading was given the cursor, as on every arrival.
    if (path === 'flock/find') box.current?.focus();
  }, [path]);
  const isEmpty =
    farm.state === 'ready' &&
    farm.value.counts.animals + farm.value.counts.lots + farm.value.counts.groups === 0;
  return (
    <Screen
      title="Flock"
      lead={
        farm.state === 'ready' && farm.value.counts.animals + farm.value.counts.lots > 0
          ? `${count(farm.value.counts.animals, 'named animal', 'named animals')}, ${count(farm.value.counts.lots, 'lot', 'lots')} and ${count(farm.value.counts.groups, 'group', 'groups')}.`
          : undefined
      }
      deeds={
        isEmpty ? undefined : (
          <>
            <CommandDeed id="add-animal" weight="main" />
            <CommandDeed id="set-group" />
            <CommandDeed id="depart" />
            <CommandDeed id="note-event" />
            <CommandDeed id="who-is-held" />
          </>
        )
      }
    >
      {isEmpty ? (
        <NobodyYet />
      ) : (
        <>
          <Section title="Find one">
            <div className="form">
              <SubjectPicker
                ref={box}
                hint="Type or read any number it has or had, the end of its tag, or the name of a lot; then Enter."
                onPick={open}
              />
            </div>
          </Section>
          <GroupsHere />
          <Section title="Files">
            <Sentences label="Files">
              <Sentence margin="Flock list" deed={<CommandDeed id="import-animals" />}>
                A list from a spreadsheet becomes animals. Every line is shown before it is taken.
              </Sentence>
              <Sentence margin="Weights" deed={<CommandDeed id="import-weighings" />}>
                What the crate or scale wrote down becomes weights of animals that are in the book.
              </Sentence>
              <Sentence margin="Taking back" deed={<DeedLink to="flock/imports">See what came in</DeedLink>}>
                A file that should not have come in is taken back as a whole.
              </Sentence>
            </Sentences>
          </Section>
          <Section title="All of them">
            <FlockList />
          </Section>
        </>
      )}
    </Screen>
  );
}

/** The groups as rows: the way a flock is thought of. */
function GroupsHere() {
  const groups = useCall('groups', {});
  if (groups.state !== 'ready' || groups.value.groups.length === 0) return null;
  return (
    <Section title="Groups">
      <GroupsList groups={groups.value.groups} isAside />
    </Section>
  );
}

/** Who is held for a produce at the start of today; nothing while it is looked up or the date is in doubt. */
function useHeld(produce: 'meat' | 'milk', today: string | undefined): HeldBy | undefined {
  const call = useCall('clear-list', today === undefined ? null : { at: today, produce });
  const rows = call.state === 'ready' ? call.value.held : undefined;
  return useMemo(() => rows && new Map(rows.map((row) => [row.subject, row])), [rows]);
}

/** The list with its three boxes: class, group, and whether they are still here. */
function FlockList() {
  const [sheepClass, setClass] = useState('');
  const [group, setGroup] = useState('');
  const [isHere, setHere] = useState(true);
  const farm = useCall('farm', {});
  const groups = useCall('groups', {});
  const members = useCall('group', group === '' ? null : { group });
  // The first of them are there at once; the whole flock follows while they are looked at.
  const first = useCall('animals', { present: isHere });
  const isMore = first.state === 'ready' && first.value.next !== undefined;
  const whole = useCall('animals', isMore ? { present: isHere, limit: 25_000 } : null);
  const animals = whole.state === 'loading' ? first : whole;
  const lots = useCall('lots', { empty: !isHere });

  const animalRows = animals.state === 'ready' ? animals.value.animals : undefined;
  const lotRows = lots.state === 'ready' ? lots.value.lots : undefined;
  const memberRows = members.state === 'ready' ? members.value.members : undefined;
  const all = useMemo(
    () => [...(lotRows ?? []).filter((lot) => lot.present === isHere), ...(animalRows ?? [])],
    [animalRows, lotRows, isHere],
  );
  const inGroup = useMemo(() => new Set(memberRows?.map((one) => one.subject)), [memberRows]);
  const rows = useMemo(
    () =>
      all.filter(
        (row) =>
          (sheepClass === '' || row.class === sheepClass) && (group === '' || inGroup.has(row.subject)),
      ),
    [all, sheepClass, group, inGroup],
  );
  // Asked when everybody is listed: the names come first.
  const isListed = animals.state === 'ready' && (whole.state === 'ready' || !isMore);
  const clock =
    farm.state === 'ready' && farm.value.clock.state === 'believed' ? farm.value.clock : undefined;
  const milks = farm.state === 'ready' && farm.value.holdings.some((holding) => holding.milk);
  const today = isListed && isHere ? clock?.today : undefined;
  const meat = useHeld('meat', today);
  const milk = useHeld('milk', milks ? today : undefined);
  const columnsShown = useMemo(
    () => (isHere ? shownColumns(all, meat, milks ? milk : 'none') : columns),
    [all, meat, milk, milks, isHere],
  );
  const isNarrowed = sheepClass !== '' || group !== '' || !isHere;
  const showAll = () => {
    setClass('');
    setGroup('');
    setHere(true);
  };

  return (
    <>
      <div className="flock-boxes">
        <Box
          label="Class"
          value={sheepClass}
          onChange={setClass}
          options={[{ value: '', label: 'Every class' }, ...classOptions]}
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
          label="Where"
          value={isHere ? 'here' : 'gone'}
          onChange={(where) => setHere(where === 'here')}
          options={[
            { value: 'here', label: 'Here now' },
            { value: 'gone', label: 'Left' },
          ]}
        />
      </div>
      <Await call={lots} what="Reading the lots">
        {() => (
          <Await call={animals} what="Reading the flock">
            {(page) => (
              <>
                <List
                  rows={rows}
                  columns={columnsShown}
                  fileColumns={
                    isHere ? [...columnsShown.slice(0, milks ? 3 : 2), ...columns.slice(1)] : columns
                  }
                  heads={(row) => row.heads}
                  rowKey={(row) => row.subject}
                  label="Flock"
                  fileName="flock"
                  onOpen={open}
                  empty={isNarrowed ? <NothingLeft onAll={showAll} isHere={isHere} /> : <NobodyYet />}
                />
                {page.total > page.animals.length && whole.state === 'loading' ? (
                  <p className="hint" role="status">
                    Reading the other {(page.total - page.animals.length).toLocaleString('en-GB')}…
                  </p>
                ) : page.total > page.animals.length ? (
                  <p className="hint">
                    The first {page.animals.length.toLocaleString('en-GB')} of{' '}
                    {page.total.toLocaleString('en-GB')} are listed. Find the others by number above.
                  </p>
                ) : null}
              </>
            )}
          </Await>
        )}
      </Await>
    </>
  );
}

function NothingLeft({ onAll, isHere }: { onAll: () => void; isHere: boolean }) {
  return (
    <Empty deed={<Deed onDo={onAll}>Show everyone who is here</Deed>}>
      {isHere ? 'No animal here is of this class and in this group.' : 'None of these has left.'}
    </Empty>
  );
}

function NobodyYet() {
  return (
    <Empty
      deed={
        <>
          <CommandDeed id="import-animals" weight="main" />
          <CommandDeed id="add-animal" />
        </>
      }
    >
      No animal is in the book yet. Bring in the list you have as a file, or add them one by one or as a lot.
    </Empty>
  );
}
