import { notIfWords } from './say-not-if.ts';
import { stop } from './say-text.ts';
import { type LabelTerms, NEEDLE_ROUTES } from './terms.ts';

/** True where a needle goes in. */
export function isInjectedRoute(route: string | undefined): boolean {
  return route !== undefined && NEEDLE_ROUTES.includes(route);
}

/** What a label says to mind while giving it, a sentence or two a line. Nothing of needles where none is used. */
export function labelCautions(terms: LabelTerms, isInjected: boolean): string[] {
  const { people, pregnantWomen, other } = terms.hazards;
  const bars = terms.notIf.map((rule) => stop(rule.says ?? notIfWords(rule)));
  return [
    ...(people === undefined ? [] : [`Danger to people: ${stop(people)}`]),
    ...(pregnantWomen === undefined ? [] : [`Pregnant women: ${stop(pregnantWomen)}`]),
    ...(other === undefined ? [] : [`Danger: ${stop(other)}`]),
    ...(terms.shakeWell ? ['Shake well before use.'] : []),
    ...(terms.narrowMargin ? ['Little room between a dose and too much: weigh, do not guess.'] : []),
    ...(terms.irritates && isInjected ? ['It irritates where it is injected.'] : []),
    ...(terms.stains ? ['It stains wool.'] : []),
    ...(bars.length === 0 ? [] : [`By the label: ${bars.join(' ')}`]),
    ...(terms.sucklingYoung === undefined ? [] : [`Suckling young: ${stop(terms.sucklingYoung)}`]),
  ];
}
