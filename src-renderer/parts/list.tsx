import {
  Fragment,
  type KeyboardEvent,
  lazy,
  type ReactNode,
  Suspense,
  useId,
  useMemo,
  useRef,
  useState,
} from 'react';
import { useCommand } from '../shell/commands.ts';
import { Deed } from './deed.tsx';
import { downloadText } from './download.ts';
import { keyHints } from './keys.tsx';
import { ariaSort, cellClass, cellText, HeadButton, type RowsProps } from './list-head.tsx';
import { type Column, filterRows, moveTo, type Order, orderRows, searchTexts, toCsv } from './list-rows.ts';
import { count } from './words.ts';

export type { Column } from './list-rows.ts';

/** Above this many rows only those that can be seen are in the page. */
const plainMost = 500;
/** With this many columns or more each row becomes a stack of lines where there is no room for a table. */
const stackFrom = 4;
/** Lists shorter than this need no filter. */
const filterFrom = 8;

const LongRows = lazy(() => import('./list-long.tsx'));

/**
 * A list: filter, order by any column, keys (arrows, Page, Home, End, Enter), save as a file. Up to 500 rows it
 * is a plain table; above, only what can be seen is in the page. "/" puts the cursor into the filter.
 */
export function List<R>({
  rows,
  columns,
  rowKey,
  label,
  onOpen,
  first,
  empty,
  fileName,
  fileColumns = columns,
  heads,
  deeds,
  isAside = false,
  headings,
}: {
  rows: readonly R[];
  columns: readonly Column<R>[];
  rowKey: (row: R) => string;
  /** What is listed, in words: "Animals". */
  label: string;
  /** What Enter and a click on a row do. */
  onOpen?: (row: R) => void;
  /** The order at the start. */
  first?: Order;
  /** What to show when there is nothing at all: an `<Empty>` that says what to do next. */
  empty: ReactNode;
  /** Name of the saved file without its ending; the label when left out. */
  fileName?: string;
  /** The columns of the saved file, where it says more than the screen has room for. */
  fileColumns?: readonly Column<R>[];
  /** Head in a row, where a row may be a lot: the count then says lines and head. */
  heads?: (row: R) => number;
  deeds?: ReactNode;
  /** A short list beside the one the screen is for: "/" goes past it. */
  isAside?: boolean;
  /** What stands above the rows that belong together, while the list is ordered by the column of that key. */
  headings?: { by: string; of: (row: R) => string };
}) {
  const [typed, setTyped] = useState('');
  const [order, setOrder] = useState<Order | undefined>(first);
  const box = useRef<HTMLInputElement>(null);
  const id = useId();
  useCommand('find-here', () => box.current?.focus(), !isAside && rows.length >= filterFrom);

  const texts = useMemo(() => searchTexts(rows, columns), [rows, columns]);
  const shown = useMemo(
    () => orderRows(filterRows(rows, texts, typed), columns, order),
    [rows, texts, typed, columns, order],
  );
  if (rows.length === 0) return empty;

  const onOrder = (key: string) =>
    setOrder((before) => ({ key, isDown: before?.key === key && !before.isDown }));
  const props: RowsProps<R> = { rows: shown, columns, rowKey, label, order, onOrder, onOpen };
  const lines =
    shown.length === rows.length
      ? count(rows.length, 'line', 'lines')
      : `${shown.length.toLocaleString('en-GB')} of ${rows.length.toLocaleString('en-GB')}`;
  const inAll = heads === undefined ? undefined : shown.reduce((sum, row) => sum + heads(row), 0);
  const counted = inAll === undefined ? lines : `${lines}, ${count(inAll, 'head', 'head')}`;

  return (
    <div className="list">
      <div className="list-tools">
        {rows.length < filterFrom ? null : (
          <label className="list-filter" htmlFor={id}>
            Look for
            <input
              ref={box}
              id={id}
              type="search"
              {...keyHints('/')}
              autoComplete="off"
              spellCheck={false}
              value={typed}
              onChange={(event) => setTyped(event.target.value)}
            />
          </label>
        )}
        <span role="status" className="list-count">
          {counted}
        </span>
        <span className="list-deeds">
          {deeds}
          <Deed onDo={() => downloadText(`${fileName ?? label}.csv`, toCsv(shown, fileColumns), 'text/csv')}>
            Save as a file
          </Deed>
        </span>
      </div>
      {shown.length === 0 ? (
        <p className="empty">
          Nothing in this list says “{typed}”. <Deed onDo={() => setTyped('')}>Show all</Deed>
        </p>
      ) : shown.length > plainMost ? (
        <Suspense fallback={<p className="awaited">Opening the list…</p>}>
          {/* The lazy part is made for rows of any kind; inside, rows are only handed back to `columns`. */}
          <LongRows {...(props as RowsProps<unknown>)} />
        </Suspense>
      ) : (
        <PlainRows {...props} headingOf={headings?.by === order?.key ? headings?.of : undefined} />
      )}
    </div>
  );
}

function PlainRows<R>({
  rows,
  columns,
  rowKey,
  label,
  order,
  onOrder,
  onOpen,
  headingOf,
}: RowsProps<R> & { headingOf: ((row: R) => string) | undefined }) {
  const [at, setAt] = useState(0);
  const body = useRef<HTMLTableSectionElement>(null);
  const cursor = Math.min(at, rows.length - 1);

  const press = (event: KeyboardEvent<HTMLTableRowElement>, row: R) => {
    if (event.target !== event.currentTarget) return;
    if (event.key === 'Enter' && onOpen !== undefined) {
      event.preventDefault();
      onOpen(row);
    }
    const to = moveTo(event.key, cursor, rows.length);
    if (to === undefined) return;
    event.preventDefault();
    setAt(to);
    body.current?.querySelectorAll<HTMLElement>('tr:not(.rows-heading)')[to]?.focus();
  };

  return (
    <div className="list-scroll">
      <table
        className={`rows${onOpen === undefined ? '' : ' rows-open'}${columns.length >= stackFrom ? ' rows-wide' : ''}`}
        aria-label={label}
      >
        <thead>
          <tr>
            {columns.map((column) => (
              <th
                key={column.key}
                scope="col"
                aria-sort={ariaSort(column.key, order)}
                className={column.isNumber === true ? 'number' : undefined}
              >
                <HeadButton column={column} order={order} onOrder={onOrder} />
              </th>
            ))}
          </tr>
        </thead>
        <tbody ref={body}>
          {rows.map((row, n) => (
            <Fragment key={rowKey(row)}>
              <Heading row={row} before={rows[n - 1]} of={headingOf} wide={columns.length} />
              <tr
                // One row at a time is reached by Tab; the arrows go on from there.
                tabIndex={onOpen === undefined ? undefined : n === cursor ? 0 : -1}
                onFocus={() => setAt(n)}
                onKeyDown={(event) => press(event, row)}
                onClick={onOpen === undefined ? undefined : () => onOpen(row)}
              >
                {columns.map((column) => (
                  <td key={column.key} data-head={column.head} className={cellClass(column)}>
                    {cellText(column, row)}
                  </td>
                ))}
              </tr>
            </Fragment>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** The heading above a row that is the first of those under it. */
function Heading<R>({
  row,
  before,
  of,
  wide,
}: {
  row: R;
  before: R | undefined;
  of: ((row: R) => string) | undefined;
  wide: number;
}) {
  const text = of?.(row);
  if (of === undefined || text === undefined || (before !== undefined && of(before) === text)) return null;
  return (
    <tr className="rows-heading">
      <th scope="colgroup" colSpan={wide}>
        {text}
      </th>
    </tr>
  );
}
