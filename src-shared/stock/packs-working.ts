import { amountOf, baseOf, printAmount } from '../quantity/amount.ts';
import { type Day, printDay } from '../time/day.ts';
import type { Step } from '../working.ts';
import type { PackCounts, PackDay, PackPlan, PacksAsk } from './packs-types.ts';
import { printUseBy } from './use-by.ts';

/** How a mix of packs was reached: each occasion with what serves it, the sum, and what a plain sum would have bought. */
export function packSteps(ask: PacksAsk, plan: PackPlan, kept: PackCounts | undefined): Step[] {
  const kind = ask.packs[0]?.size.kind ?? 'volume';
  const amount = (base: number) => printAmount(amountOf(kind, base));
  const money = ask.printMoney ?? String;
  const sizes = (counts: readonly number[]) =>
    ask.packs
      .flatMap(({ size }, i) => {
        const count = counts[i] ?? 0;
        return count === 0 ? [] : [`${count} × ${printAmount(size)}`];
      })
      .join(' + ');
  const steps = plan.days.map((day, i): Step => {
    const bought = day.opens.reduce((sum, count, pack) => sum + count * sizeAt(ask, pack), 0);
    return {
      code: 'packs-day',
      values: {
        on: sayWhen(day.on),
        need: amount(day.need),
        fromOpen: day.fromOpen === 0 ? '' : amount(day.fromOpen),
        opens: bought === 0 ? '' : sizes(day.opens),
        left: day.left === 0 ? '' : amount(day.left),
        until: lasts(ask, day),
        serves: day.servesNext || i === plan.days.length - 1 ? '' : 'no',
      },
    };
  });
  const sum = plan.buy.map(({ pack, count }) => {
    const offer = ask.packs[pack];
    return offer === undefined ? '' : `${count} × ${printAmount(offer.size)} at ${money(offer.price)}`;
  });
  steps.push({ code: 'packs-total', values: { sum: sum.join(' + '), cost: money(plan.cost) } });
  steps.push({ code: 'packs-left-over', values: { left: amount(baseOf(plan.leftOver)) } });
  if (kept !== undefined && kept.cost !== plan.cost) {
    steps.push({
      code: 'packs-if-kept',
      values: { packs: sizes(kept.counts), cost: money(kept.cost), inUse: ask.inUse ?? '' },
    });
  }
  return steps;
}

/** Until when, or for how long where only the day of opening is known and the label counts hours. */
function lasts(ask: PacksAsk, { on, unusableFrom }: PackDay): string {
  if (unusableFrom === undefined) return '';
  const byTheHour = on.length === 10 && unusableFrom.length > 10;
  return byTheHour ? `for ${ask.inUse ?? ''}` : `to ${printUseBy(unusableFrom)}`;
}

function sizeAt(ask: PacksAsk, i: number): number {
  const offer = ask.packs[i];
  return offer === undefined ? 0 : baseOf(offer.size);
}

function sayWhen(local: string): string {
  const day = printDay(local.slice(0, 10) as Day);
  return local.length === 10 ? day : `${day}, ${local.slice(11)}`;
}
