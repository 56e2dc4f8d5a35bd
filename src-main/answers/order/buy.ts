import type { Reply } from '../../../src-shared/calls/all.ts';
import { type Amount, amountOf, baseOf } from '../../../src-shared/quantity/amount.ts';
import { attempt } from '../../../src-shared/refusal.ts';
import { printAbout } from '../../../src-shared/stock/about.ts';
import type { Outlook } from '../../../src-shared/stock/outlook-types.ts';
import { planPacks } from '../../../src-shared/stock/packs.ts';
import { printPrice } from '../../../src-shared/stock/price.ts';
import { printStockWorking } from '../../../src-shared/stock/working.ts';
import { addDays, type Day } from '../../../src-shared/time/day.ts';
import { optional } from '../optional.ts';
import type { Offer, Supply } from '../reading/supply.ts';

type Buy = Pick<Reply<'outlook'>, 'buy' | 'noBuy'>;

export type Need = { on: string; amount: Amount };

/**
 * What has to be bought by which day: what is missing, and the stock that is wished at the end of it. What is ordered
 * and not here yet goes off the earliest.
 * @param coming base units that are ordered
 */
export function lackingOf(outlook: Outlook, least: Amount | undefined, until: Day, coming: number): Need[] {
  const needs: Need[] = outlook.missing.map(({ on, amount }) => ({ on, amount }));
  const reserve = reserveOf(outlook, least);
  // A day of its own after the last: what is wished to be kept is not what an opened pack has left.
  if (reserve !== undefined) needs.push({ on: addDays(until, 1), amount: reserve });
  let rest = coming;
  return needs.flatMap(({ on, amount }) => {
    const off = Math.min(rest, baseOf(amount));
    rest -= off;
    return baseOf(amount) === off ? [] : [{ on, amount: amountOf(amount.kind, baseOf(amount) - off) }];
  });
}

/** The cheapest packs for dated needs. Where prices are known for some packs only, those are compared. */
export function whatToBuy(ask: {
  needs: readonly Need[];
  supply: Supply;
  inUse: string | undefined;
  zone: string;
  piece: string | undefined;
  /** Something is ordered and not here yet: it was taken off the needs. */
  isOnTop: boolean;
}): Buy {
  const { needs, supply, inUse, zone, piece } = ask;
  if (needs.length === 0) return {};
  const kind = needs[0]?.amount.kind;
  const fitting = supply.offers.filter(({ amount }) => amount.kind === kind && baseOf(amount) > 0);
  const offers = compared(fitting);
  if (offers === undefined) {
    return {
      noBuy:
        fitting.length === 0
          ? 'Which packs can be had is not written down, so none are worked out.'
          : 'No pack has a price, so the cheapest are not worked out: write down what they cost.',
    };
  }
  const currency = offers[0]?.price?.currency;
  const money = (minorUnits: number) => (currency === undefined ? '' : printPrice({ minorUnits, currency }));
  const found = attempt(() =>
    planPacks({
      needs,
      packs: offers.map(({ amount, price }) => ({ size: amount, price: price?.minorUnits ?? 0 })),
      inUse,
      zone,
      printMoney: currency === undefined ? (minorUnits) => String(minorUnits) : money,
    }),
  );
  if (!found.ok) return { noBuy: `${found.error.message} ${found.error.next ?? ''}`.trim() };
  const plan = found.value;
  const packs = plan.buy.flatMap(({ pack, count }) => {
    const offer = offers[pack];
    if (offer === undefined) return [];
    return [{ size: offer.size, count, ...optional('price', offer.price && printPrice(offer.price)) }];
  });
  const left = fitting.length - offers.length;
  const leftOver = printAbout(plan.leftOver, piece);
  const says = [
    `${packs.map(({ count, size }) => `${count} × ${size}`).join(' + ')}${currency === undefined ? '' : ` = ${money(plan.cost)}`}.`,
    baseOf(plan.leftOver) === 0
      ? 'Nothing of it is left over.'
      : `${leftOver} of it is left over or dies opened.`,
    ...(ask.isOnTop ? ['This is on top of what is ordered.'] : []),
    ...(supply.isFromDeliveries ? ['Packs and prices are those of the deliveries so far.'] : []),
    ...(left === 0
      ? []
      : [
          `${left} pack ${left === 1 ? 'size has' : 'sizes have'} no price and ${left === 1 ? 'is' : 'are'} not compared.`,
        ]),
  ].join(' ');
  // Without a price the sums of the working would be of nothing.
  const working =
    currency === undefined ? plan.working.filter(({ code }) => code === 'packs-day') : plan.working;
  return {
    buy: {
      packs,
      ...optional('cost', currency === undefined ? undefined : money(plan.cost)),
      leftOver,
      says,
      working: printStockWorking(working),
    },
  };
}

/** What may be compared: what has a price in one currency; a single pack without one may be had all the same. */
function compared(offers: readonly Offer[]): readonly Offer[] | undefined {
  const currency = offers.find(({ price }) => price !== undefined)?.price?.currency;
  const priced = offers.filter(({ price }) => price !== undefined && price.currency === currency);
  if (priced.length > 0) return priced;
  return offers.length === 1 ? offers : undefined;
}

/** What is lacking of the stock that is wished: against the lowest that is ever there. */
function reserveOf({ days, missing }: Outlook, least: Amount | undefined): Amount | undefined {
  if (least === undefined) return undefined;
  const lowest = missing.length > 0 ? 0 : Math.min(...days.map(({ end }) => end));
  const lacking = baseOf(least) - lowest;
  return lacking > 0 ? amountOf(least.kind, lacking) : undefined;
}
