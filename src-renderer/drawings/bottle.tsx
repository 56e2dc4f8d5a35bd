import { useId } from 'react';
import { shareOf } from './scale.ts';

/** A container by what is left in it. The figures stand beneath; the drawing only shows the share. */
export function Bottle({
  left,
  received,
  text,
}: {
  /** What is left and what was in it, both in the same unit. */
  left: number;
  received: number;
  /** What is left, with its unit: "35 mL left of 100 mL". */
  text: string;
}) {
  const hatch = useId();
  const inside = { top: 44, bottom: 134 };
  const level = inside.bottom - (inside.bottom - inside.top) * shareOf(left, received);
  return (
    <figure className="drawing">
      <svg className="bottle" viewBox="0 0 84 144" role="img" aria-label={text}>
        <defs>
          <pattern
            id={hatch}
            width="7"
            height="7"
            patternUnits="userSpaceOnUse"
            patternTransform="rotate(45)"
          >
            <rect width="7" height="7" className="draw-fill" />
            <line x1="0" y1="0" x2="0" y2="7" className="draw-hatch" />
          </pattern>
        </defs>
        <rect x="26" y="6" width="32" height="14" className="draw-line draw-paper" />
        <path
          d="M30 20 v10 q0 6 -10 10 q-10 4 -10 14 v78 q0 6 6 6 h52 q6 0 6 -6 v-78 q0 -10 -10 -14 q-10 -4 -10 -10 v-10"
          className="draw-line draw-paper"
        />
        <clipPath id={`${hatch}-in`}>
          <path d="M20 40 q-10 4 -10 14 v78 q0 6 6 6 h52 q6 0 6 -6 v-78 q0 -10 -10 -14 z" />
        </clipPath>
        <rect
          x="10"
          y={level}
          width="64"
          height={inside.bottom - level + 6}
          fill={`url(#${hatch})`}
          clipPath={`url(#${hatch}-in)`}
        />
        {left > 0 ? <line x1="10" x2="74" y1={level} y2={level} className="draw-line" /> : null}
      </svg>
      <figcaption>{text}</figcaption>
    </figure>
  );
}
