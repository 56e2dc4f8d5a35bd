import './cabinet.css';
import { useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { unitsOf } from '../../../src-shared/entries/parts.ts';
import { Bottle } from '../../drawings/bottle.tsx';
import { useCall } from '../../hooks/use-call.ts';
import { Attachments } from '../../parts/attachments.tsx';
import { Await } from '../../parts/await.tsx';
import { Deed, DeedLink } from '../../parts/deed.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Result } from '../../parts/result.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { go, useLocation, useParams } from '../../router.tsx';
import { useCommand } from '../../shell/commands.ts';
import { type ContainerDeed, DeedForm, deedsOf, deedWords, isDeed } from './deeds.tsx';
import { isGone, mustNotBeUsed, sayMadeUp, sayReceived, stateWords } from './words.ts';

type Life = Reply<'container'>;
type Movement = Life['movements'][number];

/** One container: until when it may be used, what is left, what happened to it, and what can be done with it. */
export default function ContainerScreen() {
  const { container } = useParams('cabinet/container/:container');
  const call = useCall('container', { container });
  return (
    <Await call={call} what="Reading the container">
      {(life) => <ContainerPage life={life} />}
    </Await>
  );
}

function ContainerPage({ life }: { life: Life }) {
  const { container: one } = life;
  const { query } = useLocation();
  const [open, setOpen] = useState<ContainerDeed | undefined>(
    query.do !== undefined && isDeed(query.do) && deedsOf(one.state).includes(query.do)
      ? query.do
      : undefined,
  );
  const [told, setTold] = useState<string | undefined>(undefined);
  const possible = deedsOf(one.state);
  useCommand('count-here', () => {
    if (possible.includes('count')) setOpen('count');
  });
  useCommand('receive-here', () => go({ to: 'cabinet/delivery', query: { medicine: one.medicine } }));
  const ofBatch = one.batchId;
  useCommand('batch-here', () => {
    if (ofBatch !== null) go({ to: 'cabinet/batch/:batch', params: { batch: ofBatch } });
  });
  const from = [
    one.batch === '' ? undefined : `Batch ${one.batch}, expiry ${one.expiry}.`,
    life.supplier === undefined ? undefined : `From ${life.supplier}.`,
    life.proof === undefined ? undefined : `Proof: ${life.proof}.`,
    one.store === undefined ? undefined : `Kept in ${one.store}.`,
    one.strength === undefined ? undefined : sayMadeUp(one.strength),
    one.opened === undefined ? undefined : `Opened ${one.opened}.`,
    one.counted === undefined ? undefined : `Last counted ${one.counted}.`,
  ].filter((text) => text !== undefined);
  return (
    <Screen
      title={`${one.name} · ${one.label}`}
      deeds={
        <>
          <DeedLink to="cabinet/medicine/:medicine" params={{ medicine: one.medicine }}>
            The medicine and its label
          </DeedLink>
          {ofBatch === null ? null : (
            <DeedLink to="cabinet/batch/:batch" params={{ batch: ofBatch }} shortcut="a b">
              Where its batch went
            </DeedLink>
          )}
          {one.left.amount.kind === 'volume' || mustNotBeUsed(one.state) || isGone(one.state) ? null : (
            <DeedLink to="cabinet/make-up" query={{ medicine: one.medicine, container: one.container }}>
              Make it up with water
            </DeedLink>
          )}
        </>
      }
    >
      <Result
        label={isGone(one.state) ? 'State' : mustNotBeUsed(one.state) ? 'May not be used' : 'Use by'}
        big={isGone(one.state) || mustNotBeUsed(one.state) ? stateWords[one.state] : one.useBy}
        drawing={
          <Bottle
            left={unitsOf(one.left.amount)}
            received={unitsOf(one.received.amount)}
            text={`${one.left.text} left of ${sayReceived(one)}`}
          />
        }
      >
        <p>
          {mustNotBeUsed(one.state)
            ? one.state === 'quarantined'
              ? `Its use-by is ${one.useBy}. ${one.left.text} left of ${sayReceived(one)}.`
              : `It was to be used by ${one.useBy}.`
            : isGone(one.state)
              ? ''
              : `${stateWords[one.state]}. ${one.left.text} left of ${sayReceived(one)}.`}
        </p>
        <p>{from.join(' ')}</p>
      </Result>
      {told === undefined ? null : (
        <Notice kind="done">
          <p>{told}</p>
        </Notice>
      )}
      {possible.length === 0 ? null : (
        <Section title={open === undefined ? 'What to do' : deedWords[open].name}>
          {open === undefined ? (
            <p className="deeds">
              {possible.map((deed) => (
                <span key={deed} className="command-deed">
                  <Deed
                    onDo={() => setOpen(deed)}
                    weight={deedWords[deed].weight}
                    shortcut={deed === 'count' ? '=' : undefined}
                  >
                    {deedWords[deed].name}
                  </Deed>
                </span>
              ))}
            </p>
          ) : (
            <DeedForm
              key={open}
              deed={open}
              container={one}
              onDone={(said) => {
                setTold(said);
                setOpen(undefined);
              }}
              onLeave={() => setOpen(undefined)}
            />
          )}
        </Section>
      )}
      <Section title="What happened to it">
        <List
          rows={life.movements.map((row, n) => ({ ...row, n }))}
          columns={columns}
          rowKey={(row) => String(row.n)}
          label="What happened to it"
          fileName={`container ${one.label}`}
          onOpen={({ administration }) => {
            if (administration !== undefined)
              go({ to: 'book/treatment/:administration', params: { administration } });
          }}
          empty={<p className="cabinet-none">Nothing is written down of it.</p>}
        />
      </Section>
      <Attachments
        of={[
          { what: 'container', id: one.container },
          ...(ofBatch === null ? [] : [{ what: 'batch' as const, id: ofBatch }]),
        ]}
      />
    </Screen>
  );
}

const causes: Readonly<Record<string, string>> = {
  received: 'Came in',
  'made-up': 'Made up',
  'used-to-make': 'Went into another',
  drawn: 'Given',
  lost: 'Lost',
  disposed: 'Disposed of',
  returned: 'Returned',
  counted: 'Counted',
  opened: 'Opened',
  quarantined: 'Set aside',
  released: 'Taken back',
  carried: 'Put in another store',
};

/** What became of it in one line: "Given to Ewe 4711", "Counted". */
export function sayCause(row: Movement): string {
  const said = causes[row.cause] ?? row.cause;
  return row.to === undefined ? said : `${said} to ${row.to}`;
}

const columns: readonly Column<Movement & { n: number }>[] = [
  { key: 'local', head: 'When', text: (row) => row.local, order: (row) => row.n },
  {
    key: 'cause',
    head: 'What',
    text: sayCause,
    // Only a treatment has a page of its own.
    show: (row) =>
      row.administration === undefined ? (
        sayCause(row)
      ) : (
        <span className="container-opens">{sayCause(row)}</span>
      ),
    share: 1.6,
  },
  { key: 'amount', head: 'Amount', text: (row) => row.amount, isNumber: true },
  { key: 'left', head: 'Left then', text: (row) => row.left, isNumber: true },
  { key: 'note', head: 'Note', text: (row) => row.note ?? '', share: 1.6 },
  { key: 'by', head: 'By', text: (row) => row.by },
];
