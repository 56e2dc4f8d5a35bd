import './book.css';
import { useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, Deed } from '../../parts/deed.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { Screen } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { go } from '../../router.tsx';
import { stateWords } from './record.ts';
import { instantInWords } from './when.ts';

type Entry = Reply<'entries'>['entries'][number];

/** So many entries stand on one page of the journal. */
const onPage = 500;

/** The journal itself, newest first: what was written, when, by whom. */
export default function EntriesScreen() {
  const farm = useCall('farm', {});
  const [before, setBefore] = useState<number | undefined>(undefined);
  const call = useCall('entries', { limit: onPage, ...(before === undefined ? {} : { before }) });
  return (
    <Screen
      title="Journal"
      lead="Every entry in the order it was written, newest first. The book is made of these and of nothing else. Open one to strike it out."
      deeds={<CommandDeed id="check-book" />}
    >
      <Await call={farm} what="Reading the farm">
        {({ holdings }) => (
          <Await call={call} what="Reading the journal">
            {({ entries, next }) => (
              <div className="record">
                <List
                  rows={entries}
                  columns={columnsOf(holdings[0]?.zone ?? 'UTC')}
                  rowKey={(row) => String(row.seq)}
                  label="Entries of the journal"
                  fileName="journal"
                  onOpen={open}
                  empty={<Empty>Nothing is written yet.</Empty>}
                  deeds={
                    <>
                      {before === undefined ? null : (
                        <Deed onDo={() => setBefore(undefined)}>Back to the newest</Deed>
                      )}
                      {next === undefined ? null : <Deed onDo={() => setBefore(next)}>Older entries</Deed>}
                    </>
                  }
                />
              </div>
            )}
          </Await>
        )}
      </Await>
    </Screen>
  );
}

function open(row: Entry): void {
  const query = { request: row.entry.request, n: String(row.entry.n) };
  const kind = row.state === 'voided' ? 'struck' : row.kind;
  // A treatment says for itself what it is and what follows.
  const more = row.kind === 'administered' ? {} : { kind, what: `Entry ${row.seq}: ${row.text}` };
  go({ to: 'book/strike', query: { ...query, ...more } });
}

function columnsOf(zone: string): readonly Column<Entry>[] {
  const said = (row: Entry, text: string) => (row.state === 'stands' ? text : <s>{text}</s>);
  return [
    {
      key: 'seq',
      head: 'No.',
      text: (row) => String(row.seq),
      order: (row) => row.seq,
      isNumber: true,
      share: 0.5,
    },
    {
      key: 'text',
      head: 'What was written',
      text: (row) => row.text,
      show: (row) => (
        <>
          {said(row, row.text)}
          {row.state === 'stands' ? null : (
            <small className="record-mind">{stateWords[row.state]} later</small>
          )}
        </>
      ),
      share: 3,
    },
    { key: 'happened', head: 'Happened', text: (row) => row.happened, order: (row) => row.seq, share: 1.3 },
    {
      key: 'recorded',
      head: 'Written',
      text: (row) => instantInWords(row.recorded, zone),
      order: (row) => row.recorded,
      show: (row) => (
        <>
          {instantInWords(row.recorded, zone)}
          {row.clock === 'doubted' ? <small className="record-mind">the date was in doubt</small> : null}
        </>
      ),
      share: 1.3,
    },
    { key: 'by', head: 'By', text: (row) => row.by, share: 1.2 },
  ];
}
