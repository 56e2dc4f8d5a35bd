import type { SITE_IDS } from '../../../src-shared/needle/places.ts';

/** The places on the drawing, in words; the list itself is the desk's. */
export const siteOptions = [
  { value: '', label: 'Not known' },
  { value: 'neck', label: 'Neck' },
  { value: 'elbow', label: 'Behind the elbow' },
  { value: 'ribs', label: 'Over the ribs' },
  { value: 'rump', label: 'Rump' },
  { value: 'hind-leg', label: 'Hind leg' },
] as const satisfies readonly { value: (typeof SITE_IDS)[number] | ''; label: string }[];

export const sideOptions = [
  { value: '', label: 'Not known' },
  { value: 'left', label: 'Left' },
  { value: 'right', label: 'Right' },
] as const;

/** Place and side as chosen; nothing for what is not known. */
export function placeOf(site: string, side: string) {
  const place = siteOptions.find(({ value }) => value === site)?.value;
  const chosen = sideOptions.find(({ value }) => value === side)?.value;
  return {
    ...(place === undefined || place === '' ? {} : { site: place }),
    ...(chosen === undefined || chosen === '' ? {} : { side: chosen }),
  };
}

/** The mark as typed, when it is said whole. */
export function markOf(colour: string, place: string) {
  return colour.trim() === '' || place.trim() === ''
    ? {}
    : { mark: { colour: colour.trim(), place: place.trim() } };
}
