import { type KeyboardEvent, type ReactNode, useContext, useId, useState } from 'react';
import { searchKey } from '../../src-shared/search-key.ts';
import { FormScope, fieldId } from './field.tsx';

export type Option = { readonly key: string; readonly text: string; readonly more?: string };

/** How many answers are shown at once; more are found by typing more. */
const shownMost = 12;

/**
 * One of many, found by typing. The answers stand under the box in the page and cover nothing. Arrows choose,
 * Enter takes, Esc puts back what stood there.
 */
export function Combobox({
  name,
  label,
  hint,
  error,
  options,
  picked,
  onPick,
  nothing,
}: {
  name: string;
  label: string;
  hint?: ReactNode;
  error?: string | undefined;
  options: readonly Option[];
  /** Key of what was taken. */
  picked: string | undefined;
  onPick: (key: string | undefined) => void;
  /** What to say when nothing answers to what was typed. */
  nothing: ReactNode;
}) {
  const id = fieldId(useContext(FormScope), name);
  const list = useId();
  const [typed, setTyped] = useState<string | undefined>(undefined);
  const [at, setAt] = useState(0);
  const held = options.find((option) => option.key === picked);
  const isOpen = typed !== undefined;
  const words = searchKey(typed ?? '')
    .split(' ')
    .filter((word) => word !== '');
  const found = options
    .filter((option) =>
      words.every((word) => searchKey(`${option.text} ${option.more ?? ''}`).includes(word)),
    )
    .slice(0, shownMost);
  const chosen = found[Math.min(at, found.length - 1)];

  const take = (option: Option | undefined) => {
    if (option === undefined) return;
    onPick(option.key);
    setTyped(undefined);
    setAt(0);
  };
  const press = (event: KeyboardEvent) => {
    if (event.key === 'ArrowDown' || event.key === 'ArrowUp') {
      event.preventDefault();
      if (!isOpen) setTyped('');
      else setAt(Math.max(0, Math.min(found.length - 1, at + (event.key === 'ArrowDown' ? 1 : -1))));
    }
    if (event.key === 'Enter' && isOpen) {
      // The form is sent by the next Enter; this one takes the answer.
      event.preventDefault();
      take(chosen);
    }
    if (event.key === 'Escape' && isOpen) {
      event.preventDefault();
      setTyped(undefined);
    }
  };
  const describedBy = [hint === undefined ? '' : `${id}-hint`, error === undefined ? '' : `${id}-error`]
    .filter((part) => part !== '')
    .join(' ');

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
        id={id}
        type="text"
        role="combobox"
        aria-expanded={isOpen}
        aria-controls={list}
        aria-autocomplete="list"
        aria-activedescendant={isOpen && chosen !== undefined ? `${list}-${chosen.key}` : undefined}
        aria-invalid={error === undefined ? undefined : true}
        aria-describedby={describedBy === '' ? undefined : describedBy}
        autoComplete="off"
        spellCheck={false}
        size={32}
        value={typed ?? held?.text ?? ''}
        onChange={(event) => {
          setTyped(event.target.value);
          setAt(0);
          if (event.target.value === '') onPick(undefined);
        }}
        onKeyDown={press}
        onClick={() => setTyped(typed ?? '')}
        onBlur={() => setTyped(undefined)}
      />
      <div id={list} role="listbox" aria-label={label} className="options" hidden={!isOpen} tabIndex={-1}>
        {found.map((option) => (
          <div
            key={option.key}
            id={`${list}-${option.key}`}
            role="option"
            tabIndex={-1}
            aria-selected={option === chosen}
            className="choice-row"
            // Before the box loses the cursor, or the list would be gone before the click.
            onPointerDown={(event) => {
              event.preventDefault();
              take(option);
            }}
          >
            <span>{option.text}</span>
            {option.more === undefined ? null : <span className="choice-more">{option.more}</span>}
          </div>
        ))}
      </div>
      {isOpen && found.length === 0 ? <p role="status">{nothing}</p> : null}
      {error === undefined ? null : (
        <p className="field-error" id={`${id}-error`}>
          <strong>Not yet:</strong> {error}
        </p>
      )}
    </div>
  );
}
