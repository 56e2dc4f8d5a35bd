import type { Reply } from '../../../src-shared/calls/all.ts';
import { Deed } from '../../parts/deed.tsx';
import { type Column, List } from '../../parts/list.tsx';
import { Section } from '../../parts/screen.tsx';
import { Empty } from '../../parts/sentence.tsx';
import { count, listed } from '../../parts/words.ts';
import { doCommand } from '../../shell/commands.ts';
import { useNeedleMarks } from './needle-marks.ts';

type Session = Reply<'session'>;
type Row = Session['waiting'][number];

/** What one that was done in part still waits for, and why an earlier run left it out. */
function stillOf({ lines }: Session, { isPartly, left, leftOut }: Row): string {
  const names = lines.filter(({ line }) => left.includes(line)).map(({ name }) => name);
  return [
    ...(isPartly ? [listed(names)] : []),
    ...(leftOut === undefined ? [] : [`left out: ${leftOut}`]),
  ].join('; ');
}

/** Who still waits, with the one that is being treated marked; and who was left out, and why. */
export function Waiting({
  session,
  now,
  onPick,
}: {
  session: Session;
  /** The one whose dose is on the screen. */
  now: string | undefined;
  onPick: (subject: string) => void;
}) {
  const markOf = useNeedleMarks();
  const isGrouped = session.waiting.some((row) => row.parts !== undefined);
  const hasLots = session.waiting.some((row) => row.heads > 1);
  const columns: Column<Row>[] = [
    {
      key: 'shown',
      head: 'Animal or lot',
      text: (row) => `${row.shown}${markOf(row.subject)}`,
      show: (row) =>
        row.subject === now ? (
          <strong className="race-now">
            {row.shown}
            {markOf(row.subject)} <small>now</small>
          </strong>
        ) : (
          `${row.shown}${markOf(row.subject)}`
        ),
    },
    ...(isGrouped
      ? [
          {
            key: 'part',
            head: 'Part',
            text: (row: Row) =>
              (row.parts ?? []).map((part) => (part === null ? 'by itself' : String(part))).join(', '),
          },
        ]
      : [{ key: 'class', head: 'Class', text: (row: Row) => row.class.replace('-', ' ') }]),
    ...(session.waiting.some((row) => row.isPartly || row.leftOut !== undefined)
      ? [{ key: 'left', head: 'Still', text: (row: Row) => stillOf(session, row) }]
      : []),
    ...(hasLots
      ? [
          {
            key: 'heads',
            head: 'Head',
            isNumber: true,
            text: (row: Row) => String(row.heads),
            order: (row: Row) => row.heads,
          },
        ]
      : []),
  ];
  return (
    <Section title="Waiting">
      <List
        label="Waiting"
        rows={session.waiting}
        rowKey={(row) => row.subject}
        first={{ key: 'shown', isDown: false }}
        onOpen={(row) => onPick(row.subject)}
        columns={columns}
        empty={
          <Empty deed={<Deed onDo={() => void doCommand('close-session')}>Close the session</Deed>}>
            Everybody who was planned has a record. Count the heads and close.
          </Empty>
        }
      />
      {session.leftOut.length === 0 ? null : (
        <details className="race-left-out">
          <summary>{count(session.leftOut.length, 'is', 'are')} left out, and why</summary>
          <ul>
            {session.leftOut.map((one) => (
              <li key={`${one.subject} ${one.why.text}`}>
                <strong>{one.shown}</strong>: {one.why.text}
              </li>
            ))}
          </ul>
        </details>
      )}
    </Section>
  );
}
