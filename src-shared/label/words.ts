import type { LabelTerms, PeriodRow, Produce, Route, SheepClass } from './terms.ts';

/** What the codes of a label are called when they are read out. */

export const KIND_WORDS: Readonly<Record<LabelTerms['kind'], string>> = {
  volume: 'measured in millilitres',
  mass: 'weighed in grams or milligrams',
  pieces: 'counted in pieces',
};
export const FORM_WORDS: Readonly<Record<LabelTerms['form'], string>> = {
  injection: 'for injection',
  drench: 'a drench',
  'pour-on': 'a pour-on',
  bolus: 'a bolus',
  tablet: 'a tablet',
  powder: 'a powder',
  paste: 'a paste',
  intramammary: 'for the udder',
  spray: 'a spray',
  drops: 'drops',
  sponge: 'a sponge',
  other: 'another form',
};
export const PURPOSE_WORDS: Readonly<Record<LabelTerms['purpose'], string>> = {
  vaccine: 'A vaccine',
  parasites: 'Against parasites',
  antibiotic: 'An antibiotic',
  'anti-inflammatory': 'Against pain and inflammation',
  'vitamin-mineral': 'Vitamins or minerals',
  hormone: 'A hormone',
  anaesthetic: 'An anaesthetic',
  other: 'For another purpose',
};
export const PRESCRIPTION_WORDS: Readonly<Record<LabelTerms['prescription'], string>> = {
  'vet-only': 'Only a vet may give it.',
  'vet-prescription': 'Only on a vet’s prescription.',
  'qualified-person': 'Sold by a qualified person.',
  'general-sale': 'On general sale.',
  'not-stated': 'Who may supply it is not stated.',
};
export const ROUTE_WORDS: Readonly<Record<Route, string>> = {
  subcutaneous: 'under the skin',
  intramuscular: 'into the muscle',
  intravenous: 'into the vein',
  oral: 'by mouth',
  'pour-on': 'poured on the back',
  topical: 'on the skin',
  intramammary: 'into the udder',
  intravaginal: 'into the vagina',
  intranasal: 'into the nose',
  eye: 'into the eye',
  scratch: 'by scratching the skin',
  other: 'by another route',
};
export const PRODUCE_WORDS: Readonly<Record<Produce, string>> = {
  meat: 'Meat',
  milk: 'Milk',
  'wool-harvest': 'Shearing',
  'wool-handling': 'Handling wool',
};
export const ANCHOR_WORDS: Readonly<Record<PeriodRow['countedFrom'], string>> = {
  'last-dose': 'the last dose',
  removal: 'it is taken out',
  'end-of-release': 'its release ends',
  lambing: 'lambing',
  'later-of-two': 'the later of lambing and the last dose',
};
export const CLASS_WORDS: Readonly<Record<string, string>> = {
  lamb: 'lambs',
  'ewe-lamb': 'ewe lambs',
  'ram-lamb': 'ram lambs',
  wether: 'wethers',
  hogg: 'hoggs',
  ewe: 'ewes',
  ram: 'rams',
};

/** "lambs, hoggs and ewes". */
export function classList(classes: readonly SheepClass[]): string {
  const words = classes.map((cls) => CLASS_WORDS[cls] ?? cls);
  const last = words.at(-1) ?? '';
  return words.length < 2 ? last : `${words.slice(0, -1).join(', ')} and ${last}`;
}
