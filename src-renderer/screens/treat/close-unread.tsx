import type { Reply } from '../../../src-shared/calls/all.ts';
import type { FormState } from '../../hooks/use-form.ts';
import { Deed } from '../../parts/deed.tsx';
import { Notice } from '../../parts/notice.tsx';
import { ChangingSentences, Empty, Sentence } from '../../parts/sentence.tsx';
import { SubjectPicker } from '../../parts/subject-picker.tsx';
import { count, listed } from '../../parts/words.ts';
import { type CloseValues, gotNoneOf, sayNone, unreadBy } from './close-values.ts';

type Session = Reply<'session'>;
type Waiting = Session['waiting'][number];

/** So many are listed one by one. */
const MOST_LISTED = 200;

/** Who was planned and has no record at all: held as soon as more went through than are recorded. */
export function Unread({ form, session }: { form: FormState<CloseValues>; session: Session }) {
  const { heads, absent, none } = form.values;
  const { state, by, unread } = unreadBy(session, heads, form.values);
  const without = session.waiting
    .filter(({ isPartly }) => !isPartly)
    .toSorted((a, b) => a.shown.localeCompare(b.shown, 'en', { numeric: true }));
  const others = [...without, ...session.inPart];
  const leave = (subject: string) => form.set({ absent: [...absent, subject] });
  if (others.length === 0 && state !== 'more' && state !== 'fewer') {
    return <Empty>Everybody who was planned has a record.</Empty>;
  }
  return (
    <>
      {state === 'more' ? (
        <Notice kind="mind" word="Will be held">
          <p>
            {by === 1 ? 'One head more went through than was' : `${by} heads more went through than were`}{' '}
            recorded.{' '}
            {unread.length === 0
              ? 'Nobody who was planned is unread: find out who it was and record it.'
              : sayHeld(
                  unread.map((one) => one.shown),
                  session.session.lines,
                )}
          </p>
        </Notice>
      ) : null}
      {state === 'fewer' ? (
        <Notice kind="mind" word="Too many">
          <p>
            {count(by, 'head', 'heads')} more {by === 1 ? 'is' : 'are'} recorded than went through. Look for
            one recorded twice, or count again.
          </p>
        </Notice>
      ) : null}
      {state === 'even' && others.some(({ subject }) => !absent.includes(subject)) ? (
        <p className="hint">The count fits the records, so nobody without a record is held.</p>
      ) : null}
      <SubjectPicker
        name="absent"
        label="Did not come through"
        hint="Tag, Enter. Whoever surely did not come through is not held."
        onPick={(one) => {
          if (others.some((each) => each.subject === one.subject) && !absent.includes(one.subject)) {
            leave(one.subject);
          }
        }}
      />
      <ChangingSentences label="No record">
        {others
          .filter((one) => absent.includes(one.subject))
          .map((one) => (
            <Sentence
              key={one.subject}
              margin="Not through"
              deed={
                <Deed onDo={() => form.set({ absent: absent.filter((each) => each !== one.subject) })}>
                  It may have come through
                </Deed>
              }
            >
              <strong>{one.shown}</strong>
            </Sentence>
          ))}
        {without
          .filter((one) => !absent.includes(one.subject))
          .slice(0, MOST_LISTED)
          .map((one) => (
            <NoRecord
              key={one.subject}
              one={one}
              isNone={gotNoneOf(none, [one])[0]?.lines.length === one.left.length}
              onAway={() => leave(one.subject)}
              onNone={(isNone) => form.set({ none: sayNone(none, one.subject, one.left, isNone) })}
            />
          ))}
        {session.inPart
          .filter((one) => !absent.includes(one.subject))
          .map((one) => (
            <Sentence
              key={one.subject}
              margin="In part"
              deed={<Deed onDo={() => leave(one.subject)}>The others did not come through</Deed>}
            >
              <strong>{one.shown}</strong>: {count(one.heads, 'head has', 'heads have')} no record.
            </Sentence>
          ))}
      </ChangingSentences>
    </>
  );
}

function NoRecord({
  one,
  isNone,
  onAway,
  onNone,
}: {
  one: Waiting;
  isNone: boolean;
  onAway: () => void;
  onNone: (isNone: boolean) => void;
}) {
  const who = (
    <>
      <strong>{one.shown}</strong>
      {one.heads > 1 ? `, ${one.heads} head` : ''}
    </>
  );
  if (isNone) {
    return (
      <Sentence margin="Got none" deed={<Deed onDo={() => onNone(false)}>It may have got it</Deed>}>
        {who}
      </Sentence>
    );
  }
  return (
    <Sentence
      margin={one.leftOut === undefined ? 'No record' : 'Left out'}
      deed={
        <>
          <Deed onDo={onAway}>It did not come through</Deed>
          <Deed onDo={() => onNone(true)}>It came through and got nothing</Deed>
        </>
      }
    >
      {who}
      {one.leftOut === undefined ? '' : `: ${one.leftOut}`}
    </Sentence>
  );
}

/** "A, B and 3 more may have been treated …": everybody who will be held, by name as far as it can be read. */
function sayHeld(names: readonly string[], medicines: readonly string[]): string {
  const shown = names.length > 12 ? [...names.slice(0, 11), `${names.length - 11} more`] : names;
  const what = medicines.length === 1 ? '' : ` with what was planned of ${listed(medicines)}`;
  return names.length === 1
    ? `${names[0]} may have been treated${what}, and is held as if it had been, until it is known.`
    : `${listed(shown)} may have been treated${what}. Each is held as if it had been, until it is known.`;
}
