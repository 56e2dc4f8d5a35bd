import { type KeyboardEvent, useId } from 'react';
import type { Note } from './fill.ts';
import type { Blank } from './sentence.ts';

/**
 * One blank in a sentence: as wide as what stands in it, with what was understood, or what is wrong, right beneath.
 * `isHushed`: somebody is still typing here for the first time, so nothing is called wrong yet.
 */
export function BlankField({
  name,
  blank,
  value,
  note,
  isHushed,
  onChange,
  onLeave,
  onNext,
}: {
  name: string;
  blank: Blank;
  value: string;
  note: Note | undefined;
  isHushed: boolean;
  onChange: (text: string) => void;
  onLeave: () => void;
  /** Enter: on to the next blank. */
  onNext: () => void;
}) {
  const id = useId();
  const fault = isHushed ? undefined : note?.fault;
  const beneath = fault === undefined ? note?.says : undefined;
  const described = fault !== undefined || beneath !== undefined ? `${id}-note` : undefined;
  const width = Math.max(value === '' ? blank.says.length : value.length, blank.size) + 1;
  const press = (event: KeyboardEvent) => {
    // In a long blank Enter starts a new line.
    if (event.key !== 'Enter' || blank.isLong === true || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    onNext();
  };
  const common = {
    name,
    value,
    'aria-label': labelOf(name, blank),
    'aria-invalid': fault === undefined ? undefined : (true as const),
    'aria-describedby': described,
    onBlur: onLeave,
    onKeyDown: press,
  };
  return (
    <span className={fault === undefined ? 'blank' : 'blank blank-wrong'}>
      {blank.options !== undefined ? (
        <select {...common} onChange={(event) => onChange(event.target.value)}>
          <option value="">{blank.says}</option>
          {blank.options.map((option) => (
            <option key={option.value} value={option.value}>
              {option.label}
            </option>
          ))}
        </select>
      ) : blank.isLong === true ? (
        <textarea
          {...common}
          rows={Math.min(6, Math.max(2, Math.ceil(value.length / blank.size)))}
          cols={blank.size}
          placeholder={blank.says}
          onChange={(event) => onChange(event.target.value)}
        />
      ) : (
        <input
          {...common}
          type="text"
          size={Math.min(width, 30)}
          placeholder={blank.says}
          autoComplete="off"
          spellCheck={false}
          onChange={(event) => onChange(event.target.value)}
        />
      )}
      {described === undefined ? null : (
        <span id={described} className="blank-note">
          {fault === undefined ? (
            beneath
          ) : (
            <>
              <strong>Not yet:</strong> {fault.message} {fault.next}
            </>
          )}
        </span>
      )}
    </span>
  );
}

/** The name of a blank for who does not see where it stands; a row says which one it is. */
function labelOf(name: string, blank: Blank): string {
  const row = /\.(\d+)\./.exec(name)?.[1];
  const says = blank.says.charAt(0).toUpperCase() + blank.says.slice(1);
  return row === undefined ? says : `${says}, row ${Number(row) + 1}`;
}
