import type { SheepClass } from '../label/terms.ts';
import { type Amount, printAmount } from '../quantity/amount.ts';
import type { Weight } from '../quantity/weight.ts';
import { Refusal } from '../refusal.ts';
import { sayAgo } from '../time/ago.ts';
import { compareDays, type Day, printDay } from '../time/day.ts';
import type { Warning } from '../working.ts';
import { type PerSite, perSiteOf } from './per-site.ts';
import { type Place, placesFor, type SiteId } from './places.ts';
import type { Conflict } from './rule.ts';
import { type Condition, type Gun, isLamb, lightAdult, type NeedleRoute } from './situation.ts';
import { cannotShowBlood, drawBackSays } from './technique.ts';

/** Where on an animal: which places, in which order, on which side, how far apart, and where the last one went. */

export type Side = 'left' | 'right';
export type Spot = { readonly place: Place; readonly side: Side };
export type LastGiven = {
  readonly site: SiteId;
  readonly side?: Side | 'both' | undefined;
  readonly on: Day;
};

export type SitesAsk = {
  readonly route: NeedleRoute;
  readonly class: SheepClass;
  /** No source orders places by weight: it only asks about a grown sheep as light as a lamb. */
  readonly weight?: Weight | undefined;
  readonly condition?: Condition | undefined;
  readonly volume: Amount;
  /** What the label allows in one place. */
  readonly mostPerSite?: Amount | undefined;
  readonly house?:
    | { readonly maxPerSite?: Amount | undefined; readonly spacingIn?: number | undefined }
    | undefined;
  /** Where this animal was injected before, in any order. */
  readonly last: readonly LastGiven[];
  readonly today: Day;
  /** Absent: a syringe, which can draw back. */
  readonly gun?: Gun | undefined;
};

export type Offered = { readonly place: Place; readonly isFirst: boolean; readonly why: string };
export type SitesPlan = {
  /** Every place of the route, best first, with why it stands there. */
  readonly offered: readonly Offered[];
  /** Where each part of this dose goes. */
  readonly spots: readonly (Spot & { readonly amount: Amount; readonly says: string })[];
  readonly perSite: PerSite;
  readonly spacingIn: number;
  readonly spacingSays: string;
  /** Where the last went, or that the book knows of none. */
  readonly lastSays: string;
  readonly drawBack: string;
  readonly conflicts: readonly Conflict[];
  readonly warnings: readonly Warning[];
};

/** Inches between two places on one side: both sources, the strictest is the default. */
export const SPACINGS = [
  { rule: 'spacing-1', inches: 1, says: '1 in', source: 'Alabama guidance', mark: 'read' },
  { rule: 'spacing-3', inches: 3, says: '3 in', source: 'Kentucky guidance', mark: 'read' },
] as const;

/** More than this many places on one side of one animal hardly keep their distance (practice). */
const MOST_ON_ONE_SIDE = 2;

/**
 * The plan of places for one treatment of one animal. A repeat goes to the place and side used longest ago, among
 * those offered first. Refuses (`house-past-sources`) a spacing of the farm below every source, and what `perSiteOf`
 * refuses.
 */
export function planSites(ask: SitesAsk): SitesPlan {
  const offered = offeredFor(ask);
  const perSite = perSiteOf(
    ask.volume,
    { label: ask.mostPerSite, house: ask.house?.maxPerSite },
    isLamb(ask.class),
  );
  const order = rotated(offered, ask.last);
  const spots = perSite.each.map((amount, i) => {
    const spot = order[i % order.length];
    if (spot === undefined) throw new RangeError('Every route has a place that is offered first.');
    return { ...spot, amount, says: `${spot.place.name}, ${spot.side} side: ${printAmount(amount)}.` };
  });
  const spacing = spacingOf(ask.house?.spacingIn);
  return {
    offered,
    spots,
    perSite,
    spacingIn: spacing.inches,
    spacingSays: `Keep places on one side at least ${spacing.inches} in apart.`,
    lastSays: sayLast(ask),
    drawBack: drawBackSays(ask.route, ask.gun),
    conflicts: [
      ...(perSite.conflict === undefined ? [] : [perSite.conflict]),
      ...(spots.length > 1 ? [spacing.conflict] : []),
    ],
    warnings: [...lightAdult(ask), ...crowded(spots), ...cannotDrawBack(ask)],
  };
}

/** Places offered first go before the others; with a gun that cannot draw back, places away from a vein lead. */
function offeredFor(ask: SitesAsk): Offered[] {
  const blind = cannotShowBlood(ask.gun);
  const places = placesFor(ask.route);
  const ordered =
    blind && ask.route === 'sc' ? places.toSorted((a, b) => Number(a.vein) - Number(b.vein)) : places;
  return ordered.map((place) => ({ place, isFirst: !isHind(place), why: whyThere(place, ask, blind) }));
}

