import type { Gun, NeedleRoute, Situation, Technique } from './situation.ts';

/** How the needle goes in: as asked, else as the sources do it at that place. */
export type TechniqueSaid = { readonly id: Technique; readonly says: string; readonly source: string };

const SKIN: Readonly<Record<Technique, string>> = {
  tent: 'Lift a fold of skin and go into the base of the fold, along the body, so that the point stays under the skin.',
  flat: 'Lay the needle flat along the body and go just through the skin.',
  slant: 'Go in at 45° without a fold, and no deeper than the skin.',
  straight: 'Go straight in through the wool without a fold, and no deeper than the skin.',
};
const MUSCLE = 'Go straight into the muscle.';
const ALWAYS =
  'Go in only through clean, dry skin, with the air out of the syringe, and rub the place after.';

/** The technique for a situation; under the skin a fold is the default, and over the ribs a flat angle. */
export function techniqueFor(s: Situation): TechniqueSaid {
  if (s.route === 'im') {
    return { id: 'straight', says: `${MUSCLE} ${drawBackSays('im', s.gun)} ${ALWAYS}`, source: 'practice' };
  }
  const id = s.technique ?? (s.site === 'ribs' ? 'flat' : 'tent');
  return {
    id,
    says: `${SKIN[id]} ${ALWAYS}`,
    source:
      id === 'slant' || id === 'straight' ? 'South Australian guidance' : 'extension guidance; practice',
  };
}

/** Most repeat guns cannot draw back (read): one of which it is not known counts as one that cannot. */
export function cannotShowBlood(gun: Gun | undefined): boolean {
  return gun !== undefined && gun.drawsBack !== true;
}

/** What is said of drawing back for a route, with a gun or, without one, a syringe. */
export function drawBackSays(route: NeedleRoute, gun: Gun | undefined): string {
  if (!cannotShowBlood(gun)) {
    return route === 'im'
      ? 'Draw back before injecting; if blood shows, take the needle out and go in elsewhere.'
      : 'In a lifted fold the point lies under the skin; draw back where a vein may be near.';
  }
  const known = gun?.drawsBack === false ? 'This gun cannot draw back' : 'Most repeat guns cannot draw back';
  return route === 'im'
    ? `${known}, so blood does not show: keep to the middle of the muscle, well above the groove of the vein, or use a syringe.`
    : `${known}, so blood does not show: keep away from the vein of the neck.`;
}
