import { dayMarks, shareOf } from './scale.ts';

/** One bar: from when, until when if time ends it, and the whole sentence. */
export type TimelineRow = {
  readonly key: string;
  readonly label: string;
  /** ISO days or instants. */
  readonly from: string;
  /** Absent: time does not end it. */
  readonly until?: string | undefined;
  readonly text: string;
};

const dayMs = 86_400_000;
const withYear = new Intl.DateTimeFormat('en-GB', {
  timeZone: 'UTC',
  day: 'numeric',
  month: 'short',
  year: 'numeric',
});
const monthDay = new Intl.DateTimeFormat('en-GB', { timeZone: 'UTC', day: 'numeric', month: 'short' });

/**
 * Holds on a line of time. Each row says in words what its bar shows; a hold that time does not end runs out of
 * the drawing with a broken edge. The drawing itself is hidden from screen readers, which read the sentences.
 */
export function Timeline({ rows, now, label }: { rows: readonly TimelineRow[]; now: string; label: string }) {
  const nowMs = Date.parse(now);
  const froms = rows.map((row) => Date.parse(row.from));
  const untils = rows.flatMap((row) => (row.until === undefined ? [] : [Date.parse(row.until)]));
  const first = Math.min(nowMs, ...froms) - dayMs;
  const last = Math.max(nowMs + 7 * dayMs, ...untils);
  const end = last + (last - first) * 0.06;
  const x = (ms: number) => 1000 * shareOf(ms - first, end - first);
  // Over a winter "1 Feb" alone could be either year.
  const mark = new Date(first).getUTCFullYear() === new Date(end).getUTCFullYear() ? monthDay : withYear;
  const percent = (ms: number) => `${x(ms) / 10}%`;
  return (
    <div className="timeline">
      <span className="timeline-now" style={{ left: percent(nowMs) }} aria-hidden="true">
        now
      </span>
      <div className="timeline-scale" aria-hidden="true">
        {/* One at the very edge would be cut off. */}
        {dayMarks(first, end, mark === withYear ? 5 : 6)
          .filter((ms) => x(ms) < 945)
          .map((ms) => (
            <span key={ms} style={{ left: percent(ms) }}>
              {mark.format(ms)}
            </span>
          ))}
      </div>
      <ul aria-label={label}>
        {rows.map((row) => {
          const start = x(Date.parse(row.from));
          const stop = row.until === undefined ? 1000 : x(Date.parse(row.until));
          return (
            <li key={row.key}>
              <span className="timeline-words">
                <strong>{row.label}</strong> {row.text}
              </span>
              <svg
                className="timeline-bar"
                viewBox="0 0 1000 20"
                preserveAspectRatio="none"
                aria-hidden="true"
              >
                <line x1="0" x2="1000" y1="10" y2="10" className="draw-feint" />
                <rect x={start} y="3" width={Math.max(4, stop - start)} height="14" className="draw-ink" />
                {row.until === undefined ? (
                  <path d="M960 0 l8 20 M974 0 l8 20 M988 0 l8 20" className="draw-gap" />
                ) : null}
              </svg>
            </li>
          );
        })}
      </ul>
    </div>
  );
}
