import { type ReactNode, useState } from 'react';
import { Deed } from '../../parts/deed.tsx';
import { Question } from '../../parts/question.tsx';
import { NextField } from './next-field.tsx';
import type { At, Rows } from './use-label.ts';

/**
 * Rows of a label: each under its own head, with a way to add one and to take one out. A row in which something
 * stands is only taken out after asking. The cursor goes into the first field of a row that was added.
 */
export function RowFields<R>({
  rows,
  title,
  first,
  isBlank,
  least = 0,
  add,
  make,
  out,
  children,
}: {
  rows: Rows<R>;
  /** The head of a row; absent, rows follow one another without. */
  title?: (n: number) => string;
  /** The name of the field that gets the cursor in a new row. */
  first: string;
  isBlank: (row: R) => boolean;
  /** So many rows always stay. */
  least?: number;
  /** The deed that adds a row, in words. */
  add: string;
  make: () => R;
  /** The deed that takes a row out, in words. */
  out: (n: number) => string;
  children: (at: At<R>, n: number) => ReactNode;
}) {
  const [next, setNext] = useState<string | undefined>(undefined);
  const [dropping, setDropping] = useState<number | undefined>(undefined);
  const drop = (n: number) => {
    rows.drop(n);
    setDropping(undefined);
    setNext(`${rows.path}.${Math.max(0, n - 1)}.${first}`);
  };
  return (
    <>
      {rows.all.map((at, n) => (
        <fieldset key={at.path} className="label-row">
          <legend className={title === undefined ? 'unseen' : 'label-row-head'}>
            {title === undefined ? `${n + 1}` : title(n)}
          </legend>
          {children(at, n)}
          {rows.all.length <= least ? null : (
            <p className="label-row-out">
              <Deed onDo={() => (isBlank(at.value) ? drop(n) : setDropping(n))}>{out(n)}</Deed>
            </p>
          )}
        </fieldset>
      ))}
      <p className="label-row-out">
        <Deed
          onDo={() => {
            setNext(`${rows.path}.${rows.all.length}.${first}`);
            rows.add(make());
          }}
        >
          {add}
        </Deed>
      </p>
      <NextField key={`${next ?? ''} ${rows.all.length}`} name={next} />
      {dropping === undefined ? null : (
        <Question
          title="Take this out?"
          onNo={() => setDropping(undefined)}
          deeds={
            <>
              <Deed onDo={() => setDropping(undefined)}>No, keep it</Deed>
              <Deed weight="grave" onDo={() => drop(dropping)}>
                Take it out
              </Deed>
            </>
          }
        >
          <p>What was typed here is gone then; the rest of the label stays as it is.</p>
        </Question>
      )}
    </>
  );
}

/** Fields that most labels do not need, put away until somebody wants them or something stands in them. */
export function More({
  summary,
  isUsed,
  children,
}: {
  summary: string;
  /** Something stands in one of them. */
  isUsed: boolean;
  children: ReactNode;
}) {
  const [isOpen, setOpen] = useState(isUsed);
  return (
    // Once opened it stays open, also when the last field in it is emptied while somebody is typing there.
    <details
      className="label-more"
      open={isOpen || isUsed}
      onToggle={(event) => setOpen(event.currentTarget.open)}
    >
      <summary>{summary}</summary>
      {children}
    </details>
  );
}
