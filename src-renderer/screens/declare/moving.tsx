import type { Reply } from '../../../src-shared/calls/all.ts';
import { useForm, withoutEmpty } from '../../hooks/use-form.ts';
import { useWrite } from '../../hooks/use-write.ts';
import { DayField, TimeField } from '../../parts/day-field.tsx';
import { DeedLink } from '../../parts/deed.tsx';
import { Form } from '../../parts/form.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Section } from '../../parts/screen.tsx';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import { count } from '../../parts/words.ts';
import { joinLocal, localInWords } from '../book/when.ts';

type Declaration = Reply<'declarations'>['declarations'][number];
type Transfer = NonNullable<Declaration['transfer']>;
type Moved = NonNullable<Transfer['moved']>;

/**
 * Of a transfer between two holdings: whether those on it were moved in the book, and the deed that moves just them.
 * Signing alone moves nobody, and cancelling the paper moves nobody back: both are said.
 */
export function Moving({ row, transfer }: { row: Declaration; transfer: Transfer }) {
  const { moved, takenBack } = transfer;
  const isCancelled = row.state === 'cancelled';
  return (
    <Section title="The move in the book">
      {isCancelled && moved !== undefined ? (
        <Notice kind="mind" word="Still moved">
          <p>
            The paper is cancelled, and the move by it stands: by the book they are on {transfer.to}. If they
            never went, take the move back.
          </p>
        </Notice>
      ) : null}
      {moved === undefined ? (
        <NotMoved row={row} transfer={transfer} />
      ) : (
        <MovedSaid moved={moved} transfer={transfer} />
      )}
      {takenBack === undefined ? null : (
        <Sentences>
          <Sentence margin="Taken back">
            They had been moved; {takenBack.by} took the move back on {takenBack.on}: {takenBack.why}
          </Sentence>
        </Sentences>
      )}
    </Section>
  );
}

function NotMoved({ row, transfer }: { row: Declaration; transfer: Transfer }) {
  const heads = count(row.heads, 'head', 'head');
  if (row.state === 'cancelled') {
    return <p>Nobody was moved by this paper, and as it is cancelled nobody will be.</p>;
  }
  if (transfer.isStillHere) {
    return (
      <p>
        Not moved yet: by the book the {heads} are on {transfer.from}. They leave {localInWords(row.departs)}.
        Once they have left, they can be moved here to {transfer.to}.
      </p>
    );
  }
  return <MoveForm row={row} transfer={transfer} heads={heads} />;
}

function MoveForm({ row, transfer, heads }: { row: Declaration; transfer: Transfer; heads: string }) {
  const form = useForm(`declare/move/${row.declaration}`, {
    day: row.departs.slice(0, 10),
    time: row.departs.slice(11, 16),
  });
  const write = useWrite('move-declared', () => void form.drop());
  return (
    <>
      <p>
        <strong>Not moved:</strong> by the book the {heads} on this paper are still on {transfer.from}. Once
        they have left, move just them to {transfer.to}. What holds them goes along.
      </p>
      <Form
        form={form}
        write={write}
        deed={`Move ${heads} to ${transfer.to}`}
        onSend={() =>
          void write.send({
            declaration: row.declaration,
            ...withoutEmpty({
              happened: form.values.day === '' ? '' : joinLocal(form.values.day, form.values.time),
            }),
          })
        }
      >
        <DayField {...form.text('day')} label="Day they left" />
        <TimeField {...form.text('time')} label="Time" optional />
      </Form>
    </>
  );
}

function MovedSaid({ moved, transfer }: { moved: Moved; transfer: Transfer }) {
  const { request, n } = moved.entry;
  const heads = count(moved.heads, 'head', 'head');
  return (
    <Sentences>
      <Sentence
        margin="Moved"
        small={`Written by ${moved.by}.`}
        deed={
          <DeedLink
            to="book/strike"
            query={{
              request,
              n: String(n),
              kind: 'holding-moved',
              what: `${heads} moved from ${transfer.from} to ${transfer.to}`,
            }}
            weight="grave"
          >
            Take the move back
          </DeedLink>
        }
      >
        {heads} moved from {transfer.from} to <strong>{transfer.to}</strong>, {localInWords(moved.local)}.
      </Sentence>
      {moved.parts.map((part) => (
        <Sentence
          key={part.subject}
          margin="Split off"
          deed={
            <DeedLink to="flock/subject/:subject" params={{ subject: part.subject }}>
              See {part.shown}
            </DeedLink>
          }
        >
          {count(part.heads, 'head', 'head')} went as a lot of their own, {part.shown}. If the move is taken
          back, they stay that lot.
        </Sentence>
      ))}
      {moved.notMoved.length === 0 ? null : (
        <Sentence margin="Not moved">
          {moved.notMoved.join(', ')}: on the paper, and not moved by it.
        </Sentence>
      )}
      {moved.goneOn.length === 0 ? null : <Sentence margin="Since then">{moved.goneOn.join('; ')}.</Sentence>}
    </Sentences>
  );
}
