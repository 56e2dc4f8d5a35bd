import { type LabelTerms, NEEDLE_ROUTES, ROUTES, type Route } from '../../../src-shared/label/terms.ts';
import { ROUTE_WORDS } from '../../../src-shared/label/words.ts';
import { routeGuidance } from '../../../src-shared/needle/routes.ts';
import { SITE_TEXT } from '../../../src-shared/needle/site-words.ts';
import { type Day, printDay } from '../../../src-shared/time/day.ts';

/** True where a needle goes in: only then is there a site, a side, a needle, and sharps to count. */
export function isInjected(route: string): boolean {
  return NEEDLE_ROUTES.includes(route);
}

/** "under the skin"; the code itself for a route that is not known here. */
export function routeInWords(route: string): string {
  return Object.entries(ROUTE_WORDS).find(([code]) => code === route)?.[1] ?? route;
}

/** The route with this code, or nothing. */
export function routeOf(text: string): Route | undefined {
  return ROUTES.find((route) => route === text);
}

/** The ways in that can be said when it was not the one of the label. */
export const routeOptions = [
  { value: '', label: 'As the label says' },
  ...ROUTES.map((route) => ({ value: route, label: ROUTE_WORDS[route] })),
];

/** Where the sentences below come from: shown beside them, because the label and the vet come first. */
export const TECHNIQUE_SOURCE = 'Common practice. The label and the vet come first.';

/** How it is given under the skin and into muscle where no place is worked out. */
const technique: Readonly<Record<string, readonly string[]>> = {
  subcutaneous: [
    'Push the air out first.',
    'Lift a fold of clean, dry skin and put the needle into the tent under it, not through it.',
  ],
  intramuscular: [
    'Push the air out first.',
    'Draw back before you inject. If blood shows, take the needle out and go elsewhere.',
  ],
};

/** True where places and needle are worked out: under the skin and into muscle. */
export function hasPlaces(route: string): boolean {
  return Object.hasOwn(technique, route);
}

/** What to mind while giving it by this route, for the form it has. Nothing of needles where no needle is used. */
export function techniqueOf(route: string, form?: LabelTerms['form']): readonly string[] {
  const known = ROUTES.find((one) => one === route);
  const guidance = known === undefined ? undefined : routeGuidance(known, form);
  return guidance?.steps ?? technique[route] ?? [];
}

/** Usual syringes: what each holds and how far apart its marks are. */
const usualSyringes = [
  { capacity: '1 mL', graduation: '0.01 mL' },
  { capacity: '2 mL', graduation: '0.1 mL' },
  { capacity: '5 mL', graduation: '0.2 mL' },
  { capacity: '10 mL', graduation: '0.5 mL' },
  { capacity: '20 mL', graduation: '1 mL' },
  { capacity: '50 mL', graduation: '1 mL' },
] as const;

export const OTHER_SYRINGE = 'other';

/** The syringes to choose from; the value is "capacity / graduation", empty for none said. */
export const syringeOptions = [
  { value: '', label: 'Not said: the dose is rounded to 0.1 mL' },
  ...usualSyringes.map(({ capacity, graduation }) => ({
    value: `${capacity} / ${graduation}`,
    label: `${capacity}, a mark every ${graduation}`,
  })),
  { value: OTHER_SYRINGE, label: 'Another syringe or gun' },
];

/** The farm's own syringe or gun as a choice: "id | 30 mL | 0.5 mL". */
export function ownChoice(one: { equipment: string; capacity: string; graduation: string }): string {
  return [one.equipment, one.capacity, one.graduation].join(OWN);
}
const OWN = ' | ';

/** The farm's own syringe or gun behind a choice, or nothing. */
export function ownOf(
  choice: string,
): { equipment: string; capacity: string; graduation: string } | undefined {
  const [equipment, capacity, graduation] = choice.split(OWN);
  return equipment === undefined || capacity === undefined || graduation === undefined
    ? undefined
    : { equipment, capacity, graduation };
}

/** The syringe behind a choice, or nothing. */
export function syringeOf(choice: string): { capacity: string; graduation: string } | undefined {
  const own = ownOf(choice);
  if (own !== undefined) return { capacity: own.capacity, graduation: own.graduation };
  return usualSyringes.find(({ capacity, graduation }) => choice === `${capacity} / ${graduation}`);
}

export const sourceOptions = [
  { value: 'ours', label: 'From our cabinet' },
  { value: 'vet', label: 'Brought by the vet', hint: 'holds just the same; nothing leaves the cabinet' },
  { value: 'contractor', label: 'Brought by a contractor', hint: 'the same' },
] as const;
export type Source = (typeof sourceOptions)[number]['value'];

/** The source with this code; our own cabinet for anything else. */
export function sourceOf(text: string): Source {
  return sourceOptions.find((option) => option.value === text)?.value ?? 'ours';
}

/** Places on a sheep, offered while typing. */
export const sites = Object.values(SITE_TEXT);

export const sideOptions = [
  { value: '', label: 'Not said' },
  { value: 'left', label: 'Left' },
  { value: 'right', label: 'Right' },
  { value: 'both', label: 'Both sides' },
] as const;

/** The side with this code, or nothing. */
export function sideOf(text: string): 'left' | 'right' | 'both' | undefined {
  return text === 'left' || text === 'right' || text === 'both' ? text : undefined;
}

/** "12 Apr 2026" from a local time or day. */
export function printDayOf(local: string): string {
  // The first ten signs of a local time are its day.
  return printDay(local.slice(0, 10) as Day);
}

/** "12 Apr 2026, 09:05" from a local time; a day alone stays a day. */
export function printWhen(local: string): string {
  const time = local.slice(11, 16);
  return time === '' ? printDayOf(local) : `${printDayOf(local)}, ${time}`;
}
