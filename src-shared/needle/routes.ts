import type { LabelTerms, Route } from '../label/terms.ts';

/**
 * Short guidance for the other routes. It is common practice without a source; the label goes before it. Routes
 * without a needle have no word of one, nor of what goes with one.
 */

export type RouteGuidance = {
  readonly usesNeedle: boolean;
  readonly steps: readonly string[];
  readonly source: string;
};

const PRACTICE = 'common practice; the label goes before it';
const without = (...steps: readonly string[]): RouteGuidance => ({
  usesNeedle: false,
  steps,
  source: PRACTICE,
});
const CLEAN_TEAT = 'Milk that half of the udder out, clean the end of the teat, and let it dry.';

type Form = LabelTerms['form'];

const BY_ROUTE: Readonly<Record<Exclude<Route, 'subcutaneous' | 'intramuscular'>, RouteGuidance>> = {
  intravenous: {
    usesNeedle: true,
    steps: [
      'Only by the vet, or by someone the vet has taught and told to.',
      'Warm the remedy to body heat when the label allows it, and let no air in.',
      'Be certain of the vein by the blood that comes, and give it slowly.',
      'Stop at once when the animal staggers, gasps or goes down, and call the vet.',
    ],
    source: PRACTICE,
  },
  oral: without(
    'Hold the head level, not lifted: a lifted head lets the remedy run into the lungs.',
    'Put the nozzle in at the corner of the mouth, over the tongue and towards the back.',
    'Press slowly and let it swallow. When it coughs, let the head down.',
    'Check the nozzle for rough edges, and the dose into a measure before starting.',
  ),
  'pour-on': without(
    'Ask when it was shorn: the label says how long after shearing it may be given.',
    'Part the wool and pour on the skin along the back, from shoulder to tail head.',
    'Not on wet or dirty wool, and not before rain.',
    'Wear gloves, and keep treated sheep from being handled while they are wet.',
  ),
  topical: without(
    'Clean and dry the place first, and clip the wool where it is in the way.',
    'Cover the whole place and its edge. Wear gloves.',
    'Keep it out of the eyes unless the label is for eyes.',
  ),
  intramammary: without(
    CLEAN_TEAT,
    'Put only the tip of the tube in, empty it, and rub it upwards.',
    'A new tube for each half. Mark the animal, so that its milk is kept out.',
  ),
  intravaginal: without(
    'Clean the applicator between animals and clean the vulva.',
    'Slide it in gently, along the roof, and let go as the maker shows.',
    'Write down the day it went in and the day it must come out.',
  ),
  intranasal: without(
    'Hold the head level and steady, with the muzzle a little up.',
    'Give it into the nostril as it breathes in, and a new tip for each animal when the label says so.',
  ),
  eye: without(
    'Clean the lids with a fresh swab for each eye.',
    'Put it inside the lower lid without touching the eye, and hold the lids shut for a moment.',
  ),
  scratch: without(
    'Choose bare skin that is clean and dry, and use no disinfectant: it kills a live vaccine.',
    'Scratch the skin with the applicator of the maker, deep enough to mark and not to bleed.',
    'Wear gloves: the vaccine can infect people.',
  ),
  other: without('Do as the label says, step by step, and ask the vet where it is not clear.'),
};

/** Where the form asks for another hand than its route does. */
const BY_FORM: Partial<Readonly<Record<Form, { readonly route: Route; readonly guidance: RouteGuidance }>>> =
  {
    bolus: {
      route: 'oral',
      guidance: without(
        'Weigh it first: a bolus is for a least weight, and too large a one chokes.',
        'Wet it, put it over the back of the tongue with the right applicator, and never force it.',
        'Hold the head level until it has swallowed. Watch that it is not spat out, and count what is left.',
      ),
    },
    tablet: {
      route: 'oral',
      guidance: without(
        'Put it over the back of the tongue and hold the mouth shut until it has swallowed.',
        'Watch that it is not spat out.',
      ),
    },
    paste: {
      route: 'oral',
      guidance: without(
        'See that the mouth is empty. Put the paste on the back of the tongue, and let it swallow.',
        'Set the ring of the tube to the dose before it goes in.',
      ),
    },
    powder: {
      route: 'oral',
      guidance: without(
        'Weigh the powder on scales, mix it as the label says, and use the mix within its time.',
        'Give it so that each animal takes its share; one that does not eat gets none.',
      ),
    },
    sponge: {
      route: 'intravaginal',
      guidance: without(
        'Clean the applicator between animals, and wear gloves: the hormone goes through the skin of people.',
        'Slide the sponge in gently, and leave its string outside.',
        'Count them in and count them out: one that is left in makes the ewe ill.',
      ),
    },
    spray: {
      route: 'topical',
      guidance: without(
        'Clean and dry the place, and spray from a hand’s width until it is covered.',
        'Upwind, and away from eyes and mouth.',
      ),
    },
  };

/**
 * Guidance for a route and a form, or undefined under the skin and in muscle, where needle, place and technique are
 * worked out instead.
 */
export function routeGuidance(route: Route, form?: Form): RouteGuidance | undefined {
  if (route === 'subcutaneous' || route === 'intramuscular') return undefined;
  const byForm = form === undefined ? undefined : BY_FORM[form];
  return byForm?.route === route ? byForm.guidance : BY_ROUTE[route];
}
