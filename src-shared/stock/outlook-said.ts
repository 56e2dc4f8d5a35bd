import { listed } from '../list-words.ts';
import { addDays, type Day, daysBetween, printDay } from '../time/day.ts';
import type { Outlook } from './outlook-types.ts';

/** What an outlook comes to, in sentences. */

/** What an outlook calls use that nobody planned. */
export const OTHER_USE = 'other use';

export type SaidOutlook = {
  says: string;
  small?: string;
  /** `ordered`: it ends, and what is ordered makes up for it. */
  state: 'late' | 'by' | 'no-day' | 'ordered' | 'lasts';
  orderBy?: Day;
  /** The first day on which something is missing, or less is there than is wished. */
  runOut?: Day;
};

export type SayOutlookAsk = {
  name: string;
  outlook: Outlook;
  today: Day;
  until: Day;
  /** Work to come, in any order. */
  works: readonly { on: Day; what: string }[];
  leadDays?: number | undefined;
  /** What is wished to be there at any time: base units and in words. */
  least?: { units: number; text: string } | undefined;
  /** What is missing on the first day that is short, in words. */
  shortText: string;
  /** Ordered and not here yet, in words: "2 × 500 mL from Glenside Supplies". */
  coming?: string | undefined;
  /** That is enough for all that is missing. */
  isCovered: boolean;
  isOfTheVet: boolean;
};

/** "Order by 3 Mar 2027: … runs out on 14 Mar 2027, 11 days before “Booster”." */
export function sayOutlook(ask: SayOutlookAsk): SaidOutlook {
  const { name, outlook, until, leadDays, today } = ask;
  const out = runsOut(ask);
  const low = goesUnder(ask);
  // What comes first decides.
  const end = low !== undefined && (out === undefined || low.day < out.day) ? low : out;
  const coming = ask.coming === undefined ? undefined : `Ordered and not here yet: ${ask.coming}.`;
  // What ends today cannot end sooner.
  const sooner =
    outlook.mayEndSooner && end?.day !== today
      ? 'It may end sooner: not all that is used is known.'
      : undefined;
  const small = [coming, sooner].filter((part) => part !== undefined).join(' ');
  const more = small === '' ? {} : { small };
  if (end === undefined) {
    return { says: `${name} lasts to ${printDay(until)} by what is known.`, state: 'lasts', ...more };
  }
  if (ask.isCovered) return { says: end.says, state: 'ordered', runOut: end.day, ...more };
  if (leadDays === undefined) {
    const says = `${end.says} How long an order takes is not written down.`;
    return { says, state: 'no-day', runOut: end.day, ...more };
  }
  const orderBy = addDays(end.day, -leadDays - 1);
  const isLate = orderBy < today;
  const lead = leadDays === 1 ? '1 day' : `${leadDays} days`;
  const deed = ask.isOfTheVet ? 'Talk to the vet' : 'Order';
  const says = isLate
    ? `${deed} now: ${end.says} An order takes ${lead}, so ${printDay(orderBy)} was the last day for it.`
    : `${deed} by ${printDay(orderBy)}: ${end.says}`;
  return { says, state: isLate ? 'late' : 'by', orderBy, runOut: end.day, ...more };
}

type End = { day: Day; says: string };

function runsOut({ name, outlook, works, shortText, today }: SayOutlookAsk): End | undefined {
  const { runOut } = outlook;
  if (runOut === undefined) return undefined;
  const { day } = runOut;
  if (day === today && outlook.days[0]?.start === 0)
    return { day, says: `Nothing of ${name} that may be used is left.` };
  const named = runOut.what.filter((what) => what !== OTHER_USE);
  const when = day === today ? 'today' : `on ${printDay(day)}`;
  if (named.length > 0) {
    const quoted = listed(named.map((what) => `“${what}”`));
    return {
      day,
      says: `${name} runs out ${when}: ${quoted} then ${named.length === 1 ? 'lacks' : 'lack'} ${shortText}.`,
    };
  }
  const next = works
    .filter(({ on }) => on > day)
    .reduce<(typeof works)[number] | undefined>(
      (first, one) => (first === undefined || one.on < first.on ? one : first),
      undefined,
    );
  if (next === undefined) return { day, says: `${name} runs out ${when}.` };
  const days = daysBetween(day, next.on);
  return {
    day,
    says: `${name} runs out ${when}, ${days === 1 ? '1 day' : `${days} days`} before “${next.what}”.`,
  };
}

function goesUnder({ name, outlook, least, today }: SayOutlookAsk): End | undefined {
  if (least === undefined) return undefined;
  const day = outlook.days.find(({ end }) => end < least.units)?.day;
  if (day === undefined) return undefined;
  const when = day === today ? 'today' : `on ${printDay(day)}`;
  return { day, says: `${name} goes under the ${least.text} that you wish to keep ${when}.` };
}
