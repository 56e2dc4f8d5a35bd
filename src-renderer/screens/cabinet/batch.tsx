import './cabinet.css';
import { useState } from 'react';
import type { Ask, Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { useForm } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { Attachments } from '../../parts/attachments.tsx';
import { Await } from '../../parts/await.tsx';
import { Deed } from '../../parts/deed.tsx';
import { Field } from '../../parts/field.tsx';
import { Form } from '../../parts/form.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { FaultNotice, Notice } from '../../parts/notice.tsx';
import { Paper } from '../../parts/paper.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { count, listed } from '../../parts/words.ts';
import { go, useLocation, useParams } from '../../router.tsx';
import { NextField } from '../label/next-field.tsx';
import { isGone, stateWords } from './words.ts';

type Recall = Reply<'recall'>;
type Got = Recall['got'][number];
type Held = Recall['containers'][number];

/** Where one batch went: what came in, what is left, who got it and where they are now; what is left is set aside here. */
export default function BatchScreen() {
  const { batch } = useParams('cabinet/batch/:batch');
  const { query } = useLocation();
  // A batch that never came to our cabinet has no delivery: it is known by its number and the medicine.
  const ask: Ask<'recall'> =
    query.medicine === undefined ? { batch } : { number: batch, medicine: query.medicine };
  const call = useCall('recall', ask);
  return (
    <Await call={call} what="Following the batch">
      {(recall) => <BatchPage recall={recall} ask={ask} />}
    </Await>
  );
}

function BatchPage({ recall, ask }: { recall: Recall; ask: Ask<'recall'> }) {
  const [open, setOpen] = useState<'paper' | 'aside' | undefined>(undefined);
  const [told, setTold] = useState<string | undefined>(undefined);
  const { batch } = recall;
  const canSetAside =
    batch !== undefined &&
    recall.containers.some(({ state }) => !isGone(state) && state !== 'quarantined' && state !== 'empty');
  return (
    <Screen
      title={`${recall.name} · batch ${recall.number}`}
      lead={recall.says.join(' ')}
      deeds={
        <>
          {canSetAside ? (
            <Deed weight="main" onDo={() => setOpen('aside')}>
              Set aside what is left
            </Deed>
          ) : null}
          <Deed onDo={() => setOpen('paper')}>Print it</Deed>
        </>
      }
    >
      {told === undefined ? null : (
        <Notice kind="done">
          <p>{told}</p>
        </Notice>
      )}
      {open === 'aside' && batch !== undefined ? (
        <SetAside
          batch={batch}
          onLeave={() => setOpen(undefined)}
          onDone={(said) => {
            setTold(said);
            setOpen(undefined);
          }}
        />
      ) : null}
      {open === 'paper' ? <Print ask={ask} number={recall.number} /> : null}
      <Section title="What came in">
        <Sentences label="What came in">
          {recall.deliveries.map((one) => (
            <Sentence key={one.batch} margin={one.received}>
              {`${count(one.containers, 'container', 'containers')}, expiry ${one.expiry}${
                one.supplier === undefined ? '' : `, from ${one.supplier}`
              }${one.proof === undefined ? '' : `, proof ${one.proof}`}.`}
            </Sentence>
          ))}
          {recall.deliveries.length === 0 ? (
            <Sentence>Nothing of it came into our cabinet.</Sentence>
          ) : (
            <Sentence margin="In all">
              {`${recall.balance.map(({ cause, text }) => `${cause}: ${text}`).join('. ')}.`}
            </Sentence>
          )}
        </Sentences>
      </Section>
      {recall.containers.length === 0 ? null : (
        <Section title="The containers">
          <List
            rows={recall.containers}
            columns={heldColumns}
            rowKey={(one) => one.container}
            label="The containers"
            onOpen={({ container }) => go({ to: 'cabinet/container/:container', params: { container } })}
            fileName={`batch ${recall.number} containers`}
            empty={<p className="cabinet-none">None.</p>}
          />
        </Section>
      )}
      <Section title="Who got it">
        <List
          rows={recall.got}
          columns={gotColumns}
          rowKey={(one) => one.subject}
          label="Who got it"
          heads={(one) => one.heads}
          onOpen={({ subject }) => go({ to: 'flock/subject/:subject', params: { subject } })}
          fileName={`batch ${recall.number} who got it`}
          empty={<p className="cabinet-none">No treatment with it is in the book.</p>}
        />
      </Section>
      {batch === undefined ? null : (
        <Attachments
          of={[
            { what: 'batch', id: batch },
            ...recall.deliveries
              .filter((one) => one.batch !== batch)
              .map((one) => ({ what: 'batch' as const, id: one.batch })),
          ]}
        />
      )}
    </Screen>
  );
}

const heldColumns: readonly Column<Held>[] = [
  {
    key: 'label',
    head: 'Container no.',
    isName: true,
    text: (one) => (one.isMadeUp ? `${one.label}, made up from it` : one.label),
  },
  { key: 'left', head: 'What is left', text: (one) => one.left.text },
  { key: 'state', head: 'State', text: (one) => stateWords[one.state] },
  { key: 'store', head: 'Kept in', text: (one) => one.store ?? '' },
];

/** "1 May 2026, 10:00, 6 mL, B4-1". */
function sayGiven(one: Got): string {
  return one.given
    .map(({ local, amount, from }) => [local, amount, from].filter((text) => text !== '').join(', '))
    .join('; ');
}

/** "4 here; 3 sold on 12 May 2026 to Fell Farm. Low field: 45 here". */
function sayNow(one: Got): string {
  return one.now
    .map(({ subject, shown, says }) => (subject === one.subject ? says : `${shown}: ${says}`))
    .join('. ');
}

/** The holds of all places, each said once. */
function sayHolds(one: Got): string {
  return [...new Set(one.now.flatMap(({ holds }) => holds))].join('. ');
}

const gotColumns: readonly Column<Got>[] = [
  { key: 'shown', head: 'Animal or lot', isName: true, text: (one) => one.shown },
  { key: 'class', head: 'Class', text: (one) => one.class.replaceAll('-', ' ') },
  { key: 'heads', head: 'Head', text: (one) => String(one.heads), order: (one) => one.heads, isNumber: true },
  { key: 'given', head: 'When and how much', text: sayGiven, share: 1.6 },
  { key: 'now', head: 'Where now', text: sayNow, share: 1.6 },
  { key: 'holds', head: 'Holds', text: sayHolds, share: 1.4 },
];

function SetAside({
  batch,
  onDone,
  onLeave,
}: {
  batch: string;
  onDone: (said: string) => void;
  onLeave: () => void;
}) {
  const form = useForm(`cabinet/batch/${batch}/aside`, { why: '' });
  const write = useWrite('set-batch-aside', ({ setAside }) => {
    void form
      .drop()
      .then(() =>
        onDone(
          setAside.length === 0
            ? 'Nothing of it was left to set aside.'
            : `Set aside: ${setAside.length > 12 ? count(setAside.length, 'container', 'containers') : listed(setAside)}.`,
        ),
      );
  });
  const why = form.values.why.trim();
  return (
    <Section title="Set aside what is left">
      <Form
        form={form}
        write={write}
        deed="Set it aside"
        onLeave={onLeave}
        onSend={() => {
          if (why === '') form.show([{ field: 'why', message: 'Write why; it stands in the book.' }]);
          else void write.send({ batch, why });
        }}
      >
        <p className="deed-follows">
          No treatment is planned from any container of this batch until it is taken back, one by one.
        </p>
        <Field
          {...form.text('why')}
          label="Why"
          size={40}
          list={['The supplier calls the batch back', 'The vet says so', 'Stood too warm', 'Looks wrong']}
        />
        <NextField name="why" />
      </Form>
    </Section>
  );
}

function Print({ ask, number }: { ask: Ask<'recall'>; number: string }) {
  const call = useCall('recall-paper', ask);
  if (call.state === 'failed') return <FaultNotice fault={call.fault} />;
  return (
    <Section title="The paper">
      <Await call={call} what="Printing the batch">
        {({ paper }) => <Paper hash={paper} title={`Batch ${number}`} saveAs={`batch ${number}.pdf`} />}
      </Await>
    </Section>
  );
}
