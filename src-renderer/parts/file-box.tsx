import { type ChangeEvent, useId, useState } from 'react';
import type { Fault } from '../../src-shared/refusal.ts';
import { desk } from '../desk.ts';
import { FaultNotice } from './notice.tsx';

/** A file that was chosen and lies at the desk. */
export type Chosen = { readonly token: string; readonly name: string };

/** What the browser's own box offers first where a table is wanted. */
export const TABLE_FILES = '.csv,.txt,.tsv,text/csv,text/plain,text/tab-separated-values';

/**
 * Chooses a file and hands it to the desk. The browser's own box: it works by keyboard and by dropping a file on it.
 * A file over `mostMb` is refused here, before a byte of it is read or sent.
 */
export function FileBox({
  label,
  hint,
  accept,
  mostMb,
  onChosen,
}: {
  label: string;
  hint: string;
  /** What the box offers first, as `accept` of an input. */
  accept: string;
  /** In megabytes of 1024 × 1024; absent, what the desk takes at all. */
  mostMb?: number;
  /** Nothing, while another one is fetched or when it was refused. */
  onChosen: (file: Chosen | undefined) => void;
}) {
  const id = useId();
  const [fault, setFault] = useState<Fault | undefined>(undefined);
  const [isSending, setSending] = useState(false);
  const choose = async (event: ChangeEvent<HTMLInputElement>) => {
    const [file] = event.target.files ?? [];
    if (file === undefined) return;
    setFault(undefined);
    onChosen(undefined);
    if (mostMb !== undefined && file.size > mostMb * 1024 * 1024) {
      setFault({
        code: 'too-big',
        message: `${label}: ${file.name} is larger than ${mostMb} MB.`,
        next: 'Choose a smaller one.',
      });
      return;
    }
    setSending(true);
    const sent = await desk.sendFile(file);
    setSending(false);
    if (sent.ok) onChosen({ token: sent.value.token, name: file.name });
    else setFault(sent.error);
  };
  return (
    <div className="form">
      <div className="field">
        <label className="field-label" htmlFor={id}>
          {label}
        </label>
        <p className="hint" id={`${id}-hint`}>
          {hint}
        </p>
        <div className="file-box">
          <input
            id={id}
            type="file"
            accept={accept}
            aria-describedby={`${id}-hint`}
            onChange={(event) => void choose(event)}
          />
        </div>
        <p role="status">{isSending ? 'Fetching the file…' : ''}</p>
      </div>
      {fault === undefined ? null : <FaultNotice fault={fault} />}
    </div>
  );
}
