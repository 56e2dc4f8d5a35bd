import { createContext, type ReactNode, useContext, useId } from 'react';
import type { ListProps, TextProps, TickProps } from '../hooks/use-form.ts';

/** Keeps fields of the same name in two forms apart. */
export const FormScope = createContext('form');

/** The id of the element with the cursor of a field; the list of problems links to it. */
export function fieldId(scope: string, name: string): string {
  return `${scope}-${name.replaceAll('.', '-')}`;
}

type Around = {
  label: string;
  hint?: ReactNode;
  /** What was typed, said back in full words ("Europe/London: it is 14:05 there"). */
  readBack?: ReactNode;
  /** May be left empty; said in words, so that nothing depends on a star. */
  optional?: boolean;
};

function useAround(name: string, around: Around, error: string | undefined) {
  const id = fieldId(useContext(FormScope), name);
  const described = [
    around.hint === undefined ? undefined : `${id}-hint`,
    around.readBack === undefined ? undefined : `${id}-back`,
    error === undefined ? undefined : `${id}-error`,
  ].filter((part) => part !== undefined);
  return {
    id,
    aria: {
      'aria-describedby': described.length === 0 ? undefined : described.join(' '),
      'aria-invalid': error === undefined ? undefined : (true as const),
    },
  };
}

function Frame({
  id,
  around,
  error,
  children,
}: {
  id: string;
  around: Around;
  error: string | undefined;
  children: ReactNode;
}) {
  return (
    <div className={error === undefined ? 'field' : 'field field-wrong'}>
      <label className="field-label" htmlFor={id}>
        {around.label}
        {around.optional === true ? <span className="optional"> (may be left empty)</span> : null}
      </label>
      {around.hint === undefined ? null : (
        <p className="hint" id={`${id}-hint`}>
          {around.hint}
        </p>
      )}
      {children}
      <Beneath id={id} readBack={around.readBack} error={error} />
    </div>
  );
}

function Beneath({ id, readBack, error }: { id: string; readBack?: ReactNode; error: string | undefined }) {
  return (
    <>
      {readBack === undefined ? null : (
        <output className="read-back" id={`${id}-back`}>
          {readBack}
        </output>
      )}
      {error === undefined ? null : (
        <p className="field-error" id={`${id}-error`}>
          <strong>Not yet:</strong> {error}
        </p>
      )}
    </>
  );
}

/**
 * One field. Give it `{...form.text('name')}`. `size` is how many characters are usual: the box is as wide as
 * what goes into it. Number fields are text too, with `inputMode`: a spinner that changes a dose by a turn of
 * the wheel has no place here.
 */
export function Field({
  name,
  value,
  onChange,
  error,
  size = 32,
  inputMode,
  autoComplete = 'off',
  lines = 1,
  list,
  onLeave,
  ...around
}: TextProps &
  Around & {
    size?: number;
    inputMode?: 'text' | 'decimal' | 'numeric' | 'tel' | 'email';
    autoComplete?: string;
    /** More than one makes room for an address or a reason. Enter then starts a new line. */
    lines?: number;
    /** Likely answers, offered while typing; anything else may still be typed. */
    list?: readonly string[];
    /** When the cursor goes elsewhere. */
    onLeave?: () => void;
  }) {
  const { id, aria } = useAround(name, around, error);
  return (
    <Frame id={id} around={around} error={error}>
      {lines > 1 ? (
        <textarea
          id={id}
          name={name}
          rows={lines}
          cols={size}
          value={value}
          onChange={(event) => onChange(event.target.value)}
          {...aria}
        />
      ) : (
        <input
          id={id}
          name={name}
          type="text"
          onBlur={onLeave}
          // An answer that was filled in is typed over, not added to; and the list offers everything again.
          onFocus={list === undefined ? undefined : (event) => event.target.select()}
          size={size}
          value={value}
          inputMode={inputMode}
          autoComplete={autoComplete}
          spellCheck={false}
          list={list === undefined ? undefined : `${id}-list`}
          onChange={(event) => onChange(event.target.value)}
          {...aria}
        />
      )}
      {list === undefined ? null : (
        <datalist id={`${id}-list`}>
          {list.map((item) => (
            <option key={item} value={item} />
          ))}
        </datalist>
      )}
    </Frame>
  );
}

