import type { Reply } from '../../../src-shared/calls/all.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import {
  type Amount,
  addAmounts,
  amountOf,
  baseOf,
  printAmount,
} from '../../../src-shared/quantity/amount.ts';
import { ceilingOf, fraction } from '../../../src-shared/quantity/fraction.ts';
import { printAbout } from '../../../src-shared/stock/about.ts';
import { OTHER_USE } from '../../../src-shared/stock/outlook-said.ts';
import type { PlannedWork } from '../../../src-shared/stock/outlook-types.ts';
import { keepsUnderAWeek } from '../../../src-shared/stock/outlook-warnings.ts';
import { addDays, type Day, printDay } from '../../../src-shared/time/day.ts';
import type { Step, Warning } from '../../../src-shared/working.ts';
import type { Reader } from '../../store/store.ts';
import { optional } from '../optional.ts';
import type { MedicineRow } from '../reading/labels.ts';
import type { LossReader } from '../treat/plan-losses.ts';
import { pastUseOf } from './past-use.ts';
import type { Work } from './works.ts';

type Counted = {
  shown: Reply<'outlook'>['works'][number];
  counted: PlannedWork[];
  working: Step[];
  warnings: Warning[];
};

/** A piece of work with what is lost with it; heads without a known dose are said and not guessed. */
export function withLosses(losses: LossReader, terms: LabelTerms, work: Work, pack: number): Counted {
  const say = (amount: Amount) => printAbout(amount, terms.piece);
  const total = amountOf(
    terms.kind,
    work.doses.reduce((sum, { units, heads }) => sum + units * heads, 0),
  );
  const bottles = pack === 0 ? 1 : Math.max(1, Math.ceil(baseOf(total) / pack));
  const lost = losses.of(
    {
      medicine: work.medicine,
      equipment: work.equipment,
      syringe: work.syringe,
      route: work.route,
      kind: terms.kind,
    },
    work.doses,
    bottles,
  );
  const need = lost?.withLosses ?? total;
  const isKnown = work.doses.length > 0;
  const unknown = work.unknown && `${work.unknown.heads} head ${work.unknown.why}`;
  const counted: PlannedWork[] = isKnown ? [{ on: work.on, what: work.what, need }] : [];
  if (work.unknown) counted.push({ on: work.on, what: `${work.what}: ${work.unknown.heads} head` });
  return {
    shown: {
      key: work.key,
      source: work.source,
      what: work.what,
      on: work.on,
      onText: printDay(work.on),
      heads: work.heads,
      ...(isKnown ? { doses: say(total), need: say(need) } : {}),
      ...optional('unknown', unknown),
      ...optional('session', work.session),
      ...optional('work', work.work),
    },
    counted,
    working: isKnown
      ? [
          {
            code: 'outlook-work',
            values: {
              what: work.what,
              on: printDay(work.on),
              doses: sayDoses(work, terms),
              total: say(total),
            },
          },
          ...(lost?.working ?? []),
        ]
      : [],
    warnings: [...(lost?.warnings ?? [])],
  };
}

/** "30 × 2 mL + 12 × 1.5 mL"; past four sizes the sum alone says more. */
function sayDoses({ doses, heads }: Work, terms: LabelTerms): string {
  if (doses.length > 4) return `${heads} head, ${doses.length} sizes of dose`;
  return doses
    .map(({ units, heads: many }) => `${many} × ${printAmount(amountOf(terms.kind, units), terms.piece)}`)
    .join(' + ');
}

type Before = {
  use: { used: Amount; days: number } | undefined;
  /** Where opened packs do not keep, use as it was is counted on single days and not spread. */
  occasions: PlannedWork[];
  working: Step[];
  warnings: Warning[];
};

/** What was used besides planned work, with what was lost with it, as the outlook counts on it to go on. */
export function usedBefore(
  { tx, losses, today, until }: { tx: Reader; losses: LossReader; today: Day; until: Day },
  row: MedicineRow,
  terms: LabelTerms,
): Before {
  const past = pastUseOf(tx, row.id, terms, today);
  if (past === undefined) return { use: undefined, occasions: [], working: [], warnings: [] };
  let used = amountOf(terms.kind, past.madeInto);
  const working: Step[] = [];
  const warnings: Warning[] = [];
  for (const { route, doses } of past.routes) {
    const bare = doses.reduce((sum, { units, heads }) => sum + units * heads, 0);
    const lost = losses.of({ medicine: row.id, route, kind: terms.kind }, doses, 1);
    used = addAmounts(used, lost?.withLosses ?? amountOf(terms.kind, bare));
    working.push(...(lost?.working ?? []));
    warnings.push(...(lost?.warnings ?? []));
  }
  if (
    baseOf(used) === 0 ||
    past.occasions === 0 ||
    terms.inUse === undefined ||
    !keepsUnderAWeek(terms.inUse)
  ) {
    return { use: { used, days: past.days }, occasions: [], working, warnings };
  }
  const each = amountOf(terms.kind, Number(ceilingOf(fraction(baseOf(used), BigInt(past.occasions)))));
  const apart = Math.max(1, Math.floor(past.days / past.occasions));
  const occasions: PlannedWork[] = [];
  for (let on = addDays(today, apart); on <= until; on = addDays(on, apart)) {
    occasions.push({ on, what: OTHER_USE, need: each });
  }
  const every = apart === 1 ? 'every day' : `one day in ${apart}`;
  warnings.push({
    code: 'use-occasions',
    text: `Opened packs of it do not keep a week, so other use is counted ${every}, ${printAbout(each, terms.piece)} each time, as it was on average. Plan it by date where you can.`,
  });
  const values = {
    used: printAmount(used, terms.piece),
    days: String(past.days),
    times: String(past.occasions),
    each: printAmount(each, terms.piece),
    apart: String(apart),
  };
  working.push({ code: 'outlook-occasions', values });
  return { use: { used: amountOf(terms.kind, 0), days: past.days }, occasions, working, warnings };
}
