import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import { unitsOf } from '../../../src-shared/entries/parts.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { listed } from '../../../src-shared/list-words.ts';
import {
  type Amount,
  addAmounts,
  amountOf,
  baseOf,
  printAmount,
} from '../../../src-shared/quantity/amount.ts';
import { fraction, ONE, roundTo } from '../../../src-shared/quantity/fraction.ts';
import { printAbout } from '../../../src-shared/stock/about.ts';
import { lookAhead } from '../../../src-shared/stock/outlook.ts';
import { OTHER_USE, sayOutlook } from '../../../src-shared/stock/outlook-said.ts';
import type { Outlook, OutlookContainer, PlannedWork } from '../../../src-shared/stock/outlook-types.ts';
import { keepsUnderAWeek } from '../../../src-shared/stock/outlook-warnings.ts';
import { type Price, printPrice } from '../../../src-shared/stock/price.ts';
import { printStockWorking } from '../../../src-shared/stock/working.ts';
import { addDays, type Day, printDay } from '../../../src-shared/time/day.ts';
import type { Step, Warning } from '../../../src-shared/working.ts';
import type { Reader } from '../../store/store.ts';
import type { Context } from '../context.ts';
import { nowLocal } from '../medicine/answers.ts';
import { optional } from '../optional.ts';
import { onlyHolding, recordsOf } from '../reading/holding.ts';
import { type MedicineRow, medicineOf, medicinesOf } from '../reading/labels.ts';
import { revisionOf } from '../reading/revision.ts';
import { stockRows } from '../reading/stock.ts';
import { supplyOf } from '../reading/supply.ts';
import { type LossReader, lossReader } from '../treat/plan-losses.ts';
import { lackingOf, whatToBuy } from './buy.ts';
import { comingOf } from './lists.ts';
import { pastUseOf } from './past-use.ts';
import { isOfTheVet, talkOf } from './talk.ts';
import { type Ahead, type Work, worksAhead } from './works.ts';

/** Half a year: two seasons, and longer than any order takes. */
const DAYS_AHEAD = 183;

type Headline = Reply<'order-outlook'>['medicines'][number];
type Looked = {
  shown: Headline;
  outlook: Outlook;
  terms: LabelTerms;
  working: Step[];
  /** Use as it was before that is counted on single days, by day. */
  onDays: ReadonlyMap<string, number>;
};
type Asking = Ahead & { tx: Reader; days: number; works: Map<string, Work[]>; losses: LossReader };

function asking(context: Context, days = DAYS_AHEAD): Asking {
  const tx = context.store.read;
  const zone = onlyHolding(tx)?.zone ?? 'UTC';
  const today = nowLocal(context, tx).slice(0, 10) as Day;
  const ahead = { today, until: addDays(today, days - 1), zone };
  return { ...ahead, tx, days, works: worksAhead(tx, ahead), losses: lossReader(tx) };
}

/** Answers `outlook`. */
export function outlook(context: Context, asked: Asked<'outlook'>): Reply<'outlook'> {
  const ask = asking(context, asked.days);
  const row = medicineOf(ask.tx, asked.medicine);
  const { shown, outlook: found, terms, working, onDays } = look(ask, row);
  const say = (units: number) => printAbout(amountOf(terms.kind, units), terms.piece);
  const sayAny = (units: number) => (units === 0 ? '' : say(units));
  return {
    ...shown,
    ...optional('piece', terms.piece),
    kind: terms.kind,
    days: found.days.map((one) => ({
      day: one.day,
      start: one.start,
      end: one.end,
      startText: say(one.start),
      plannedText: sayAny(one.planned - (onDays.get(one.day) ?? 0)),
      otherText: sayAny(one.otherUse + (onDays.get(one.day) ?? 0)),
      shortText: sayAny(one.short),
      endText: say(one.end),
      opened: [...one.opened],
      gone: one.gone.map(({ label, amount, why }) => ({ label, text: say(amount), why })),
    })),
    working: printStockWorking(working),
  };
}