/** Rump and hind leg: nerve, good meat and kicks keep them behind the neck, in every animal. */
const isHind = ({ site }: Place) => site === 'rump' || site === 'hind-leg';

function whyThere(place: Place, ask: SitesAsk, blind: boolean): string {
  if (isHind(place)) {
    const thin = isLamb(ask.class) ? 'in a lamb' : ask.condition === 'thin' ? 'in a thin animal' : undefined;
    const nerve =
      thin === undefined
        ? 'Only when the vet asks for it: the sciatic nerve runs near.'
        : `Not ${thin}: there is little muscle over the sciatic nerve.`;
    const vein = blind && place.vein ? ' This gun cannot draw back, and vessels run here.' : '';
    return `${nerve} ${place.carcass.says} The animal may kick.${vein}`;
  }
  if (ask.route === 'im') {
    const thin =
      ask.condition === 'thin' ? ' In a thin animal there is little muscle: go no deeper than it is.' : '';
    return `The sources agree on the neck: away from the good meat and the nerve of the leg, and nobody is kicked.${thin}`;
  }
  if (blind && place.vein)
    return 'Put behind the others: this gun cannot draw back, and the vein of the neck runs near.';
  return blind ? 'Away from the vein of the neck, because this gun cannot draw back.' : place.carcass.says;
}

/** Every spot offered first, those never used or used longest ago leading; a place without a side counts for both. */
function rotated(offered: readonly Offered[], last: readonly LastGiven[]): Spot[] {
  const spots = offered
    .filter(({ isFirst }) => isFirst)
    .flatMap(({ place }) => (['left', 'right'] as const).map((side) => ({ place, side })));
  const used = ({ place, side }: Spot): Day | undefined =>
    last
      .filter(
        (one) =>
          one.site === place.site && (one.side === undefined || one.side === 'both' || one.side === side),
      )
      .map(({ on }) => on)
      .toSorted(compareDays)
      .at(-1);
  return spots.toSorted((a, b) => {
    const [x, y] = [used(a), used(b)];
    if (x === undefined || y === undefined) return Number(x !== undefined) - Number(y !== undefined);
    return compareDays(x, y);
  });
}

const SITE_WORDS: Readonly<Record<SiteId, string>> = {
  neck: 'the neck',
  elbow: 'the skin behind the elbow',
  ribs: 'the skin over the ribs',
  rump: 'the rump',
  'hind-leg': 'the hind leg',
};

function sayLast({ last, today }: SitesAsk): string {
  const latest = last.toSorted((a, b) => compareDays(b.on, a.on))[0];
  if (latest === undefined) return 'The book has no earlier place for this animal.';
  const side =
    latest.side === undefined
      ? ', side not written'
      : latest.side === 'both'
        ? ', both sides'
        : `, ${latest.side} side`;
  return `The last went into ${SITE_WORDS[latest.site]}${side}, on ${printDay(latest.on)}, ${sayAgo(latest.on, today)}.`;
}

function cannotDrawBack(ask: SitesAsk): Warning[] {
  if (!cannotShowBlood(ask.gun) || ask.route !== 'im') return [];
  return [
    {
      code: 'cannot-draw-back',
      text: 'With this gun nobody sees whether the point is in a vein: into muscle a syringe is safer.',
    },
  ];
}

function spacingOf(house: number | undefined): { inches: number; conflict: Conflict } {
  const strictest = Math.max(...SPACINGS.map(({ inches }) => inches));
  const least = Math.min(...SPACINGS.map(({ inches }) => inches));
  if (house !== undefined && (!Number.isFinite(house) || house < least)) {
    throw new Refusal('house-past-sources', `House: no source puts places closer than ${least} in.`, {
      field: 'house.spacingIn',
      next: `Write ${least} in or more.`,
    });
  }
  const taken =
    house === undefined
      ? `The widest is taken: ${strictest} in.`
      : `The farm’s own rule is taken: ${house} in.`;
  const sides = SPACINGS.map(({ rule, says, source, mark }) => ({ rule, says, source, mark }));
  return { inches: house ?? strictest, conflict: { topic: 'spacing', sides, taken } };
}

function crowded(spots: readonly Spot[]): Warning[] {
  const counts = new Map<string, number>();
  for (const { place, side } of spots) {
    const key = `${place.site} ${side}`;
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  if (Math.max(0, ...counts.values()) <= MOST_ON_ONE_SIDE) return [];
  return [
    {
      code: 'many-places',
      text: 'So many places on one side hardly keep their distance: ask the vet whether the dose should be given otherwise.',
    },
  ];
}
