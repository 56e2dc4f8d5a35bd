import type { Reply } from '../../../src-shared/calls/all.ts';
import type { SiteId } from '../../../src-shared/needle/places.ts';
import { SITE_TEXT, sitesInText } from '../../../src-shared/needle/site-words.ts';

export type NeedleFor = Reply<'needle-for'>;
export type Sites = NonNullable<NeedleFor['sites']>;
export type Side = 'left' | 'right';

/** What a person has said of where it went and with what; empty texts where nothing was said. */
export type SaidWhere = { readonly site: string; readonly side: string; readonly needle: string };

/** Where it goes: what was said before what is suggested. */
export function standingOf(found: NeedleFor, said: SaidWhere): { site?: SiteId; side: Side; isOwn: boolean } {
  const suggested = found.sites?.spots[0];
  const own = sitesInText(said.site).find((site) => found.sites?.offered.some((one) => one.site === site));
  const side = said.side === 'left' || said.side === 'right' ? said.side : (suggested?.side ?? 'left');
  if (own !== undefined) return { site: own, side, isOwn: true };
  return {
    ...(suggested === undefined || said.site !== '' ? {} : { site: suggested.site }),
    side,
    isOwn: said.site !== '' || said.side !== '',
  };
}

export const SUGGESTED = '';

/** Each place with each side, as one choice: "neck left". */
export function placeOptions({ offered }: Sites) {
  return offered.flatMap(({ site, name, isFirst, why }, n) =>
    (['left', 'right'] as const).map((side) => ({
      value: `${site} ${side}`,
      label: `${n + 1} ${name}, ${side} side`,
      ...(side === 'left' ? { hint: isFirst ? why : `Not first. ${why}` } : {}),
    })),
  );
}

/** What a choice writes into the fields; the suggestion empties them. */
export function placeSaid(choice: string): { site: string; side: string } {
  const [site = '', side = ''] = choice.split(' ');
  const known = Object.entries(SITE_TEXT).find(([id]) => id === site);
  return known === undefined ? { site: '', side: '' } : { site: known[1], side };
}

/** The choice that the fields stand for. */
export function placeChosen(found: NeedleFor, said: SaidWhere): string {
  if (said.site === '' && said.side === '') return SUGGESTED;
  const { site, side } = standingOf(found, said);
  return site === undefined ? SUGGESTED : `${site} ${side}`;
}

/** Whether needles are chosen only from those in the drawer: a choice of this computer, kept for the next time. */
export const FROM_DRAWER = 'needles-from';

/** As the kept choice is asked of the desk. */
export function drawerAsk(kept: string): { fromDrawer?: true } {
  return kept === 'drawer' ? { fromDrawer: true } : {};
}
