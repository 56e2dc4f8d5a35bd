import './cabinet.css';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed } from '../../parts/deed.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { go } from '../../router.tsx';

type Drift = Reply<'drift'>['medicines'][number];
type Count = Drift['counts'][number];

/** How counts differed from the book, medicine by medicine, and how much of what is opened reaches no animal. */
export default function DriftScreen() {
  const call = useCall('drift', {});
  return (
    <Screen
      title="Counts against the book"
      lead="How far the shelf and the book drift apart, and how much of what is opened reaches no animal."
      deeds={<CommandDeed id="stocktake" />}
    >
      <Await call={call} what="Reading the counts">
        {({ medicines }) =>
          medicines.length === 0 ? (
            <Empty>Nothing was counted and nothing is used up yet.</Empty>
          ) : (
            medicines.map((one) => <OneMedicine key={one.medicine} one={one} />)
          )
        }
      </Await>
    </Screen>
  );
}

function OneMedicine({ one }: { one: Drift }) {
  return (
    <Section title={one.name}>
      <Sentences label={one.name}>
        {one.counts.length === 0 ? null : (
          <Sentence margin="Counts">All differences together: {one.sum}.</Sentence>
        )}
        <Sentence
          margin="Losses"
          small={one.wastage.working.map((step) => <span key={step.code}>{step.text}. </span>)}
        >
          {one.wastage.says}
        </Sentence>
      </Sentences>
      {one.counts.length === 0 ? null : (
        <List
          rows={one.counts.map((row, n) => ({ ...row, n }))}
          columns={columns}
          rowKey={(row) => String(row.n)}
          label={`Counts of ${one.name}`}
          fileName={`counts ${one.name}`}
          onOpen={({ container }) => go({ to: 'cabinet/container/:container', params: { container } })}
          empty={<p className="cabinet-none">Never counted.</p>}
        />
      )}
    </Section>
  );
}

const columns: readonly Column<Count & { n: number }>[] = [
  { key: 'local', head: 'When', text: (row) => row.local, order: (row) => row.n },
  { key: 'label', head: 'Container no.', isName: true, text: (row) => row.label },
  { key: 'book', head: 'The book had', text: (row) => row.book, isNumber: true },
  { key: 'found', head: 'Found', text: (row) => row.found, isNumber: true },
  { key: 'difference', head: 'Difference', text: (row) => row.difference, isNumber: true },
  { key: 'why', head: 'Why', text: (row) => row.why, share: 1.6 },
];
