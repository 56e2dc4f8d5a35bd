import './sheep.css';
import { useId } from 'react';
import { placesFor, type SiteId } from '../../src-shared/needle/places.ts';
import type { NeedleRoute } from '../../src-shared/needle/situation.ts';
import {
  AVOIDED,
  type Avoid,
  BODY,
  CHEEK,
  EAR,
  EAR_FOLD,
  FACE,
  FAR_EAR,
  FAR_LEGS,
  FLEECE_LINE,
  FORMS,
  HEAD,
  HOOVES,
  JOINTS,
  LANDMARKS,
  LOCKS,
  NEAR,
  NEAR_LEGS,
  PUPIL,
  SHEEP,
  SPOTS,
  TAIL,
} from './sheep-lines.ts';

type Side = 'left' | 'right';
type Shown = {
  route: NeedleRoute;
  side: Side;
  /** The place that is marked. */
  chosen?: SiteId | undefined;
};

const sideWords = { left: 'left', right: 'right' } as const;

/**
 * A sheep from one side with the places of a route, numbered as in `placesFor`, and the chosen one filled. What the
 * needle must not meet there is hatched or dotted. All of it is said in the name of the drawing, and the list that
 * stands beside it says it in full.
 */
export function Sheep({ route, side, chosen }: Shown) {
  const names = placesFor(route).map(({ name }, n) => `${n + 1} ${name}`);
  const marked = placesFor(route).find(({ site }) => site === chosen);
  const says = `A sheep from its ${sideWords[side]} side. ${
    marked === undefined ? `Places: ${names.join(', ')}` : `Marked: ${marked.name}`
  }`;
  return (
    <svg className="sheep" viewBox={`0 0 ${SHEEP.width} ${SHEEP.height}`} role="img" aria-label={says}>
      <Animal route={route} side={side} chosen={chosen} />
      <Numbers route={route} side={side} chosen={chosen} />
    </svg>
  );
}

/** The place from near, with what to feel for and what to avoid by name. */
export function SheepNear({ route, side, chosen }: Shown & { chosen: SiteId }) {
  const [left, top, width, height] = NEAR[chosen];
  const x = side === 'left' ? left : SHEEP.width - left - width;
  const avoided = AVOIDED[route][chosen] ?? [];
  const landmarks = LANDMARKS[route][chosen] ?? [];
  const says = `The place from near. Feel for: ${landmarks.map(({ name }) => name).join(', ')}. Keep away from: ${avoided
    .map(({ name }) => name)
    .join(', ')}`;
  return (
    <svg className="sheep sheep-near" viewBox={`${x} ${top} ${width} ${height}`} role="img" aria-label={says}>
      <Animal route={route} side={side} chosen={chosen} />
      {landmarks.map(({ name, x: at, y }) => (
        <g key={name}>
          <path
            className="sheep-landmark"
            d={`M${turned(at, side) - 4} ${y}h8M${turned(at, side)} ${y - 4}v8`}
          />
          {/* Towards the middle, so that it stays in the drawing. */}
          {turned(at, side) > x + width / 2 ? (
            <text x={turned(at, side) - 6} y={y + 3} textAnchor="end" className="sheep-name">
              {name}
            </text>
          ) : (
            <text x={turned(at, side) + 7} y={y + 3} className="sheep-name">
              {name}
            </text>
          )}
        </g>
      ))}
    </svg>
  );
}

/** What the signs of the drawing mean, for the list beside it. */
export function AvoidSign({ how }: { how: Avoid['how'] }) {
  const hatch = useId();
  return (
    <svg className="sheep-sign" viewBox="0 0 32 18" aria-hidden="true">
      <Hatch id={hatch} />
      {how === 'hatched' ? (
        <rect x="1" y="2" width="30" height="14" fill={`url(#${hatch})`} className="sheep-edge" />
      ) : (
        <path d="M2 9H30" className="sheep-dots" />
      )}
    </svg>
  );
}

/** What is to be avoided at a place, as the drawing names it. */
export function avoidedAt(route: NeedleRoute, site: SiteId): readonly Avoid[] {
  return AVOIDED[route][site] ?? [];
}

const turned = (x: number, side: Side) => (side === 'left' ? x : SHEEP.width - x);

function Hatch({ id }: { id: string }) {
  return (
    <defs>
      <pattern id={id} width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <line x1="0" y1="0" x2="0" y2="5" className="sheep-hatch" />
      </pattern>
    </defs>
  );
}

function Animal({ route, side, chosen }: Shown) {
  const hatch = useId();
  const avoided = chosen === undefined ? [] : (AVOIDED[route][chosen] ?? []);
  const lines = (paths: readonly string[], className: string) =>
    paths.map((d) => <path key={d} d={d} className={className} />);
  return (
    <g {...(side === 'right' ? { transform: `translate(${SHEEP.width} 0) scale(-1 1)` } : {})}>
      <Hatch id={hatch} />
      {lines([FAR_EAR, ...FAR_LEGS], 'sheep-body')}
      {lines(HOOVES.slice(0, 2), 'sheep-fine')}
      {lines([TAIL, ...NEAR_LEGS], 'sheep-body')}
      {lines([...HOOVES.slice(2), ...JOINTS], 'sheep-fine')}
      <path d={BODY} className="sheep-ground" />
      <path d={FLEECE_LINE} className="sheep-line" />
      {lines([...FORMS, ...LOCKS], 'sheep-soft')}
      {avoided.map(({ id, how, path }) =>
        how === 'hatched' ? (
          <path key={id} d={path} fill={`url(#${hatch})`} className="sheep-edge" />
        ) : (
          <path key={id} d={path} className="sheep-dots" />
        ),
      )}
      <path d={HEAD} className="sheep-body" />
      <path d={CHEEK} className="sheep-line" />
      {lines(FACE, 'sheep-fine')}
      <circle cx={PUPIL.x} cy={PUPIL.y} r="3" className="draw-ink" />
      <path d={EAR} className="sheep-body" />
      <path d={EAR_FOLD} className="sheep-fine" />
      {placesFor(route).map(({ site }) => {
        const spot = SPOTS[route][site];
        if (spot === undefined) return null;
        const { x, y, rx, ry } = spot;
        const className = site === chosen ? 'sheep-spot sheep-spot-chosen' : 'sheep-spot';
        return <ellipse key={site} cx={x} cy={y} rx={rx} ry={ry} className={className} />;
      })}
    </g>
  );
}

function Numbers({ route, side, chosen }: Shown) {
  return placesFor(route).map(({ site }, n) => {
    const spot = SPOTS[route][site];
    if (spot === undefined) return null;
    return (
      <text
        key={site}
        x={turned(spot.x, side)}
        y={spot.y + 7}
        textAnchor="middle"
        className={site === chosen ? 'sheep-number sheep-number-chosen' : 'sheep-number'}
      >
        {n + 1}
      </text>
    );
  });
}
