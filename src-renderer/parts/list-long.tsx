import { useVirtualizer } from '@tanstack/react-virtual';
import { type KeyboardEvent, useEffect, useRef, useState } from 'react';
import { ariaSort, HeadButton, type RowsProps } from './list-head.tsx';
import { moveTo } from './list-rows.ts';

/** A first guess at the height of a row in rem; each row is measured once it is in the page. */
const rowRem = 2.5;

/**
 * The rows of a long list as an ARIA grid in which only what can be seen is in the page. The cursor stays on its
 * row while the list scrolls under it.
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
  const scroll = useRef<HTMLDivElement>(null);
  const isFollowing = useRef(false);
  const cursor = Math.min(at, rows.length - 1);
  const rem = Number.parseFloat(getComputedStyle(document.documentElement).fontSize);
  const virtual = useVirtualizer({
    count: rows.length,
    getScrollElement: () => scroll.current,
    estimateSize: () => rowRem * rem,
    overscan: 12,
    getItemKey: (n) => rowKey(rows[n]),
  });
  const template = {
    gridTemplateColumns: columns.map((column) => `minmax(6rem, ${column.share ?? 1}fr)`).join(' '),
  };

  useEffect(() => {
    if (!isFollowing.current) return;
    // The row comes into the page with the next drawing after scrolling to it.
    const frame = requestAnimationFrame(() => {
      scroll.current?.querySelector<HTMLElement>(`[aria-rowindex="${cursor + 2}"]`)?.focus();
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
      className={onOpen === undefined ? 'long' : 'long rows-open'}
      role="grid"
      aria-label={label}
      aria-rowcount={rows.length + 1}
      tabIndex={-1}
    >
      <div ref={scroll} className="long-scroll" role="presentation">
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
                style={{ ...template, transform: `translateY(${item.start}px)` }}
                onFocus={() => setAt(item.index)}
                onKeyDown={press}
                onClick={onOpen === undefined ? undefined : () => onOpen(row)}
              >
                {columns.map((column) => (
                  // biome-ignore lint/a11y/useSemanticElements lint/a11y/useFocusableInteractive: as above
                  <span
                    key={column.key}
                    role="gridcell"
                    className={column.isNumber === true ? 'number' : undefined}
                  >
                    {column.show?.(row) ?? column.text(row)}
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
