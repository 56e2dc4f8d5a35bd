import { useWindowVirtualizer } from '@tanstack/react-virtual';
import { type CSSProperties, type KeyboardEvent, useEffect, useLayoutEffect, useRef, useState } from 'react';
import { ariaSort, cellClass, cellText, HeadButton, type RowsProps } from './list-head.tsx';
import { moveTo } from './list-rows.ts';

/** A first guess at the height of a row in rem; each row is measured once it is in the page. */
const rowRem = 2.5;

/** Room for the row of heads that stays in sight, in rem. */
const headRem = 3;

/**
 * The rows of a long list as an ARIA grid in which only what can be seen is in the page. It scrolls with the page,
 * as short lists do. The cursor stays on its row meanwhile.
 */
export default function LongRows({
  rows,
  columns,
  rowKey,
  label,
  order,
  onOrder,
  onOpen,
}: RowsProps<unknown>) {
  const [at, setAt] = useState(0);
  const grid = useRef<HTMLDivElement>(null);
  const [top, setTop] = useState(0);
  const isFollowing = useRef(false);
  const cursor = Math.min(at, rows.length - 1);
  const rem = Number.parseFloat(getComputedStyle(document.documentElement).fontSize);
  // What stands above the list may grow or shrink with every drawing of the screen.
  useLayoutEffect(() => {
    const body = grid.current?.querySelector('[role=rowgroup]');
    if (body) setTop(Math.round(body.getBoundingClientRect().top + window.scrollY));
  });
  const virtual = useWindowVirtualizer({
    count: rows.length,
    scrollMargin: top,
    // The row of heads lies over the first of the rows that are seen.
    scrollPaddingStart: headRem * rem,
    estimateSize: () => rowRem * rem,
    overscan: 12,
    getItemKey: (n) => rowKey(rows[n]),
  });
  // A name of our own, so that the style sheet may stack the cells where there is no room.
  const template = {
    '--columns': columns.map((column) => `minmax(6rem, ${column.share ?? 1}fr)`).join(' '),
  } as CSSProperties;

  useEffect(() => {
    if (!isFollowing.current) return;
    // The row comes into the page with the next drawing after scrolling to it.
    const frame = requestAnimationFrame(() => {
      grid.current?.querySelector<HTMLElement>(`[aria-rowindex="${cursor + 2}"]`)?.focus();
      isFollowing.current = false;
    });
    return () => cancelAnimationFrame(frame);
  }, [cursor]);

  const press = (event: KeyboardEvent) => {
    const row = rows[cursor];
    if (event.key === 'Enter' && onOpen !== undefined && row !== undefined) {
      event.preventDefault();
      onOpen(row);
    }
    const to = moveTo(event.key, cursor, rows.length);
    if (to === undefined || to === cursor) return;
    event.preventDefault();
    isFollowing.current = true;
    virtual.scrollToIndex(to);
    setAt(to);
  };

  return (
    // biome-ignore lint/a11y/useSemanticElements: a table element cannot leave out the rows that are not seen
    <div
      ref={grid}
      className={onOpen === undefined ? 'long' : 'long rows-open'}
      role="grid"
      aria-label={label}
      aria-rowcount={rows.length + 1}
      tabIndex={-1}
    >
      <div role="presentation">
        {/* biome-ignore lint/a11y/useSemanticElements lint/a11y/useFocusableInteractive: as above */}
        <div role="row" aria-rowindex={1} className="long-row long-head" style={template}>
          {columns.map((column) => (
            // biome-ignore lint/a11y/useSemanticElements lint/a11y/useFocusableInteractive: as above
            <span
              key={column.key}
              role="columnheader"
              aria-sort={ariaSort(column.key, order)}
              className={column.isNumber === true ? 'number' : undefined}
            >
              <HeadButton column={column} order={order} onOrder={onOrder} />
            </span>
          ))}
        </div>
        {/* biome-ignore lint/a11y/useSemanticElements: as above */}
        <div role="rowgroup" className="long-body" style={{ height: virtual.getTotalSize() }}>
          {virtual.getVirtualItems().map((item) => {
            const row = rows[item.index];
            return (
              // biome-ignore lint/a11y/useSemanticElements: as above
              <div
                key={item.key}
                ref={virtual.measureElement}
                data-index={item.index}
                role="row"
                aria-rowindex={item.index + 2}
                tabIndex={item.index === cursor ? 0 : -1}
                className="long-row"
                style={{
                  ...template,
                  transform: `translateY(${item.start - virtual.options.scrollMargin}px)`,
                }}
                onFocus={() => setAt(item.index)}
                onKeyDown={press}
                onClick={onOpen === undefined ? undefined : () => onOpen(row)}
              >
                {columns.map((column) => (
                  // biome-ignore lint/a11y/useSemanticElements lint/a11y/useFocusableInteractive: as above
                  <span
                    key={column.key}
                    role="gridcell"
                    data-head={column.head}
                    className={cellClass(column)}
                  >
                    {cellText(column, row)}
                  </span>
                ))}
              </div>
            );
          })}
        </div>
      </div>
    </div>
  );
}
