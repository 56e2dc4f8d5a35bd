import type { Reply } from '../../../src-shared/calls/all.ts';
import type { DoseLine, LabelTerms } from '../../../src-shared/label/terms.ts';
import { needleRouteOf } from '../../../src-shared/needle/advice.ts';
import { chooseNeedle, type NeedleChoice } from '../../../src-shared/needle/choose.ts';
import { HUB_COLOURS } from '../../../src-shared/needle/hubs.ts';
import { labelNeedleOf } from '../../../src-shared/needle/label-needle.ts';
import { type Needle, printNeedle } from '../../../src-shared/needle/needle.ts';
import { RULES } from '../../../src-shared/needle/rules.ts';
import {
  BAND_WORDS,
  type Gun,
  isLamb,
  type NeedleAsk,
  situationOf,
} from '../../../src-shared/needle/situation.ts';
import { type Amount, amountOf, compareAmounts } from '../../../src-shared/quantity/amount.ts';
import { attempt, type Fault, type Outcome, Refusal } from '../../../src-shared/refusal.ts';
import type { HouseRules } from '../drawer/house.ts';
import { type SubjectRow, weightOf } from '../reading/subjects.ts';
import { ageOn } from '../treat/core.ts';

type KitLine = Reply<'session-kit'>['lines'][number];

/** One line of work with those who get it by needle. */
export type NeedleLine = {
  terms: LabelTerms;
  doseLine: DoseLine;
  gun: Gun | undefined;
  house: HouseRules | undefined;
  /** Nothing when no needle is written down: then those in usual use. */
  drawer: readonly Needle[] | undefined;
  local: string;
  gets: readonly { row: SubjectRow; dose: Amount | undefined }[];
};

/** Those who take the same needle, and which; refused with why. */
export type Chosen = {
  who: string;
  heads: number;
  found: Outcome<NeedleChoice>;
  isInDrawer: boolean;
  /** Needles of the farm are written down at all. */
  hasDrawer: boolean;
};

const NOT_IN_DRAWER = {
  code: 'not-in-drawer',
  text: 'No needle that is in the drawer suits: this one is to be bought.',
};

/** The needles of one line: one for each class and band of age, from the drawer where something in it suits. */
export function needlesOf(line: NeedleLine): Chosen[] {
  const groups = new Map<string, { ask: NeedleAsk; who: string; heads: number }>();
  const refused = new Map<string, Chosen>();
  const hasDrawer = line.drawer !== undefined;
  for (const { row, dose } of line.gets) {
    const worked = attempt(() => {
      const ask = askFor(line, row, dose);
      return { ask, band: situationOf(ask).band };
    });
    if (!worked.ok) {
      const who = `${row.class}s`;
      const same = refused.get(`${who} ${worked.error.message}`);
      const heads = row.heads + (same?.heads ?? 0);
      const one = { who, heads, found: worked, isInDrawer: false, hasDrawer };
      refused.set(`${who} ${worked.error.message}`, one);
      continue;
    }
    const { ask, band } = worked.value;
    const who = isLamb(row.class) ? BAND_WORDS[band].replace(/^a lamb/, 'lambs') : `${row.class}s`;
    const before = groups.get(who);
    // The largest dose speaks for all of them: it is what has to flow.
    const isLarger = before === undefined || compareAmounts(ask.volume, before.ask.volume) > 0;
    groups.set(who, {
      who,
      ask: isLarger ? ask : before.ask,
      heads: (before?.heads ?? 0) + row.heads,
    });
  }
  const chosen = [...groups.values()].map(({ ask, who, heads }): Chosen => {
    const found = attempt(() => chooseNeedle(ask));
    if (found.ok || ask.inStock === undefined) {
      return { who, heads, found, isInDrawer: found.ok && hasDrawer, hasDrawer };
    }
    const free = attempt(() => chooseNeedle({ ...ask, inStock: undefined }));
    return { who, heads, found: free.ok ? free : found, isInDrawer: false, hasDrawer };
  });
  return [...merged(chosen), ...refused.values()];
}

/** A gun or a head more makes no other needle: those who take the same one are said together. */
function merged(chosen: readonly Chosen[]): Chosen[] {
  const byNeedle = new Map<string, Chosen>();
  for (const one of chosen) {
    const key = one.found.ok ? printNeedle(one.found.value.choice) : one.who;
    const before = byNeedle.get(key);
    byNeedle.set(
      key,
      before === undefined
        ? one
        : { ...before, who: `${before.who} and ${one.who}`, heads: before.heads + one.heads },
    );
  }
  return [...byNeedle.values()].toSorted((a, b) => b.heads - a.heads);
}

function askFor(
  { terms, doseLine, gun, house, drawer, local }: NeedleLine,
  row: SubjectRow,
  dose: Amount | undefined,
): NeedleAsk {
  const route = needleRouteOf(doseLine.route) ?? 'sc';
  const most = house?.maxPerSite;
  return {
    route,
    class: row.class,
    weight: weightOf(row),
    ageDays: ageOn(row.born, local),
    flowClass: flowOf(terms),
    // Who is weighed at the race has no dose yet; the needle does not hang on it.
    volume: dose ?? amountOf('volume', 1000),
    stains: terms.stains,
    irritates: terms.irritates,
    leaks: terms.leaks,
    gun,
    label: labelNeedleOf(terms.needle, doseLine),
    house: {
      ...(route === 'im' ? house?.muscle : house?.skin),
      maxPerSite: most && amountOf(most.kind, most.kind === 'volume' ? most.microlitres : 0),
    },
    inStock: drawer,
  };
}

/** Refuses (`flow-not-said`): a needle for a thick remedy and for a watery one are not the same. */
function flowOf({ name, flowClass }: LabelTerms): NeedleAsk['flowClass'] {
  if (flowClass !== undefined) return flowClass;
  throw new Refusal(
    'flow-not-said',
    `The label of ${name} does not say how it flows, so no needle is named.`,
    {
      next: 'Add how it flows to the label under Cabinet: watery, like syrup, a suspension or oily.',
    },
  );
}

/** As a screen and a paper show it. */
export function shownNeedles(chosen: readonly Chosen[]): Pick<KitLine, 'needles' | 'noNeedle'> {
  return {
    needles: chosen.flatMap(({ who, heads, found, isInDrawer, hasDrawer }) => {
      if (!found.ok) return [];
      const { choice, ranked, technique, conflicts, warnings } = found.value;
      return [
        {
          who,
          heads,
          text: printNeedle(choice),
          hub: HUB_COLOURS[choice.gauge].word,
          reasons: (ranked[0]?.for ?? []).map(({ rule, text }) => {
            const row = RULES.find(({ id }) => id === rule);
            const isNamed = row === undefined || row.mark === 'stated' || text.includes(row.source);
            return isNamed ? { text } : { text, source: `${row.source} (${row.mark})` };
          }),
          technique: technique.says,
          conflicts: conflicts
            .filter(({ topic }) => topic !== 'per-site')
            .map(({ topic, sides, taken }) => ({
              topic,
              sides: sides.map(({ says, source, mark }) => `${says}: ${source} (${mark})`),
              taken,
            })),
          warnings: [...warnings, ...(hasDrawer && !isInDrawer ? [NOT_IN_DRAWER] : [])],
        },
      ];
    }),
    noNeedle: chosen.flatMap(({ who, heads, found }) =>
      found.ok ? [] : [{ who, heads, ...sayFault(found.error) }],
    ),
  };
}

const sayFault = ({ message, next }: Fault) => ({
  text: message,
  ...(next === undefined ? {} : { next }),
});
