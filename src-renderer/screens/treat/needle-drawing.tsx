import { placesFor } from '../../../src-shared/needle/places.ts';
import { Sheep } from '../../drawings/sheep.tsx';
import type { TextProps } from '../../hooks/use-form.ts';
import { Field, Select } from '../../parts/field.tsx';
import { placeOf, sideOptions, siteOptions } from './needle-values.ts';

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

/** Where a needle lies and how the animal is marked: asked alike when it is reported and when it is found. */
export function NeedlePlaceFields({
  text,
  isDrawn = true,
}: {
  text: (name: 'site' | 'side' | 'colour' | 'place') => TextProps;
  /** Not again where the same place is drawn above already. */
  isDrawn?: boolean;
}) {
  return (
    <>
      <Select {...text('site')} label="Place" options={siteOptions} />
      <Select {...text('side')} label="Side" options={sideOptions} />
      {isDrawn ? <NeedleDrawing site={text('site').value} side={text('side').value} /> : null}
      <Field {...text('colour')} label="Marked, colour" size={12} list={['red', 'blue', 'green']} optional />
      <Field
        {...text('place')}
        label="Marked, where"
        size={16}
        list={['back', 'shoulder', 'rump']}
        optional
      />
    </>
  );
}
