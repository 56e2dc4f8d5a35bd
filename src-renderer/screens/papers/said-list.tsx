import { type ReactNode, useId, useState } from 'react';
import { Deed } from '../../parts/deed.tsx';
import { downloadText } from '../../parts/download.ts';
import { Select } from '../../parts/field.tsx';
import { type Column, filterRows, orderRows, searchTexts, toCsv } from '../../parts/list-rows.ts';
import { Sentence, Sentences } from '../../parts/sentence.tsx';
import type { PaperWords } from './words.ts';

/** Shorter lists are seen at a glance: nothing to look for, nothing to put in order. */
const toolsFrom = 8;

/**
 * Papers as sentences, newest first, with what every list has: a filter, another order, a file to keep.
 * `columns` serve all three; the sentences are `say`.
 */
export function SaidList<R>({
  rows,
  columns,
  rowKey,
  say,
  deed,
  label,
  empty,
}: {
  rows: readonly R[];
  columns: readonly Column<R>[];
  rowKey: (row: R) => string;
  say: (row: R) => PaperWords;
  /** What can be done with one of them. */
  deed?: (row: R) => ReactNode;
  label: string;
  empty: ReactNode;
}) {
  const [typed, setTyped] = useState('');
  const [order, setOrder] = useState('');
  const id = useId();
  if (rows.length === 0) return empty;
  const found = filterRows(rows, searchTexts(rows, columns), typed);
  const shown = orderRows(found, columns, order === '' ? undefined : { key: order, isDown: false });
  return (
    <>
      {rows.length < toolsFrom ? null : (
        <>
          <div className="list-tools">
            <label className="list-filter" htmlFor={id}>
              Look for
              <input
                id={id}
                type="search"
                autoComplete="off"
                spellCheck={false}
                value={typed}
                onChange={(event) => setTyped(event.target.value)}
              />
            </label>
            <span role="status" className="list-count">
              {shown.length} of {rows.length}
            </span>
          </div>
          <Select
            name={`${label}-order`}
            label="In the order of"
            value={order}
            onChange={setOrder}
            options={[
              { value: '', label: 'Newest first' },
              ...columns.map(({ key, head }) => ({ value: key, label: head })),
            ]}
          />
        </>
      )}
      <Sentences label={label}>
        {shown.map((row) => {
          const { margin, text, small } = say(row);
          return (
            <Sentence key={rowKey(row)} margin={margin} small={small} deed={deed?.(row)}>
              {text}
            </Sentence>
          );
        })}
      </Sentences>
      <p className="deeds">
        <Deed onDo={() => downloadText(`${label}.csv`, toCsv(shown, columns), 'text/csv')}>
          Save the {label.toLowerCase()} as a file
        </Deed>
      </p>
    </>
  );
}
