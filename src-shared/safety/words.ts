import type { EXPOSURES } from '../entries/exposure.ts';
import type { OUTCOMES, REACTIONS } from '../entries/reaction.ts';

/** What the codes of a report are called. */

export const EXPOSURE_WORDS: Readonly<Record<(typeof EXPOSURES)[number], string>> = {
  injected: 'injected, or pricked',
  splashed: 'splashed into eyes or mouth',
  swallowed: 'swallowed',
  breathed: 'breathed in',
  skin: 'on the skin',
  other: 'otherwise',
};
export const REACTION_WORDS: Readonly<Record<(typeof REACTIONS)[number], string>> = {
  reaction: 'Reaction',
  suspected: 'Suspected reaction',
  'no-effect': 'No effect',
};
export const OUTCOME_WORDS: Readonly<Record<(typeof OUTCOMES)[number], string>> = {
  'well-again': 'well again',
  'getting-better': 'getting better',
  'not-better': 'not better yet',
  died: 'died',
  killed: 'had to be killed',
  'not-known': 'not known yet',
};
