import { type KeyboardEvent, type ReactNode, type Ref, useContext, useRef, useState } from 'react';
import type { Reply } from '../../src-shared/calls/all.ts';
import type { Fault } from '../../src-shared/refusal.ts';
import { desk } from '../desk.ts';
import { Deed } from './deed.tsx';
import { FormScope, fieldId } from './field.tsx';

export type SubjectRow = Reply<'find-subject'>['found'][number];

type Looking =
  | { state: 'idle' | 'looking' | 'none' }
  | { state: 'many'; found: readonly SubjectRow[] }
  | { state: 'failed'; fault: Fault };

/**
 * Finds an animal or lot by what is typed or sent by a reader: number, Enter. One answer is taken at once; of
 * several one is chosen. The box empties after taking, ready for the next.
 */
export function SubjectPicker({
  name = 'subject',
  label = 'Tag, number or lot',
  hint,
  error,
  onPick,
  ref,
}: {
  name?: string;
  label?: string;
  hint?: ReactNode;
  error?: string | undefined;
  onPick: (subject: SubjectRow) => void;
  /** The box, for putting the cursor back into it. */
  ref?: Ref<HTMLInputElement>;
}) {
  const id = fieldId(useContext(FormScope), name);
  const [typed, setTyped] = useState('');
  const [looking, setLooking] = useState<Looking>({ state: 'idle' });
  const turn = useRef(0);

  const take = (subject: SubjectRow) => {
    setTyped('');
    setLooking({ state: 'idle' });
    onPick(subject);
  };
  const look = async () => {
    const read = typed.trim();
    if (read === '') return;
    turn.current += 1;
    const mine = turn.current;
    setLooking({ state: 'looking' });
    const outcome = await desk.call('find-subject', { read });
    // Somebody typed on meanwhile: this answer is to an old question.
    if (mine !== turn.current) return;
    if (!outcome.ok) return setLooking({ state: 'failed', fault: outcome.error });
    const { found } = outcome.value;
    const [only] = found;
    if (only === undefined) setLooking({ state: 'none' });
    else if (found.length === 1) take(only);
    else setLooking({ state: 'many', found: found.slice(0, 9) });
  };
  const press = (event: KeyboardEvent) => {
    if (event.key === 'Enter' && typed.trim() !== '') {
      event.preventDefault();
      void look();
    }
    if (event.key === 'Escape' && typed !== '') {
      event.preventDefault();
      setTyped('');
      setLooking({ state: 'idle' });
    }
  };

  return (
    <div className={error === undefined ? 'field' : 'field field-wrong'}>
      <label className="field-label" htmlFor={id}>
        {label}
      </label>
      {hint === undefined ? null : (
        <p className="hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      <input
        ref={ref}
        id={id}
        type="text"
        size={24}
        autoComplete="off"
        spellCheck={false}
        aria-invalid={error === undefined ? undefined : true}
        aria-describedby={`${id}-state`}
        value={typed}
        onChange={(event) => {
          turn.current += 1;
          setTyped(event.target.value);
          setLooking({ state: 'idle' });
        }}
        onKeyDown={press}
      />
      {/* For a hand at the mouse or a screen without keys; who types or reads a tag presses Enter. */}
      {typed.trim() === '' ? null : (
        <>
          {' '}
          <Deed onDo={() => void look()}>Look it up</Deed>
        </>
      )}
      <div id={`${id}-state`} role="status">
        {looking.state === 'looking' ? 'Looking…' : null}
        {looking.state === 'none' ? `Nothing on record is called “${typed.trim()}”. Check the number.` : null}
        {looking.state === 'failed' ? `${looking.fault.message} ${looking.fault.next ?? ''}` : null}
        {looking.state === 'many' ? 'More than one answers to that. Which?' : null}
        {error === undefined ? null : (
          <p className="field-error">
            <strong>Not yet:</strong> {error}
          </p>
        )}
      </div>
      {looking.state === 'many' ? (
        <ul className="options">
          {looking.found.map((subject) => (
            <li key={subject.subject}>
              <button type="button" className="choice-row" onClick={() => take(subject)}>
                <span>{subject.shown}</span>
                <span className="choice-more">
                  {subject.heads > 1 ? `${subject.heads} head, ` : ''}
                  {subject.class}
                  {subject.present ? '' : ', no longer here'}
                </span>
              </button>
            </li>
          ))}
        </ul>
      ) : null}
    </div>
  );
}
