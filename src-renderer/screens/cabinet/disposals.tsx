import './cabinet.css';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { Screen } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { go } from '../../router.tsx';

type Disposal = Reply<'disposals'>['disposals'][number];

/** What left the cabinet without going into an animal: when, how much, how, to whom. */
export default function DisposalsScreen() {
  const call = useCall('disposals', {});
  return (
    <Screen
      title="Disposed of and returned"
      lead="Everything that left the cabinet and went into no animal, the newest first, with how and to whom."
    >
      <Await call={call} what="Reading what left">
        {({ disposals }) => (
          <List
            rows={disposals.map((one, n) => ({ ...one, n }))}
            columns={columns}
            fileColumns={fileColumns}
            rowKey={(one) => String(one.n)}
            label="Disposed of and returned"
            fileName="disposed of and returned"
            onOpen={({ container }) => go({ to: 'cabinet/container/:container', params: { container } })}
            empty={
              <Empty>
                Nothing was disposed of or returned. It is written on the page of the container itself.
              </Empty>
            }
          />
        )}
      </Await>
    </Screen>
  );
}

type Row = Disposal & { n: number };
const word = (one: Row) => (one.cause === 'disposed' ? 'Disposed of' : 'Returned');

const columns: readonly Column<Row>[] = [
  { key: 'local', head: 'When', text: (one) => one.local, order: (one) => -one.n },
  { key: 'cause', head: 'What', text: (one) => `${word(one)}: ${one.amount}`, share: 1.3 },
  { key: 'name', head: 'Medicine', text: (one) => one.name, share: 1.4 },
  {
    key: 'label',
    head: 'Container no.',
    isName: true,
    text: (one) => one.label,
    show: (one) => <span className="shelf-date">{one.label}</span>,
  },
  {
    key: 'how',
    head: 'How, and to whom',
    text: (one) => [one.how, one.where].filter((text) => text !== '').join('; '),
    share: 2,
  },
  { key: 'why', head: 'Why', text: (one) => one.why, share: 1.2 },
];

/** The file says each by itself, with the batch and who wrote it. */
const fileColumns: readonly Column<Row>[] = [
  { key: 'local', head: 'When', text: (one) => one.local },
  { key: 'cause', head: 'What', text: word },
  { key: 'amount', head: 'Amount', text: (one) => one.amount },
  { key: 'name', head: 'Medicine', text: (one) => one.name },
  { key: 'label', head: 'Container no.', text: (one) => one.label },
  { key: 'batch', head: 'Batch', text: (one) => one.batch },
  { key: 'how', head: 'How', text: (one) => one.how },
  { key: 'where', head: 'Where, to whom', text: (one) => one.where },
  { key: 'why', head: 'Why', text: (one) => one.why },
  { key: 'by', head: 'By', text: (one) => one.by },
];
