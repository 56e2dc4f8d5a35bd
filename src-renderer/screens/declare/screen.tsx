import type { Reply } from '../../../src-shared/calls/all.ts';
import { PURPOSE_RULES } from '../../../src-shared/declare/purposes.ts';
import { useCall } from '../../hooks/use-call.ts';
import { Await } from '../../parts/await.tsx';
import { CommandDeed, DeedLink } from '../../parts/deed.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { Screen, Section } from '../../parts/screen.tsx';
import { Empty, Sentence, Sentences } from '../../parts/sentence.tsx';
import { go } from '../../router.tsx';
import { localInWords } from '../book/when.ts';
import { Doubted } from './doubted.tsx';

type Row = Reply<'declarations'>['declarations'][number];

/** What was declared to whom, and what has touched it since. */
export default function DeclareScreen() {
  const call = useCall('declarations', { limit: 500 });
  return (
    <Screen
      title="Declare"
      lead="What is said to others of withdrawal: that it is over, or what still runs. Each paper is numbered, and stays as it was signed."
      deeds={
        <>
          <CommandDeed id="declare" weight="main" />
          <CommandDeed id="clear-list" />
        </>
      }
    >
      <Doubted />
      <Await call={call} what="Reading the declarations">
        {({ declarations }) => (
          <>
            <Touched declarations={declarations} />
            <Section title="Signed">
              <List
                rows={declarations}
                columns={columns}
                rowKey={(row) => row.declaration}
                label="Declarations"
                fileName="declarations"
                onOpen={(row) =>
                  go({ to: 'declare/paper/:declaration', params: { declaration: row.declaration } })
                }
                empty={
                  <Empty>Nothing is declared yet. Choose who is to go, and the book says who may.</Empty>
                }
              />
            </Section>
          </>
        )}
      </Await>
    </Screen>
  );
}

/** Declarations that are now wrong: somebody has to be told. */
function Touched({ declarations }: { declarations: readonly Row[] }) {
  const touched = declarations.filter((row) => row.notices.length > 0);
  if (touched.length === 0) return null;
  return (
    <Section title="Now wrong">
      <Sentences label="Now wrong">
        {touched.flatMap((row) =>
          row.notices.map((text) => (
            <Sentence
              key={`${row.declaration} ${text}`}
              mind
              margin="Tell them"
              deed={
                <DeedLink to="declare/paper/:declaration" params={{ declaration: row.declaration }}>
                  Open declaration {row.number}
                </DeedLink>
              }
            >
              {text}
            </Sentence>
          )),
        )}
      </Sentences>
    </Section>
  );
}

/** Of a transfer: where those on it are by the book, as long as that is not what the paper says. */
function moveOf({ state, transfer }: Row): string {
  if (transfer === undefined) return '';
  if (state === 'cancelled') return transfer.moved === undefined ? '' : ', still moved';
  return transfer.moved === undefined && !transfer.isStillHere ? ', not moved yet' : '';
}

const stateOf = (row: Row): string => `${paperState(row)}${moveOf(row)}`;

const paperState = (row: Row): string =>
  row.state === 'cancelled'
    ? 'cancelled'
    : row.notices.length > 0
      ? 'now wrong'
      : row.told.length > 0
        ? 'wrong, and they were told'
        : 'stands';

const columns: readonly Column<Row>[] = [
  {
    key: 'number',
    head: 'No.',
    text: (row) => String(row.number),
    order: (row) => row.number,
    isNumber: true,
    share: 0.5,
  },
  { key: 'sort', head: 'What for', text: (row) => PURPOSE_RULES[row.purpose].choice, share: 1.6 },
  { key: 'to', head: 'To', isName: true, text: (row) => row.to, share: 2 },
  {
    key: 'departs',
    head: 'Leaves',
    text: (row) => localInWords(row.departs),
    order: (row) => row.departs,
    share: 1.4,
  },
  {
    key: 'heads',
    head: 'Head',
    text: (row) => String(row.heads),
    order: (row) => row.heads,
    isNumber: true,
    share: 0.6,
  },
  { key: 'signer', head: 'Signed by', text: (row) => row.signer, share: 1.4 },
  { key: 'state', head: 'State', text: stateOf },
  {
    key: 'code',
    head: 'Check code',
    text: (row) => row.checkCode,
    show: (row) => <span className="code">{row.checkCode}</span>,
    share: 1.4,
  },
];
