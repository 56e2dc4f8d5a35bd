import {
  type FormEvent,
  type KeyboardEvent,
  type ReactNode,
  useEffect,
  useId,
  useRef,
  useState,
} from 'react';
import type { WritingCall } from '../../src-shared/calls/all.ts';
import type { Values } from '../hooks/use-draft.ts';
import type { FormState, Problem } from '../hooks/use-form.ts';
import type { Write } from '../hooks/use-write.ts';
import { useCommand } from '../shell/commands.ts';
import { Deed } from './deed.tsx';
import { FormScope, fieldId } from './field.tsx';
import { Notice } from './notice.tsx';
import { Question } from './question.tsx';

/** What a form needs to know of its fields; how they are changed is theirs. */
type FormHead<V extends Values> = Pick<
  FormState<V>,
  'values' | 'isReady' | 'isRestored' | 'isTouched' | 'problems' | 'turn' | 'show' | 'drop'
>;

/**
 * A form. Enter sends it; Ctrl Enter from anywhere in it. What is wrong stands in one list on top, each line
 * leading to its field, and again beside the field. Esc leaves it, and asks first when something was typed:
 * an unfinished form is kept. A question of the desk is shown with its deed.
 */
export function Form<V extends Values, N extends WritingCall>({
  form,
  write,
  deed,
  onSend,
  onLeave,
  note,
  children,
}: {
  form: FormHead<V>;
  write: Write<N>;
  /** What sending does, in words: "Write the holding in the book". */
  deed: string;
  /** Checks and sends. Called by Enter. */
  onSend: () => void;
  /** Where to go when it is put away; absent, the form stays on its screen and Esc does nothing. */
  onLeave?: () => void;
  /** Why sending will be refused as things stand; said beside the deed before anybody tries. */
  note?: string | undefined;
  children: ReactNode;
}) {
  const scope = useId();
  const top = useRef<HTMLDivElement>(null);
  const element = useRef<HTMLFormElement>(null);
  const [isLeaving, setLeaving] = useState(false);
  const { show } = form;

  useEffect(() => {
    if (write.now.state === 'failed') show([write.now.fault]);
  }, [write.now, show]);
  const { problems, turn } = form;
  useEffect(() => {
    if (turn > 0) top.current?.focus();
  }, [turn]);
  useCommand('save', () => element.current?.requestSubmit());

  const send = (event: FormEvent) => {
    event.preventDefault();
    if (write.isBusy) return;
    show([]);
    onSend();
  };
  const leave = (event: KeyboardEvent) => {
    if (event.key !== 'Escape' || event.defaultPrevented || onLeave === undefined) return;
    // The same Esc would otherwise close the question that it opens.
    event.preventDefault();
    if (form.isTouched) setLeaving(true);
    else onLeave();
  };

  if (!form.isReady)
    return (
      <p className="awaited" role="status">
        Looking for an unfinished form…
      </p>
    );
  return (
    <FormScope value={scope}>
      <form ref={element} className="form" noValidate onSubmit={send} onKeyDown={leave}>
        <Problems ref={top} scope={scope} problems={problems} fields={Object.keys(form.values)} />
        {form.isRestored && problems.length === 0 ? (
          <Notice word="Kept" deed={<Deed onDo={() => void form.drop()}>Start afresh</Deed>}>
            <p>This form goes on from where it was left.</p>
          </Notice>
        ) : null}
        {children}
        {note === undefined ? null : (
          <p className="form-note" role="status">
            {note}
          </p>
        )}
        <p className="deeds form-deeds">
          <Deed submits weight="main" isBusy={write.isBusy}>
            {write.isBusy ? 'Writing…' : deed}
          </Deed>
          {onLeave === undefined ? null : (
            <Deed onDo={onLeave}>{form.isTouched ? 'Leave, keep the draft' : 'Leave'}</Deed>
          )}
          {onLeave === undefined || !form.isTouched ? null : (
            <Deed onDo={() => setLeaving(true)}>Throw the draft away</Deed>
          )}
        </p>
      </form>
      {isLeaving && onLeave !== undefined ? (
        <Leaving
          onStay={() => setLeaving(false)}
          onKeep={onLeave}
          onDrop={() => void form.drop().then(onLeave)}
        />
      ) : null}
      <WriteQuestions write={write} />
    </FormScope>
  );
}

/** The question of a writing call, when it asks one. `<Form>` shows it by itself; a deed outside a form needs this. */
export function WriteQuestions<N extends WritingCall>({ write }: { write: Write<N> }) {
  if (write.now.state !== 'asked') return null;
  return (
    <Question
      title="Is this so?"
      onNo={write.no}
      deeds={
        <>
          <Deed onDo={write.no}>No, go back</Deed>
          <Deed weight="main" onDo={() => void write.yes()}>
            Yes, write it
          </Deed>
        </>
      }
    >
      <p>{write.now.question.message}</p>
    </Question>
  );
}

function Leaving({ onStay, onKeep, onDrop }: { onStay: () => void; onKeep: () => void; onDrop: () => void }) {
  return (
    <Question
      title="This form is not written yet"
      onNo={onStay}
      deeds={
        <>
          <Deed onDo={onStay}>Go on writing</Deed>
          <Deed onDo={onKeep}>Keep it for later</Deed>
          <Deed weight="grave" onDo={onDrop}>
            Throw it away
          </Deed>
        </>
      }
    >
      <p>Kept for later, it is here again when you come back. Thrown away, what you typed is gone.</p>
    </Question>
  );
}

function Problems({
  ref,
  scope,
  problems,
  fields,
}: {
  ref: React.Ref<HTMLDivElement>;
  scope: string;
  problems: readonly Problem[];
  /** The fields that can be led to. */
  fields: readonly string[];
}) {
  if (problems.length === 0) return null;
  return (
    <div ref={ref} className="notice notice-stop" role="alert" tabIndex={-1}>
      <strong className="notice-word">Not written</strong>
      <ul className="notice-text problems">
        {problems.map((problem) => (
          <li key={`${problem.field ?? ''} ${problem.message}`}>
            {problem.field === undefined || !fields.includes(problem.field) ? (
              problem.message
            ) : (
              <button
                type="button"
                className="deed deed-plain"
                onClick={() => document.getElementById(fieldId(scope, problem.field ?? ''))?.focus()}
              >
                {problem.message}
              </button>
            )}{' '}
            {problem.next}
          </li>
        ))}
      </ul>
    </div>
  );
}