/** Answers `order-outlook`: only medicines of which there is something to say. */
export function orderOutlook(context: Context, asked: Asked<'order-outlook'>): Reply<'order-outlook'> {
  const ask = asking(context, asked.days);
  const medicines = medicinesOf(ask.tx)
    .map((row) => look(ask, row).shown)
    .filter(({ headline, unused }) => headline.state !== 'lasts' || unused.length > 0);
  return { today: ask.today, until: ask.until, medicines };
}

function look(ask: Asking, row: MedicineRow): Looked {
  const { tx, today, until, zone, days } = ask;
  const { terms } = revisionOf(tx, row.revision);
  const say = (amount: Amount) => printAbout(amount, terms.piece);
  const supply = supplyOf(tx, row.id, terms.piece);
  const containers = containersOf(tx, row);
  const pack = containers.reduce((most, { received }) => Math.max(most, received), 0);
  const works = (ask.works.get(row.id) ?? []).filter(({ on }) => on <= until);
  const planned = works.map((work) => withLosses(ask.losses, terms, work, pack));
  const past = usedBefore(ask, row, terms);
  const found = lookAhead({
    kind: terms.kind,
    today,
    days,
    zone,
    inUse: terms.inUse,
    containers,
    planned: [...planned.flatMap(({ counted }) => counted), ...past.occasions],
    ...optional('pastUse', past.use),
    ...optional('leadDays', supply.leadDays),
  });
  const isVets = isOfTheVet(terms.prescription);
  const coming = comingOf(tx, row.id, terms.kind);
  const least = supply.least?.kind === terms.kind ? supply.least : undefined;
  const lacking = lackingOf(found, least, until, coming?.units ?? 0);
  const headline = sayOutlook({
    name: row.name,
    outlook: found,
    today,
    until,
    works,
    leadDays: supply.leadDays,
    least: least && { units: baseOf(least), text: say(least) },
    shortText: say(amountOf(terms.kind, found.runOut?.short ?? 0)),
    ...optional('coming', coming?.text),
    isCovered: coming !== undefined && lacking.length === 0,
    isOfTheVet: isVets,
  });
  const need = found.days.reduce((sum, one) => sum + one.planned + one.otherUse, 0);
  const phone = supply.supplier === undefined ? undefined : phoneOf(tx, supply.supplier);
  return {
    outlook: found,
    terms,
    onDays: new Map(past.occasions.map(({ on, need }) => [on, need === undefined ? 0 : baseOf(need)])),
    working: [...planned.flatMap(({ working }) => working), ...past.working, ...found.working],
    shown: {
      medicine: row.id,
      name: row.name,
      prescription: terms.prescription,
      isOfTheVet: isVets,
      ...optional('supplier', supply.supplier),
      ...optional('phone', phone),
      today,
      until,
      headline,
      works: planned.map(({ shown }) => shown),
      unused: found.unused.map((one) => ({
        container: one.container,
        label: one.label,
        amount: say(amountOf(terms.kind, one.amount)),
        lastDay: one.lastDay,
        says: `${say(amountOf(terms.kind, one.amount))} of ${row.name} in ${one.label} is left when it ${one.why === 'expired' ? 'expires' : 'has been open too long'}, on ${printDay(one.lastDay)}${one.cost === undefined ? '' : `: ${printPrice(one.cost)} lost`}.`,
        ...optional('cost', one.cost && printPrice(one.cost)),
      })),
      unusedCost: found.unusedCost.map(printPrice),
      ...optional('unusedSays', sayUnused(row.name, found, say, terms.kind)),
      notCounted: found.notCounted.map(
        ({ label, state, left }) =>
          `${label}: ${say(amountOf(terms.kind, left))}, ${NOT_COUNTED[state] ?? state}`,
      ),
      // What only the vet decides on is talked about, and no packs are proposed for it.
      ...(isVets ? {} : whatToBuy({ needs: lacking, supply, inUse: terms.inUse, zone, piece: terms.piece })),
      talk: talkOf(tx, row.id, say(amountOf(terms.kind, need))),
      warnings: warningsOf(tx, row, terms, [
        ...past.warnings,
        ...planned.flatMap(({ warnings }) => warnings),
        ...found.warnings.filter(({ code }) => past.occasions.length === 0 || code !== 'use-spread'),
      ]),
    },
  };
}

