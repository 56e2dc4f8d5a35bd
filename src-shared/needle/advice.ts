import { type DoseLine, type LabelTerms, NEEDLE_ROUTES } from '../label/terms.ts';
import type { Amount } from '../quantity/amount.ts';
import { attempt, type Outcome } from '../refusal.ts';
import { chooseNeedle, type NeedleChoice } from './choose.ts';
import { labelNeedleOf } from './label-needle.ts';
import { type RouteGuidance, routeGuidance } from './routes.ts';
import { planSites, type SitesAsk, type SitesPlan } from './sites.ts';
import type { HouseNeedle, NeedleAsk, NeedleRoute } from './situation.ts';

/** Everything about where and with which needle, for one dose of one animal: one question, one answer. */

export type AdviceAsk = Pick<
  NeedleAsk,
  'class' | 'weight' | 'ageDays' | 'condition' | 'fleece' | 'technique' | 'gun' | 'inStock'
> &
  Pick<SitesAsk, 'last' | 'today'> & {
    readonly terms: LabelTerms;
    readonly line: DoseLine;
    /** A head. */
    readonly volume: Amount;
    /** What the farm has settled on for this route. */
    readonly house?: (HouseNeedle & { readonly spacingIn?: number | undefined }) | undefined;
  };

export type Advice = {
  /** Where it goes. Absent where the route has no such places; refused with why. */
  readonly sites?: Outcome<SitesPlan>;
  readonly needle?: Outcome<NeedleChoice>;
  /** Short guidance of the other routes. */
  readonly guidance?: RouteGuidance;
};

/** The route of the needle rules for a route of a label, or undefined where they have none. */
export function needleRouteOf(route: string): NeedleRoute | undefined {
  return route === 'subcutaneous' ? 'sc' : route === 'intramuscular' ? 'im' : undefined;
}

/**
 * Places and needle under the skin and in muscle; for any other route its guidance. What cannot be worked out is a
 * refusal in its own part, so that the other still stands: a label that does not say how it flows has places and no
 * needle.
 */
export function adviceFor(ask: AdviceAsk): Advice {
  const { terms, line, volume, last, today, house, ...animal } = ask;
  const route = needleRouteOf(line.route);
  if (route === undefined) {
    const guidance = routeGuidance(line.route, terms.form);
    return guidance === undefined ? {} : { guidance };
  }
  const label = attempt(() => labelNeedleOf(terms.needle, line));
  if (!label.ok) return { sites: label, needle: label };
  const sites = attempt(() =>
    planSites({
      route,
      class: animal.class,
      weight: animal.weight,
      condition: animal.condition,
      gun: animal.gun,
      volume,
      mostPerSite: label.value.maxPerSite,
      house,
      last,
      today,
    }),
  );
  const { flowClass } = terms;
  if (flowClass === undefined) return { sites, needle: { ok: false, error: NO_FLOW } };
  const needle = attempt(() =>
    chooseNeedle({
      ...animal,
      route,
      volume,
      flowClass,
      stains: terms.stains,
      irritates: terms.irritates,
      leaks: terms.leaks,
      label: label.value,
      house,
      // The first place: its technique is the one that is said.
      site: sites.ok ? sites.value.spots[0]?.place.site : undefined,
    }),
  );
  return { sites, needle };
}

const NO_FLOW = {
  code: 'flow-not-said',
  message: 'No needle is worked out, because the label in the book does not say how the medicine flows.',
  next: 'Add how it flows to the label under Cabinet: watery, like syrup, a suspension or oily.',
};

/** True where a needle goes in at all. */
export function usesNeedle(route: string): boolean {
  return NEEDLE_ROUTES.includes(route);
}
