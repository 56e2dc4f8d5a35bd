import './degrees.css';
import { dayMarks } from './scale.ts';

/** The least and the most of one day, as texts in degrees Celsius. */
export type DegreesDay = { readonly day: string; readonly leastC: string; readonly mostC: string };

const width = 1000;
const height = 240;
const dayMs = 86_400_000;
const short = new Intl.DateTimeFormat('en-GB', { timeZone: 'UTC', day: 'numeric', month: 'short' });

/** Steps of the scale, so that no more than some seven figures stand beside it. */
function stepFor(span: number): number {
  return [1, 2, 5, 10, 20].find((step) => span / step <= 7) ?? 30;
}

/**
 * How cold and how warm each day was: a stroke from the least to the most, against whole degrees. Days without a
 * reading stay empty. It says nothing that is not in the list of days beside it, so screen readers pass it over.
 */
export function DegreesByDay({ days }: { days: readonly DegreesDay[] }) {
  const first = days[0];
  const last = days.at(-1);
  if (first === undefined || last === undefined) return null;
  const from = Date.parse(first.day);
  const end = Date.parse(last.day) + dayMs;
  const least = Math.min(...days.map((day) => Number(day.leastC)));
  const most = Math.max(...days.map((day) => Number(day.mostC)));
  const step = stepFor(most - least + 2);
  const low = Math.floor((least - 0.5) / step) * step;
  const high = Math.ceil((most + 0.5) / step) * step;
  const x = (ms: number) => ((ms - from) / (end - from)) * width;
  const y = (degrees: number) => height - ((degrees - low) / (high - low)) * height;
  const stroke = Math.min(60, (width / ((end - from) / dayMs)) * 0.6);
  const marks = Array.from({ length: Math.round((high - low) / step) + 1 }, (_, i) => low + i * step);
  return (
    <figure className="degrees" aria-hidden="true">
      <div className="degrees-drawn">
        <div className="degrees-scale">
          {marks.map((mark) => (
            <span key={mark} style={{ bottom: `${((mark - low) / (high - low)) * 100}%` }}>
              {mark} °C
            </span>
          ))}
        </div>
        <svg
          viewBox={`0 0 ${width} ${height}`}
          preserveAspectRatio="none"
          className="degrees-field"
          aria-hidden="true"
        >
          {marks.map((mark) => (
            <line key={mark} x1="0" x2={width} y1={y(mark)} y2={y(mark)} className="draw-feint" />
          ))}
          {days.map(({ day, leastC, mostC }) => {
            const top = y(Number(mostC));
            return (
              <rect
                key={day}
                x={x(Date.parse(day) + dayMs / 2) - stroke / 2}
                y={top - 2}
                width={stroke}
                height={y(Number(leastC)) - top + 4}
                className="draw-ink"
              />
            );
          })}
        </svg>
      </div>
      <div className="degrees-days">
        {dayMarks(from, end - dayMs).map((ms) => (
          <span key={ms} style={{ left: `${x(ms + dayMs / 2) / 10}%` }}>
            {short.format(ms)}
          </span>
        ))}
      </div>
    </figure>
  );
}
