import { type KeyboardEvent, useState } from 'react';
import type { Reply } from '../../../src-shared/calls/all.ts';
import { desk } from '../../desk.ts';
import { Field } from '../../parts/field.tsx';

export type ReadPack = Reply<'read-pack'>;

const SEPARATOR = '\u001d';

/** Scanners send the separator as Ctrl and ], which types nothing by itself. */
function isSeparator(event: KeyboardEvent): boolean {
  return event.key === SEPARATOR || (event.ctrlKey && (event.key === ']' || event.code === 'BracketRight'));
}

/**
 * A box that a scanner types into: Enter, which scanners send behind a code, reads it and empties the box. What cannot
 * be read, or can be read in two ways, is said beneath, and what was scanned stays.
 */
export function ScanField({
  name = 'scan',
  label = 'Scan the pack',
  hint,
  onRead,
}: {
  /** Where several stand in one form each has a name of its own. */
  name?: string;
  label?: string;
  hint: string;
  /** Takes what was read; a sentence it answers is shown in the place of an error. */
  onRead: (pack: ReadPack) => string | undefined;
}) {
  const [typed, setTyped] = useState('');
  const [error, setError] = useState<string | undefined>(undefined);
  const read = async () => {
    const outcome = await desk.call('read-pack', { scan: typed });
    if (!outcome.ok) {
      setError([outcome.error.message, outcome.error.next].filter((text) => text).join(' '));
      return;
    }
    const wrong = onRead(outcome.value);
    setError(wrong);
    if (wrong === undefined) setTyped('');
  };
  const press = (event: KeyboardEvent<HTMLElement>) => {
    if (isSeparator(event)) {
      event.preventDefault();
      setTyped((before) => before + SEPARATOR);
      return;
    }
    if (event.key !== 'Enter' || event.ctrlKey || event.metaKey || typed.trim() === '') return;
    // Not the form: the rest of it is still to be filled in.
    event.preventDefault();
    event.stopPropagation();
    void read();
  };
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: only listens to the keys of the box inside
    <div onKeyDown={press}>
      <Field
        name={name}
        label={label}
        hint={hint}
        optional
        size={40}
        value={typed}
        onChange={(value) => {
          setTyped(value);
          setError(undefined);
        }}
        error={error}
      />
    </div>
  );
}
