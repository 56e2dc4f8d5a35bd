import type { Situation, Technique } from './situation.ts';

/** How the needle goes in: as asked, else as the sources do it at that place. */
export type TechniqueSaid = { readonly id: Technique; readonly says: string; readonly source: string };

const SAYS: Readonly<Record<Technique, string>> = {
  tent: 'Lift a fold of skin and go into the base of the fold, along the body, so that the point stays under the skin.',
  flat: 'Lay the needle flat along the body and go just through the skin.',
  slant: 'Go in at 45° without a fold, and no deeper than the skin.',
  straight: 'Go straight in through the wool without a fold, and no deeper than the skin.',
};
const AFTER = 'Clean dry skin first; rub the place after.';
const MUSCLE =
  'Go straight into the muscle. Draw back first: if blood shows, take the needle out and go in elsewhere. Clean dry skin first; rub the place after.';

/** The technique for a situation; under the skin a fold is the default, and over the ribs a flat angle. */
export function techniqueFor(s: Situation): TechniqueSaid {
  if (s.route === 'im') return { id: 'straight', says: MUSCLE, source: 'practice' };
  const id = s.technique ?? (s.site === 'ribs' ? 'flat' : 'tent');
  return {
    id,
    says: `${SAYS[id]} ${AFTER}`,
    source:
      id === 'slant' || id === 'straight' ? 'South Australian guidance' : 'extension guidance; practice',
  };
}
