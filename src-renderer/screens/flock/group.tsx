import './flock.css';
import { useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Await } from '../../parts/await.tsx';
import { DayField } from '../../parts/day-field.tsx';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { Field } from '../../parts/field.tsx';
import { Form, WriteQuestions } from '../../parts/form.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { FaultNotice } from '../../parts/notice.tsx';
import { Question } from '../../parts/question.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { go, useParams } from '../../router.tsx';
import { groupDates, sayDates } from './dates-words.ts';
import { GroupClear } from './group-clear.tsx';
import { type Farm, firstHolding } from './holding-field.tsx';
import { Members } from './members.tsx';
import { GroupVaccines } from './vaccines-of-group.tsx';
import { WhyMany } from './why.tsx';
import { sayClass } from './words.ts';

type GroupPage = Reply<'group'>;
type Member = GroupPage['members'][number];

/** One group: who is in it, its dates, putting in and taking out. */
export default function GroupScreen() {
  const { group } = useParams('flock/group/:group');
  const farm = useCall('farm', {});
  const call = useCall('group', { group });
  return (
    <Await call={farm} what="Reading the farm">
      {(value) => (
        <Await call={call} what="Opening the group">
          {(page) => <Page page={page} farm={value} />}
        </Await>
      )}
    </Await>
  );
}

const columns: readonly Column<Member>[] = [
  {
    key: 'shown',
    isName: true,
    head: 'Tag or lot',
    text: (row) => row.shown,
    also: (row) => row.shown.replace(/\s/g, ''),
    share: 2,
  },
  { key: 'class', head: 'Class', text: (row) => sayClass(row.class) },
  {
    key: 'heads',
    head: 'Head',
    text: (row) => String(row.heads),
    order: (row) => row.heads,
    isNumber: true,
  },
];

function Page({ page, farm }: { page: GroupPage; farm: Farm }) {
  const { group, members } = page;
  const dates = sayDates(group.dates);
  return (
    <Screen
      title={group.name}
      lead={`${count(group.heads, 'head', 'head')} here${group.heads === group.subjects ? '' : ` in ${count(group.subjects, 'lot', 'animals and lots')}`}${dates === '' ? '' : `; ${dates}`}.`}
      deeds={
        <>
          {group.heads === 0 ? null : (
            <DeedLink to="treat/plan" query={{ group: group.group }}>
              Plan work with this group
            </DeedLink>
          )}
          {group.heads === 0 ? null : (
            <DeedLink to="flock/event" query={{ group: group.group }}>
              Lambed, device out, in milk or dry
            </DeedLink>
          )}
          <EndGroup page={page} farm={farm} />
        </>
      }
    >
      <GroupVaccines group={group.group} />
      {group.heads === 0 ? null : (
        <Section title="Withdrawal">
          <WhyMany group={group.group} most={20} />
        </Section>
      )}
      {group.heads === 0 ? null : <GroupClear group={group} />}
      <Members page={page} farm={farm} />
      <Section title="In it now">
        <List
          rows={members}
          columns={columns}
          rowKey={(row) => row.subject}
          label="Members"
          heads={(row) => row.heads}
          fileName={`group ${group.name}`}
          first={{ key: 'shown', isDown: false }}
          onOpen={(row) => go({ to: 'flock/subject/:subject', params: { subject: row.subject } })}
          empty={<Empty>Nobody is in this group yet. Put them in above, by number or all of a class.</Empty>}
        />
      </Section>
      <Section title="Name and dates">
        <DatesForm page={page} farm={farm} />
      </Section>
    </Screen>
  );
}

function DatesForm({ page, farm }: { page: GroupPage; farm: Farm }) {
  const { group } = page;
  const day = (name: keyof typeof group.dates) => group.dates[name] ?? '';
  const form = useForm(`flock/group/${group.group}`, {
    name: group.name,
    'dates.ramIn': day('ramIn'),
    'dates.ramOut': day('ramOut'),
    'dates.scanned': day('scanned'),
    'dates.lambingFrom': day('lambingFrom'),
    'dates.lambingTo': day('lambingTo'),
    'dates.shorn': day('shorn'),
    'dates.dueAwayFrom': day('dueAwayFrom'),
    'dates.dueAwayTo': day('dueAwayTo'),
  });
  const [isWritten, setWritten] = useState(false);
  const write = useWrite('set-group', () => setWritten(true));
  const send = () => {
    setWritten(false);
    const { values } = form;
    if (values.name.trim() === '') return form.show([{ field: 'name', message: 'Give the group a name.' }]);
    const filled = Object.fromEntries(
      groupDates.flatMap(({ name }) => {
        const value = values[`dates.${name}`];
        return value === '' ? [] : [[name, value]];
      }),
    );
    void write.send({ holding: firstHolding(farm), group: group.group, name: values.name, dates: filled });
  };
  return (
    <Form form={form} write={write} deed="Write name and dates" onSend={send}>
      <Field {...form.text('name')} label="Name" />
      {groupDates.map(({ name, label, hint }) => (
        <DayField key={name} {...form.text(`dates.${name}`)} label={label} optional hint={hint} />
      ))}
      {isWritten ? <p role="status">Name and dates are written.</p> : null}
    </Form>
  );
}

/** Puts a group away: its animals stay, and so do their holds. */
function EndGroup({ page, farm }: { page: GroupPage; farm: Farm }) {
  const [isAsked, setAsked] = useState(false);
  const write = useWrite('set-group', () => go({ to: 'flock/groups' }));
  const { group } = page;
  const end = () => {
    setAsked(false);
    void write.send({
      holding: firstHolding(farm),
      group: group.group,
      name: group.name,
      dates: withoutEmpty(group.dates),
      active: false,
    });
  };
  return (
    <>
      <Deed weight="grave" onDo={() => setAsked(true)}>
        Close this group
      </Deed>
      {write.now.state === 'failed' ? <FaultNotice fault={write.now.fault} /> : null}
      <WriteQuestions write={write} />
      {isAsked ? (
        <Question
          title={`Close ${group.name}?`}
          onNo={() => setAsked(false)}
          deeds={
            <>
              <Deed onDo={() => setAsked(false)}>Keep it</Deed>
              <Deed weight="grave" onDo={end}>
                Close it
              </Deed>
            </>
          }
        >
          <p>
            It is no longer offered anywhere. The {count(group.heads, 'head', 'head')} in it stay in the
            flock, and so does every hold. The name is free for another group.
          </p>
        </Question>
      ) : null}
    </>
  );
}
