import './cabinet.css';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Attachments } from '../../parts/attachments.tsx';
import { Await } from '../../parts/await.tsx';
import { DeedLink } from '../../parts/deed.tsx';
import { Keys } from '../../parts/keys.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { Notice } from '../../parts/notice.tsx';
import type { KeptWith } from '../../parts/paper-kinds.ts';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { go, useParams } from '../../router.tsx';
import { useCommand } from '../../shell/commands.ts';
import { LabelSays } from '../label/changes.tsx';
import { PushesHard } from '../treat/pushes-hard.tsx';
import { Shelf } from './shelf.tsx';

type Medicine = Reply<'medicine'>;
type Revision = Medicine['revisions'][number];

const acts: Readonly<Record<string, string>> = {
  first: 'First label',
  'new-insert': 'New insert',
  'typed-wrongly': 'Typing error corrected',
};

/** One medicine: its label in full words, every revision, its batches and what is left. */
export default function MedicineScreen() {
  const { medicine: id } = useParams('cabinet/medicine/:medicine');
  const call = useCall('medicine', { medicine: id });
  const shelf = useCall('cabinet', { medicine: id });
  useCommand('receive-here', () => go({ to: 'cabinet/delivery', query: { medicine: id } }));
  return (
    <Await call={call} what="Reading the label">
      {(medicine) => {
        const [newest, ...older] = medicine.revisions;
        return (
          <Screen
            title={medicine.name}
            deeds={
              <>
                <span className="command-deed">
                  <DeedLink to="cabinet/delivery" query={{ medicine: id }} weight="main">
                    Take in a delivery
                  </DeedLink>{' '}
                  <Keys shortcut="+" />
                </span>
                <DeedLink to="order/outlook/:medicine" params={{ medicine: id }}>
                  See its outlook
                </DeedLink>
                <DeedLink to="book/balance" query={{ medicine: id }}>
                  What came in and where it went
                </DeedLink>
                <DeedLink to="cabinet/label/:medicine/new-insert" params={{ medicine: id }}>
                  New insert: the leaflet has changed
                </DeedLink>
                {newest === undefined ? null : <CorrectLink medicine={id} revision={newest} />}
              </>
            }
          >
            {newest?.state !== 'draft' ? null : (
              <Notice kind="mind" word="Draft" deed={<CorrectLink medicine={id} revision={newest} />}>
                <p>No treatment can be planned with it yet. Type its few figures again from the insert.</p>
              </Notice>
            )}
            <Section title="On the shelf">
              <Await call={shelf} what="Reading the cabinet">
                {({ containers }) =>
                  containers.length === 0 ? (
                    <p className="cabinet-none">Nothing of it is on the shelf.</p>
                  ) : (
                    <Shelf containers={containers} label="On the shelf" isNamed={false} />
                  )
                }
              </Await>
            </Section>
            <Section title="The label says">
              {newest === undefined ? (
                <Empty>No label is on record.</Empty>
              ) : (
                <LabelSays says={newest.says} />
              )}
            </Section>
            <Pushes newest={newest} />
            <Section title="Inserts on record">
              <Sentences label="Inserts on record">
                {newest === undefined ? null : <RevisionLine medicine={id} revision={newest} isNewest />}
                {older.map((revision) => (
                  <RevisionLine key={revision.revision} medicine={id} revision={revision} />
                ))}
              </Sentences>
            </Section>
            <Section title="Batches">
              <Batches medicine={medicine} />
            </Section>
            <Attachments of={keptWith(id, medicine.revisions)} />
          </Screen>
        );
      }}
    </Await>
  );
}

/** A new leaflet goes with the newest label; those of older ones and of the medicine as such are shown with it. */
function keptWith(medicine: string, revisions: readonly Revision[]): [KeptWith, ...KeptWith[]] {
  const whole: KeptWith = { what: 'medicine', id: medicine };
  const [newest, ...older] = revisions.map(({ revision }): KeptWith => ({ what: 'revision', id: revision }));
  return newest === undefined ? [whole] : [newest, whole, ...older];
}

/** How hard it pushes, for what goes in through a needle and is thicker than water. */
function Pushes({ newest }: { newest: Revision | undefined }) {
  const flowClass = newest?.terms.flowClass;
  if (newest === undefined || flowClass === undefined || flowClass === 'watery') return null;
  return (
    <Section title="Through a needle">
      <PushesHard name={newest.terms.name} flowClass={flowClass} />
    </Section>
  );
}

function CorrectLink({ medicine, revision }: { medicine: string; revision: Revision }) {
  return (
    <DeedLink
      to="cabinet/label/:medicine/correct/:revision"
      params={{ medicine, revision: revision.revision }}
    >
      {revision.state === 'draft' ? 'Confirm it or put it right' : 'Correct a typing error'}
    </DeedLink>
  );
}

function RevisionLine({
  medicine,
  revision,
  isNewest = false,
}: {
  medicine: string;
  revision: Revision;
  isNewest?: boolean;
}) {
  return (
    <Sentence
      margin={`No. ${revision.n}`}
      small={
        isNewest ? undefined : (
          <details>
            <summary>What it says</summary>
            <LabelSays says={revision.says} />
          </details>
        )
      }
      deed={isNewest ? undefined : <CorrectLink medicine={medicine} revision={revision} />}
    >
      {acts[revision.act] ?? revision.act}, since {revision.since}
      {isNewest ? ', the newest' : ''}
      {revision.state === 'draft' ? ', still a draft' : ''}.
    </Sentence>
  );
}

type Batch = Medicine['batches'][number];

function Batches({ medicine }: { medicine: Medicine }) {
  const insertOf = (batch: Batch) =>
    medicine.revisions.find((revision) => revision.revision === batch.revision)?.n;
  const columns: readonly Column<Batch>[] = [
    { key: 'number', head: 'Batch', isName: true, text: (one) => one.number },
    { key: 'expiry', head: 'Expiry', text: (one) => one.expiry },
    { key: 'received', head: 'Came in', text: (one) => one.received },
    { key: 'insert', head: 'Insert', text: (one) => `No. ${insertOf(one) ?? '?'}` },
  ];
  return (
    <List
      rows={medicine.batches}
      columns={columns}
      rowKey={(one) => one.batch}
      label="Batches"
      onOpen={({ batch }) => go({ to: 'cabinet/batch/:batch', params: { batch } })}
      fileName={`batches ${medicine.name}`}
      empty={<p className="cabinet-none">No batch of it was ever taken in.</p>}
    />
  );
}
