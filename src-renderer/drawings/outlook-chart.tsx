import './outlook-chart.css';
import { type Day, printDay } from '../../src-shared/time/day.ts';
import { type OutlookMark, type OutlookPoint, outlookDrawn, pointsOf } from './outlook-points.ts';
import { dayMarks, shareOf } from './scale.ts';

const dayMs = 86_400_000;
/** Units of the drawing, which is stretched to the room there is. */
const width = 1000;
const height = 240;

/** Each kind has a shape of its own, so that colour says nothing alone. */
const shapes: Readonly<Record<OutlookMark['kind'], string>> = {
  work: 'M8 2 L15 14 H1 Z',
  short: 'M2 2 L14 14 M14 2 L2 14',
  gone: 'M8 2 A6 6 0 1 1 7.99 2 Z',
};

function Sign({ kind }: { kind: OutlookMark['kind'] }) {
  return (
    <svg className={`outlook-sign outlook-${kind}`} viewBox="0 0 16 16" aria-hidden="true">
      <path d={shapes[kind]} />
    </svg>
  );
}

const words: Readonly<Record<OutlookMark['kind'], string>> = {
  work: 'planned work',
  short: 'something is missing',
  gone: 'a pack ends with something in it',
};

/**
 * The stock of one medicine over the days ahead: how much may be used, where work takes from it, where a pack ends with
 * something left in it and where it is not enough. Hidden from screen readers: the numbered list beneath says it all.
 */
export default function OutlookChart({
  name,
  days,
  topText,
}: {
  name: string;
  days: readonly OutlookPoint[];
  /** The most that is ever there, in words. */
  topText: string;
}) {
  const drawn = outlookDrawn(days);
  const [first] = days;
  const last = days.at(-1);
  if (first === undefined || last === undefined) return null;
  const start = Date.parse(first.day);
  const end = start + drawn.width * dayMs;
  const at = (day: string) => `${100 * shareOf(Date.parse(day) + dayMs / 2 - start, end - start)}%`;
  const kinds = [...new Set(drawn.marks.map(({ kind }) => kind))];
  return (
    <figure className="drawing outlook">
      <figcaption>
        <strong>What may be used of {name}</strong>, from {printDay(first.day as Day)} to{' '}
        {printDay(last.day as Day)}
      </figcaption>
      <div className="outlook-drawn" aria-hidden="true">
        <span className="outlook-top">{topText}</span>
        <svg
          className="outlook-line"
          viewBox={`0 0 ${width} ${height}`}
          preserveAspectRatio="none"
          aria-hidden="true"
        >
          {[0, 0.5, 1].map((share) => (
            <line
              key={share}
              x1="0"
              x2={width}
              y1={height * share}
              y2={height * share}
              className="draw-feint"
            />
          ))}
          <polygon
            points={`0,${height} ${pointsOf(drawn, width, height)} ${width},${height}`}
            className="draw-fill"
          />
          <polyline points={pointsOf(drawn, width, height)} className="outlook-step" />
        </svg>
        <span className="outlook-none">0</span>
        <div className="outlook-marks">
          {drawn.marks.map((mark) => (
            <span key={mark.n} style={{ left: at(mark.day) }}>
              <Sign kind={mark.kind} />
              {mark.n}
            </span>
          ))}
        </div>
        <div className="outlook-scale">
          {dayMarks(start, end).map((ms) => (
            <span key={ms} style={{ left: `${100 * shareOf(ms - start, end - start)}%` }}>
              {printDay(new Date(ms).toISOString().slice(0, 10) as Day)}
            </span>
          ))}
        </div>
      </div>
      {drawn.marks.length === 0 ? (
        <p>Nothing happens on these days that can be foreseen.</p>
      ) : (
        <>
          <p className="hint" aria-hidden="true">
            {kinds.map((kind) => (
              <span key={kind} className="outlook-key">
                <Sign kind={kind} /> {words[kind]}
              </span>
            ))}
          </p>
          <ol className="outlook-list" aria-label="What happens on these days">
            {drawn.marks.map((mark) => (
              <li key={mark.n}>
                {mark.n}. <Sign kind={mark.kind} /> <strong>{printDay(mark.day as Day)}:</strong> {mark.text}
              </li>
            ))}
          </ol>
        </>
      )}
    </figure>
  );
}
