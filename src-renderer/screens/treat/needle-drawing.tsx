import { placesFor } from '../../../src-shared/needle/places.ts';
import { Sheep } from '../../drawings/sheep.tsx';
import { placeOf } from './needle-values.ts';

/** Where a needle may lie, on the sheep; nothing while the place is not known. */
export function NeedleDrawing({ site, side }: { site: string; side: string }) {
  const at = placeOf(site, side);
  if (at.site === undefined) return null;
  const route = placesFor('im').some((place) => place.site === at.site) ? 'im' : 'sc';
  const n = placesFor(route).findIndex((place) => place.site === at.site);
  return (
    <div className="where-drawing">
      <Sheep route={route} side={at.side ?? 'left'} chosen={at.site} />
      <p className="hint">
        {`${n + 1} ${placesFor(route)[n]?.name ?? ''}`}
        {at.side === undefined
          ? '. Drawn on the left; which side it is, is not known.'
          : `, ${at.side} side.`}
      </p>
    </div>
  );
}