/** All that will not be used up of a medicine, in one sentence. */
function sayUnused(
  name: string,
  { unused, unusedCost }: Outlook,
  say: (amount: Amount) => string,
  kind: LabelTerms['kind'],
): string | undefined {
  const [first] = unused;
  if (first === undefined) return undefined;
  const sum = amountOf(
    kind,
    unused.reduce((all, { amount }) => all + amount, 0),
  );
  const many = unused.length === 1 ? first.label : `${unused.length} containers`;
  const from = unused.length === 1 ? 'which ends' : 'the first of which ends';
  const cost = unusedCost.length === 0 ? '' : `: ${listed(unusedCost.map(printPrice))} lost`;
  return `${say(sum)} of ${name} will not be used up, in ${many}, ${from} on ${printDay(first.lastDay)}${cost}.`;
}

const NOT_COUNTED: Readonly<Record<string, string>> = {
  expired: 'past its expiry',
  'past-in-use': 'open too long',
  quarantined: 'set aside',
};

/** Containers as they came; what was made up here is not the medicine any more. */
function containersOf(tx: Reader, row: MedicineRow): OutlookContainer[] {
  const prices = new Map<string, { price: Price; count: number } | undefined>();
  return stockRows(tx, row.id)
    .filter((one) => one.kind === row.kind && one.strength === null)
    .map((one) => {
      if (one.batch === null) return one;
      if (!prices.has(one.batch)) prices.set(one.batch, priceOf(tx, one.batch));
      const known = prices.get(one.batch);
      if (known === undefined) return one;
      const each = roundTo(fraction(known.price.minorUnits, BigInt(known.count)), ONE, 'nearest');
      return { ...one, price: { minorUnits: Number(each.n), currency: known.price.currency } };
    });
}

/** What a delivery cost and of how many containers, where they are all of one size. */
function priceOf(tx: Reader, batch: string): { price: Price; count: number } | undefined {
  const row = tx.get<{ data: string }>('SELECT data FROM batch WHERE id = ?', batch);
  if (row === undefined) return undefined;
  const { price, containers } = JSON.parse(row.data) as {
    price?: Price;
    containers: { amount: Parameters<typeof unitsOf>[0] }[];
  };
  const sizes = new Set(containers.map(({ amount }) => unitsOf(amount)));
  return price === undefined || sizes.size !== 1 ? undefined : { price, count: containers.length };
}

type Counted = {
  shown: Headline['works'][number];
  counted: PlannedWork[];
  working: Step[];
  warnings: Warning[];
};

/** A piece of work with what is lost with it; heads without a known dose are said and not guessed. */
function withLosses(losses: LossReader, terms: LabelTerms, work: Work, pack: number): Counted {
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

function usedBefore({ tx, losses, today, until }: Asking, row: MedicineRow, terms: LabelTerms): Before {
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
  const each = amountOf(terms.kind, Math.ceil(baseOf(used) / past.occasions));
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

/** Each sentence once, and what an outlook of this medicine cannot know besides. */
function warningsOf(tx: Reader, row: MedicineRow, terms: LabelTerms, all: readonly Warning[]): Warning[] {
  const more: Warning[] = [];
  const made = stockRows(tx, row.id).some(({ strength, left_units }) => strength !== null && left_units > 0);
  if (made) {
    more.push({
      code: 'made-up',
      text: 'What was made up here is not counted: it is used up first and does not keep.',
    });
  }
  if (row.state === 'draft') {
    more.push({
      code: 'label-draft',
      text: `The label of ${terms.name} is still a draft: nothing can be planned with it.`,
    });
  }
  return [...new Map([...all, ...more].map((one) => [one.text, one])).values()];
}

function phoneOf(tx: Reader, supplier: string): string | undefined {
  const known = recordsOf<{ name: string; phone?: string }>(tx, 'person').find(
    ({ name }) => name === supplier,
  );
  return known?.phone === '' ? undefined : known?.phone;
}
