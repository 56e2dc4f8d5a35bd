import './force-chart.css';
import { HUB_COLOURS } from '../../src-shared/needle/hubs.ts';
import type { Gauge } from '../../src-shared/needle/tubing.ts';

/**
 * The colour of a plastic hub, always with its word. Where it is shown, `HUB_NOTE` has to be shown once: metal hubs
 * have no colour, and it tells the outside only.
 */
export function HubSwatch({ gauge }: { gauge: Gauge }) {
  const { word, swatch } = HUB_COLOURS[gauge];
  return (
    <span className="hub">
      <svg className="hub-swatch" viewBox="0 0 20 20" aria-hidden="true">
        {/* An edge of ink: white and cream are as light as the paper, black as dark as the other one. */}
        <rect x="2" y="2" width="16" height="16" fill={swatch} className="draw-line" />
      </svg>
      {word}
    </span>
  );
}
