import type { Asked, Reply } from '../../../src-shared/calls/all.ts';
import type { LabelTerms } from '../../../src-shared/label/terms.ts';
import { type Amount, amountOf, baseOf } from '../../../src-shared/quantity/amount.ts';
import { printAbout } from '../../../src-shared/stock/about.ts';
import { isOfTheVet } from '../../../src-shared/stock/of-the-vet.ts';
import { lookAhead } from '../../../src-shared/stock/outlook.ts';
import { sayOutlook } from '../../../src-shared/stock/outlook-said.ts';
import type { Outlook } from '../../../src-shared/stock/outlook-types.ts';
import { printStockWorking } from '../../../src-shared/stock/working.ts';
import { addDays, type Day } from '../../../src-shared/time/day.ts';
import type { Step, Warning } from '../../../src-shared/working.ts';
import type { Reader } from '../../store/store.ts';
import type { Context } from '../context.ts';
import { nowLocal } from '../medicine/answers.ts';
import { optional } from '../optional.ts';
import { onlyHolding, recordsOf } from '../reading/holding.ts';
import { type MedicineRow, medicineOf, medicinesOf } from '../reading/labels.ts';
import { revisionOf } from '../reading/revision.ts';
import { type StockRow, stockRows } from '../reading/stock.ts';
import { supplyOf } from '../reading/supply.ts';
import { type LossReader, lossReader } from '../treat/plan-losses.ts';
import { lackingOf, whatToBuy } from './buy.ts';
import { comingOf } from './lists.ts';
import { usedBefore, withLosses } from './outlook-needs.ts';
import { containersOf, wasteShown } from './outlook-stock.ts';
import { type Prescription, talkOf } from './talk.ts';
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
type Person = { name: string; phone?: string };
/** What all medicines share, read once. */
type Asking = Ahead & {
  tx: Reader;
  days: number;
  works: Map<string, Work[]>;
  losses: LossReader;
  people: readonly Person[];
  prescriptions: readonly Prescription[];
};

function asking(context: Context, days = DAYS_AHEAD): Asking {
  const tx = context.store.read;
  const zone = onlyHolding(tx)?.zone ?? 'UTC';
  const today = nowLocal(context, tx).slice(0, 10) as Day;
  const ahead = { today, until: addDays(today, days - 1), zone };
  return {
    ...ahead,
    tx,
    days,
    works: worksAhead(tx, ahead),
    losses: lossReader(tx, 'own-in-use'),
    people: recordsOf<Person>(tx, 'person'),
    prescriptions: recordsOf<Prescription>(tx, 'prescription'),
  };
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
  const stock = stockRows(tx, row.id);
  const containers = containersOf(tx, row, stock);
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
  const phone = supply.supplier === undefined ? undefined : phoneOf(ask.people, supply.supplier);
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
      ...wasteShown(found, terms),
      // What only the vet decides on is talked about, and no packs are proposed for it.
      ...(isVets
        ? {}
        : whatToBuy({
            needs: lacking,
            supply,
            inUse: terms.inUse,
            zone,
            piece: terms.piece,
            isOnTop: coming !== undefined,
          })),
      talk: talkOf(tx, row.id, say(amountOf(terms.kind, need)), ask.prescriptions),
      warnings: warningsOf(stock, row, terms, [
        ...past.warnings,
        ...planned.flatMap(({ warnings }) => warnings),
        ...found.warnings.filter(({ code }) => past.occasions.length === 0 || code !== 'use-spread'),
      ]),
    },
  };
}

/** Each sentence once, and what an outlook of this medicine cannot know besides. */
function warningsOf(
  stock: readonly StockRow[],
  row: MedicineRow,
  terms: LabelTerms,
  all: readonly Warning[],
): Warning[] {
  const more: Warning[] = [];
  const made = stock.some(({ strength, left_units }) => strength !== null && left_units > 0);
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

function phoneOf(people: readonly Person[], supplier: string): string | undefined {
  const phone = people.find(({ name }) => name === supplier)?.phone;
  return phone === '' ? undefined : phone;
}
