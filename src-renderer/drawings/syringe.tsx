import { useId } from 'react';
import { marksOf, shareOf } from './scale.ts';

/** Where the barrel begins and ends in the drawing, whose unit is a sixteenth of the height of a letter. */
const barrel = { left: 96, right: 416, top: 52, bottom: 100 };

function millilitres(microlitres: number): string {
  return String(microlitres / 1000);
}

/**
 * A syringe filled to the mark. The dose stands in words over the mark and in the name of the drawing, so
 * nothing has to be read off the picture. More than it holds is drawn full, and said.
 */
export function Syringe({
  capacityMicrolitres,
  graduationMicrolitres,
  drawMicrolitres,
  text,
}: {
  capacityMicrolitres: number;
  graduationMicrolitres: number;
  drawMicrolitres: number;
  /** The dose with its unit: "1.24 mL". */
  text: string;
}) {
  const hatch = useId();
  const width = barrel.right - barrel.left;
  const x = (microlitres: number) => barrel.left + width * shareOf(microlitres, capacityMicrolitres);
  const mark = x(drawMicrolitres);
  const isTooMuch = drawMicrolitres > capacityMicrolitres;
  const size = `${millilitres(capacityMicrolitres)} mL syringe`;
  const says = isTooMuch ? `${text} is more than a ${size} holds` : `${size} filled to ${text}`;
  // Near either end the words turn inwards instead of leaving the drawing.
  const anchor = mark < barrel.left + 60 ? 'start' : mark > barrel.right - 30 ? 'end' : 'middle';
  return (
    <figure className="drawing">
      <svg className="syringe" viewBox="0 0 528 130" role="img" aria-label={says}>
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
        <line x1="6" y1="76" x2="72" y2="76" className="draw-line" />
        <path d="M72 70 h10 v-6 h14 v24 h-14 v-6 h-10 z" className="draw-line draw-paper" />
        <rect x={barrel.left} y={barrel.top} width={width} height={48} className="draw-paper" />
        <rect x={barrel.left} y={barrel.top} width={mark - barrel.left} height={48} fill={`url(#${hatch})`} />
        <rect x={mark} y={barrel.top + 3} width="12" height="42" className="draw-ink" />
        <line x1={mark + 12} y1="76" x2={barrel.right + 92} y2="76" className="draw-rod" />
        <line x1={barrel.right + 92} y1="58" x2={barrel.right + 92} y2="94" className="draw-rod" />
        {marksOf(capacityMicrolitres, graduationMicrolitres).map(({ at, isLong }) => (
          <g key={at}>
            <line
              x1={x(at)}
              x2={x(at)}
              y1={barrel.bottom}
              y2={barrel.bottom - (isLong ? 18 : 9)}
              className="draw-mark"
            />
            {isLong ? (
              <text x={x(at)} y={barrel.bottom + 24} textAnchor="middle" className="draw-figure">
                {millilitres(at)}
              </text>
            ) : null}
          </g>
        ))}
        <rect x={barrel.left} y={barrel.top} width={width} height={48} className="draw-outline" />
        <path d={`M${barrel.right} 44 v64`} className="draw-rod" />
        <line x1={mark} x2={mark} y1="36" y2={barrel.top} className="draw-line" />
        <text x={mark} y="26" textAnchor={anchor} className="draw-value">
          {text}
        </text>
        <text x={barrel.right + 16} y={barrel.bottom + 24} className="draw-figure">
          mL
        </text>
      </svg>
      <figcaption>{says}</figcaption>
    </figure>
  );
}