export type ChoiceOption = { readonly value: string; readonly label: string; readonly hint?: string };

/** One of many, in a box that drops down. For up to six use `<Choice>`, which shows them all. */
export function Select({
  name,
  value,
  onChange,
  error,
  options,
  ...around
}: TextProps & Around & { options: readonly ChoiceOption[] }) {
  const { id, aria } = useAround(name, around, error);
  return (
    <Frame id={id} around={around} error={error}>
      <select id={id} name={name} value={value} onChange={(event) => onChange(event.target.value)} {...aria}>
        {options.map((option) => (
          <option key={option.value} value={option.value}>
            {option.label}
          </option>
        ))}
      </select>
    </Frame>
  );
}

function Legend({ id, around, error, children }: Parameters<typeof Frame>[0]) {
  const described = [around.hint === undefined ? '' : `${id}-hint`, error === undefined ? '' : `${id}-error`]
    .filter((part) => part !== '')
    .join(' ');
  return (
    <fieldset
      className={error === undefined ? 'field choice' : 'field choice field-wrong'}
      aria-describedby={described === '' ? undefined : described}
    >
      <legend className="field-label">
        {around.label}
        {around.optional === true ? <span className="optional"> (may be left empty)</span> : null}
      </legend>
      {around.hint === undefined ? null : (
        <p className="hint" id={`${id}-hint`}>
          {around.hint}
        </p>
      )}
      {children}
      <Beneath id={id} readBack={around.readBack} error={error} />
    </fieldset>
  );
}

/** One of a few, all to be seen, each with what it means. */
export function Choice({
  name,
  value,
  onChange,
  error,
  options,
  ...around
}: TextProps & Around & { options: readonly ChoiceOption[] }) {
  const { id } = useAround(name, around, error);
  const group = useId();
  return (
    <Legend id={id} around={around} error={error}>
      {options.map((option, n) => (
        <label key={option.value} className="option">
          <input
            // The list of problems links to the first of them.
            id={n === 0 ? id : undefined}
            type="radio"
            name={group}
            value={option.value}
            checked={option.value === value}
            onChange={() => onChange(option.value)}
          />
          <span>
            {option.label}
            {option.hint === undefined ? null : <small>{option.hint}</small>}
          </span>
        </label>
      ))}
    </Legend>
  );
}

/** Any of a few. */
export function Ticks({
  name,
  value,
  onChange,
  error,
  options,
  ...around
}: ListProps & Around & { options: readonly ChoiceOption[] }) {
  const { id } = useAround(name, around, error);
  return (
    <Legend id={id} around={around} error={error}>
      {options.map((option, n) => (
        <label key={option.value} className="option">
          <input
            id={n === 0 ? id : undefined}
            type="checkbox"
            checked={value.includes(option.value)}
            onChange={(event) =>
              onChange(
                event.target.checked
                  ? [...value, option.value]
                  : value.filter((held) => held !== option.value),
              )
            }
          />
          <span>
            {option.label}
            {option.hint === undefined ? null : <small>{option.hint}</small>}
          </span>
        </label>
      ))}
    </Legend>
  );
}

/** Yes or no. */
export function Tick({ name, value, onChange, error, ...around }: TickProps & Around) {
  const { id, aria } = useAround(name, around, error);
  return (
    <div className={error === undefined ? 'field' : 'field field-wrong'}>
      <label className="option" htmlFor={id}>
        <input
          id={id}
          type="checkbox"
          checked={value}
          onChange={(event) => onChange(event.target.checked)}
          {...aria}
        />
        <span>
          {around.label}
          {around.hint === undefined ? null : <small id={`${id}-hint`}>{around.hint}</small>}
        </span>
      </label>
      <Beneath id={id} readBack={around.readBack} error={error} />
    </div>
  );
}
